"""A sheet with a chart on it: where the plot lies, what is in sight, what words it has."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from vanwater.answers.core.chart import Bars, Chart, Line, Role, Words, words
from vanwater.answers.core.statement import Amount, Range
from vanwater.figures.layout import Span, text_width
from vanwater.figures.roles import INK
from vanwater.quantities import Array

__all__ = [
    "LEADING",
    "SMALL",
    "TEXT",
    "TITLE",
    "BarValue",
    "Sheet",
    "Word",
    "bar_rows",
    "bar_values",
    "ends_early",
    "value_texts",
]

TITLE, TEXT, SMALL = 11.0, 8.5, 8.0
"""Sizes of type in points."""

LEADING = 1.25
"""Height of a line of text in its size."""

_APART = 12.0  # points between a name and what it names from which on a line leads there
_EARLY = 0.06  # share of the plot right of a curve's end from which on its name stands beside the end


@dataclass(frozen=True, slots=True)
class Word:
    """Lines of text at a place.

    Parameters
    ----------
    lines : tuple of str
        The lines.
    x, y : float
        The place in points from the lower left corner; y is the middle of the lines.
    align : str
        "left", "center" or "right" of the place.
    size : float
        Size of the type in points.
    colour : str
        Colour as "#rrggbb".
    bold : bool
        Bold type.
    tip : tuple of float, optional
        The mark, the bar's end or the curve's end that it names, in points.
    swatch : Role, optional
        The role that it explains, shown as a small square before it.
    pale : bool
        A pale square.
    scale : bool
        Part of an axis: a tick or the axis' name.
    """

    lines: tuple[str, ...]
    x: float
    y: float
    align: str = "left"
    size: float = TEXT
    colour: str = INK
    bold: bool = False
    tip: tuple[float, float] | None = None
    swatch: Role | None = None
    pale: bool = False
    scale: bool = False

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top, on the generous side."""
        width = max(text_width(line, self.size) for line in self.lines)
        half = len(self.lines) * self.size * LEADING / 2
        left = self.x - width * {"left": 0.0, "center": 0.5, "right": 1.0}[self.align]
        return left, self.y - half, left + width, self.y + half

    @property
    def lead(self) -> tuple[tuple[float, float], tuple[float, float]] | None:
        """A thin line from what it names to the words, where they are not side by side."""
        if self.tip is None:
            return None
        left, bottom, right, top = self.box
        nearest = min(max(self.tip[0], left), right), min(max(self.tip[1], bottom + 2), top - 2)
        return (self.tip, nearest) if math.dist(self.tip, nearest) > _APART else None


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Sheet:
    """A chart laid out in points.

    Parameters
    ----------
    chart : Chart
        The chart.
    us : bool
        US units instead of metric ones.
    width, height : float
        Size of the sheet.
    left, bottom, right, top : float
        The plot.
    x, y : Span
        What is in sight, in display units.
    words : tuple of Word
        Every text on it.
    """

    chart: Chart
    us: bool
    width: float
    height: float
    left: float
    bottom: float
    right: float
    top: float
    x: Span
    y: Span
    words: tuple[Word, ...] = ()

    def text(self, text: Words) -> str:
        """A text in one line; a pen makes it harmless for its medium."""
        return words(text, "terminal", self.us)

    def across(self, x: Array | float) -> Array:
        """Numbers along x in the display unit, from SI."""
        assert self.chart.x.quantity is not None  # every chart has one; see Chart
        return np.asarray(self.chart.x.quantity.show(x, self.us), dtype=np.float64)

    def up(self, y: Array | float) -> Array:
        """Numbers along y in the display unit, from SI."""
        quantity = self.chart.y.quantity
        return np.asarray(y if quantity is None else quantity.show(y, self.us), dtype=np.float64)

    def within(self, x: Array) -> Array:
        """Ends of bars in the display unit, kept in sight: endless ones at the edge, unknown ones at the start."""
        start = min(max(0.0, self.x.low), self.x.high)
        return np.clip(
            np.nan_to_num(self.across(x), nan=start, posinf=self.x.high, neginf=self.x.low), self.x.low, self.x.high
        )

    def points(self, across: Array | float, up: Array | float) -> Array:
        """Places in points of numbers in display units, one a row."""
        x, y = np.broadcast_arrays(np.asarray(across, np.float64), np.asarray(up, np.float64))
        x = self.left + (x - self.x.low) / (self.x.high - self.x.low) * (self.right - self.left)
        y = self.bottom + (y - self.y.low) / (self.y.high - self.y.low) * (self.top - self.bottom)
        return np.stack([x.ravel(), y.ravel()], axis=1)


