"""Where things go on a chart: ends of axes, ticks, and labels that do not cover each other."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line
from vanwater.quantities import THOUSANDS, Array, Quantity

__all__ = ["Span", "apart", "beside", "round_step", "span", "text_width", "wrapped"]

_NARROW = frozenset("ijl.,:;|!'()[]ftrI \N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}")
_WIDE = frozenset("mwMW@%—✓−→+=×")
_BESIDE = (  # right or left, up or down, and how much a curve may be covered before the next place is taken
    (1, 1, 0), (1, -1, 0), (-1, 1, 0), (-1, -1, 0), (1, 0, 1), (-1, 0, 1), (0, 1.4, 2), (0, -1.4, 2),
    (1, 3, 6), (1, -3, 6), (-1, 3, 6), (-1, -3, 6), (1, 5, 9), (-1, 5, 9), (1, -5, 9), (-1, -5, 9),
)  # fmt: skip
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0, 20.0)


@dataclass(frozen=True, slots=True)
class Span:
    """The part of an axis in sight, in the display unit.

    Parameters
    ----------
    low, high : float
        Its ends.
    step : float
        From tick to tick.
    """

    low: float
    high: float
    step: float = 1.0

    @property
    def ticks(self) -> list[float]:
        """The multiples of the step in sight."""
        first, last = math.ceil(self.low / self.step - 1e-9), math.floor(self.high / self.step + 1e-9)
        return [float(f"{place * self.step:.12g}") + 0.0 for place in range(first, last + 1)]

    @property
    def tick_texts(self) -> list[str]:
        """The ticks in words, with the decimals that the step needs."""
        places = next(n for n in range(16) if math.isclose(round(self.step, n), self.step, rel_tol=1e-6))
        texts = (f"{mark:,.{places}f}" for mark in self.ticks)
        return [text.replace(",", THOUSANDS).replace("-", "\N{MINUS SIGN}") for text in texts]


def span(chart: Chart, axis: Axis, us: bool, snug: bool) -> Span:
    """The part of an axis that holds all that is drawn.

    Parameters
    ----------
    chart : Chart
        The chart.
    axis : Axis
        ``chart.x`` or ``chart.y``.
    us : bool
        US units instead of metric ones.
    snug : bool
        Ends with the data, not at the next tick.

    Returns
    -------
    Span
        Its ends in the display unit.
    """
    quantity = axis.quantity
    if quantity is None:
        return Span(0.0, 1.0)
    drawn = () if axis.firm else _numbers(chart, axis is chart.x, quantity, us)
    numbers = [float(number) for number in drawn if math.isfinite(number)]
    numbers += [float(quantity.show(end, us)) for end in (axis.low, axis.high) if end is not None]
    if axis.from_zero or not numbers:
        numbers.append(0.0)
    low, high = min(numbers), max(numbers)
    if high - low <= 1e-9 * max(abs(high), abs(low)):
        low, high = (low, low + max(abs(low), 1.0)) if axis.from_zero and low >= 0 else (low - 1.0, high + 1.0)
    step = round_step(high - low)
    if snug:
        return Span(low, high, step)
    return Span(math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step, step)


def _numbers(chart: Chart, along_x: bool, quantity: Quantity, us: bool) -> Iterator[float]:
    for draw in chart.draws:
        numbers: Sequence[object]
        if isinstance(draw, Bars):
            numbers = (draw.values, draw.start, draw.low, draw.high) if along_x else ()
        elif isinstance(draw, Line):
            numbers = (draw.x,) if along_x else (draw.y, draw.low, draw.high)
        else:
            numbers = (draw.x if along_x else draw.y,)
        for values in numbers:
            if values is not None:
                shown: Array = np.atleast_1d(np.asarray(quantity.show(np.asarray(values), us), dtype=np.float64))
                yield from shown.tolist()


def round_step(width: float, most: int = 5) -> float:
    """The least of 1, 2, 2.5 or 5 times a power of ten that divides a width into at most so many steps.

    Parameters
    ----------
    width : float
        Width of what is in sight.
    most : int
        How many steps there may be.

    Returns
    -------
    float
        The step.
    """
    scale = 10.0 ** math.floor(math.log10(width / most))
    return next(factor * scale for factor in _STEPS if width / (factor * scale) <= most * (1 + 1e-9))


def apart(
    wanted: Sequence[float], heights: Sequence[float], low: float = -math.inf, high: float = math.inf
) -> list[float]:
    """Middles of labels along a line, moved as little as keeps them from covering each other.

    Parameters
    ----------
    wanted : sequence of float
        Where each label would like its middle.
    heights : sequence of float
        How much room each takes.
    low, high : float
        The ends of the line; without them it has none.

    Returns
    -------
    list of float
        The middles in the order given. Labels keep their order along the line; where they do not all fit,
        they run beyond its upper end, not over each other.
    """
    order = sorted(range(len(wanted)), key=lambda place: (wanted[place], place))
    blocks: list[tuple[list[int], float, float]] = []  # members, room, sum of the starts that they want
    for place in order:
        members, room, start = [place], heights[place], wanted[place] - heights[place] / 2
        while blocks and _start(blocks[-1], low, high) + blocks[-1][1] > _start((members, room, start), low, high):
            before, taken, begun = blocks.pop()
            members, start, room = before + members, begun + start - taken * len(members), taken + room
        blocks.append((members, room, start))
    middles = [0.0] * len(wanted)
    for block in blocks:
        at = _start(block, low, high)
        for place in block[0]:
            middles[place] = at + heights[place] / 2
            at += heights[place]
    return middles


def _start(block: tuple[list[int], float, float], low: float, high: float) -> float:
    members, room, wanted = block
    return max(low, min(wanted / len(members), high - room))


def text_width(text: str, size: float) -> float:
    """Width of a line of sans-serif text, on the generous side.

    Parameters
    ----------
    text : str
        One line.
    size : float
        Size of the type.

    Returns
    -------
    float
        Width in the unit of the size.
    """
    ems = math.fsum(  # the same to the last digit in every Python: since 3.12 sum() rounds otherwise
        0.40
        if letter in _NARROW
        else 1.0
        if letter in _WIDE or ord(letter) > 0x2E7F
        else 0.78
        if letter.isupper()
        else 0.64
        for letter in text
    )
    return ems * size


_LETTER = 0.8  # of the letters' size: what a common letter takes at most


def wrapped(text: str, letters: int, most: int = 3) -> list[str]:
    """A text in lines of at most so many letters, cut after so many lines; number and unit stay together.

    Letters that are much wider than ours count for more than one.
    """
    each = text_width(text, 1.0) / max(len(text), 1)
    if each > _LETTER:
        letters = max(int(letters * _LETTER / each), 3)
    return textwrap.wrap(text, letters, break_on_hyphens=False, max_lines=most, placeholder=" …") or [""]


def beside(
    point: tuple[float, float],
    size: tuple[float, float],
    curves: Array,
    boxes: Sequence[tuple[float, float, float, float]],
    bounds: tuple[float, float, float, float],
    gap: float = 6.0,
) -> tuple[float, float]:
    """Lower left corner of a label beside a point, where it covers least.

    Parameters
    ----------
    point : tuple of float
        The point.
    size : tuple of float
        Width and height of the label.
    curves : array
        Points of what is drawn, one a row.
    boxes : sequence of (left, bottom, right, top)
        Labels that stand already.
    bounds : (left, bottom, right, top)
        Where the label has to stay.
    gap : float
        Room between point and label.

    Returns
    -------
    tuple of float
        The corner, in the unit of the point.
    """
    width, height = size
    best, least = (0.0, 0.0), math.inf
    for across, up, cost in _BESIDE:
        left = point[0] + (across - 1) / 2 * width + across * gap
        bottom = point[1] - height / 2 + up * (height / 2 + gap / 2)
        box = (left - 2, bottom - 1, left + width + 2, bottom + height + 1)
        inside = (curves[:, 0] > box[0]) & (curves[:, 0] < box[2]) & (curves[:, 1] > box[1]) & (curves[:, 1] < box[3])
        covered = float(inside.sum()) + cost
        covered += sum(_overlap(box, other) for other in boxes) * 10
        within = _overlap((left, bottom, left + width, bottom + height), bounds)
        covered += 1000 if within < width * height - 1e-6 else 0
        if covered < least - 1e-9:
            best, least = (left, bottom), covered
    return best


def _overlap(first: tuple[float, float, float, float], second: tuple[float, float, float, float]) -> float:
    wide = min(first[2], second[2]) - max(first[0], second[0])
    tall = min(first[3], second[3]) - max(first[1], second[1])
    return max(wide, 0.0) * max(tall, 0.0)