@dataclass(frozen=True, slots=True)
class BarValue:
    """A value in words at one end of a bar.

    Parameters
    ----------
    text : str
        The value, with its range where it has one.
    x, row : float
        The end of bar or range in the display unit, and its row.
    after : bool
        Right of it, else left.
    """

    text: str
    x: float
    row: float
    after: bool


def bar_rows(chart: Chart) -> Iterator[tuple[Bars, float, float]]:
    """Each kind of bars with its offset from the middle of the rows and its height.

    Those that start at zero stand side by side; stacked ones stand upon those before them.
    """
    side_by_side = sum(bars.start is None for bars in chart.bars) or 1
    high, place = 0.62 / side_by_side, -1
    for bars in chart.bars:
        place += bars.start is None
        yield bars, (max(place, 0) + 0.5) * high - 0.31, high


def bar_values(sheet: Sheet) -> Iterator[BarValue]:
    """Values of bars beyond the longest of bar, range and what is stacked upon it.

    A bar between two values has one at each end; stacked bars have none.
    """
    chart = sheet.chart
    stacked = [(bars.start, bars.values) for bars in chart.bars if bars.start is not None and len(chart.bars) > 1]
    for bars, offset, _ in bar_rows(sheet.chart):
        if bars.start is not None and len(sheet.chart.bars) > 1:
            continue
        begin = np.zeros_like(bars.values) if bars.start is None else bars.start
        after = (~(bars.values < begin)).tolist()
        low, high = (bars.values, bars.values) if bars.low is None or bars.high is None else (bars.low, bars.high)
        upon = [ends for begins, ends in stacked if np.array_equal(begins, bars.values, equal_nan=True)]
        last, first = np.fmax.reduce([bars.values, high, *upon]), np.fmin(bars.values, low)
        ends = sheet.within(np.where(after, last, first)).tolist()
        for row, text in enumerate(value_texts(sheet, bars)):
            yield BarValue(text, ends[row], row + offset, after[row])
        if bars.start is not None:
            others = sheet.within(bars.start).tolist()
            for row, text in enumerate(
                value_texts(sheet, replace(bars, values=bars.start, low=None, high=None, numbers=(), notes=()))
            ):
                yield BarValue(text, others[row], row + offset, not after[row])


def value_texts(sheet: Sheet, bars: Bars) -> list[str]:
    """The value of each bar in words, with its range where it has one, and what is said behind it."""
    notes = [sheet.text(note) for note in bars.notes] or [""] * len(bars.names)
    return [f"{text}, {note}" if note else text for text, note in zip(_values(sheet, bars), notes, strict=True)]


def _values(sheet: Sheet, bars: Bars) -> list[str]:
    quantity = sheet.chart.x.quantity
    assert quantity is not None  # every chart has one; see Chart
    if bars.numbers:  # as they are told everywhere else
        return [replace(number.shown, quantity=quantity).text(sheet.us) for number in bars.numbers]
    if bars.low is None or bars.high is None:
        return [Amount(value, quantity).text(sheet.us) for value in bars.values.tolist()]
    ranges = zip(bars.low.tolist(), bars.values.tolist(), bars.high.tolist(), strict=True)
    return [Range(*ends, quantity).text(sheet.us) for ends in ranges]


def ends_early(sheet: Sheet, line: Line) -> bool:
    """Whether a curve ends well left of the plot's edge."""
    end = float(sheet.across(line.end[0]))
    return sheet.x.high - end > _EARLY * (sheet.x.high - sheet.x.low)
