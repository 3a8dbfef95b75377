"""Words around a plot: title, ticks, names at the ends of lines, values of bars; none covers another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from vanwater.answers.core.chart import Chart, Line, Mark, Rule
from vanwater.figures.layout import Span, apart, beside, span, text_width, wrapped
from vanwater.figures.roles import FAINT, ROLES
from vanwater.figures.sheet import LEADING, SMALL, TEXT, TITLE, Sheet, Word, bar_values, ends_early
from vanwater.quantities import Array

__all__ = ["lay_out"]

_EDGE, _GAP, _LEAD = 6.0, 5.0, 11.0
_BAR = 26.0
_AT_END, _AT_MARK, _OF_NAME, _OF_RULE = 22, 30, 26, 48  # letters in a line
_ROOM = 24.0  # points by which the room for the bars' values grows
_LEAST_PLOT = 0.2  # share of the sheet
_PROPORTION = 0.56


def lay_out(chart: Chart, us: bool = False, width: float = 470.0, height: float | None = None) -> Sheet:
    """Lay a chart out: margins as wide as their words, labels beside what they name.

    Parameters
    ----------
    chart : Chart
        The chart.
    us : bool
        US units instead of metric ones.
    width, height : float
        Size in points; without a height, as high as it needs.

    Returns
    -------
    Sheet
        The chart with places for its words.
    """
    count = len(chart.bars[0].names) if chart.bars else 0
    y = Span(count - 0.5, -0.5) if count else span(chart, chart.y, us, snug=False)
    x = span(chart, chart.x, us, snug=True)
    bare = Sheet(
        chart=chart, us=us, width=width, height=height or 0.0, left=_EDGE, bottom=_EDGE, right=width, top=0.0, x=x, y=y
    )
    title = wrapped(bare.text(chart.title), int((width - 2 * _EDGE) / (0.62 * TITLE)), 4)
    strips = (not count or any(bars.label for bars in chart.bars)) + bool(_upright(chart))
    above = _EDGE + _GAP + len(title) * TITLE * LEADING + strips * SMALL * 2
    below = _EDGE + _GAP + 2 * SMALL * LEADING + 3
    side_by_side = max(1, sum(bars.start is None for bars in chart.bars))
    height = height or (above + below + _BAR * count * (0.4 + 0.6 * side_by_side) if count else _PROPORTION * width)
    left, right = _margins(bare)
    least = _LEAST_PLOT * width
    if width - left - right < least:  # words may then run off the sheet, the plot stays
        left = min(left, width - least - _EDGE)
        right = width - left - least
    sheet = replace(bare, left=left, right=width - right, bottom=below, top=height - above, height=height)
    heights = [height - _EDGE - TITLE * LEADING * (row + 0.5) for row in range(len(title))]
    placed = [Word((text,), _EDGE, at, size=TITLE, bold=True) for text, at in zip(title, heights, strict=True)]
    placed += [*_captions(sheet, heights[-1] - TITLE * 0.5 - _GAP - SMALL), *_axis_words(sheet), *_upright_words(sheet)]
    placed += [*_end_words(sheet), *_bar_words(sheet)]
    return replace(sheet, words=(*placed, *_mark_words(sheet, placed)))


def _margins(sheet: Sheet) -> tuple[float, float]:
    """Room left and right of the plot."""
    if not sheet.chart.bars:
        ends = [line for draw in _at_the_edge(sheet) for line in wrapped(sheet.text(draw.label), _AT_END)]
        right = _LEAD + _widest(ends, TEXT) if ends else _GAP
        return _EDGE + _widest(sheet.y.tick_texts, SMALL) + _GAP, _EDGE + right
    names, before, after = _beside_bars(sheet)
    return _EDGE + names + before, _EDGE + after


def _beside_bars(sheet: Sheet) -> tuple[float, float, float]:
    """Room for the bars' names, and for the values left and right of what is in sight."""
    lines = [line for name in sheet.chart.bars[0].names for line in wrapped(sheet.text(name), _OF_NAME, 2)]
    names, wide = _widest(lines, TEXT) + _GAP, sheet.x.high - sheet.x.low
    sides: list[list[tuple[float, float]]] = [[], []]  # share of the scale that a value may cover, and its width
    for value in bar_values(sheet):
        share = (value.x - sheet.x.low) / wide
        sides[value.after].append((1.0 - share if value.after else share, _GAP + text_width(value.text, TEXT)))
    before, after = (max((width for _, width in side), default=0.0) for side in sides)
    if sheet.chart.x.firm:  # the scale stays while a value moves
        return names, before, math.ceil(after / _ROOM) * _ROOM
    scale = max(sheet.width - 2 * _EDGE - names - before - after, 0.0)
    before, after = (max((width - share * scale for share, width in side), default=0.0) for side in sides)
    return names, max(before, 0.0), max(after, _GAP)


def _widest(texts: Iterable[str], size: float) -> float:
    return max((text_width(text, size) for text in texts), default=0.0)


def _upright(chart: Chart) -> list[tuple[Rule, float]]:
    return [(draw, draw.x) for draw in chart.draws if isinstance(draw, Rule) and draw.x is not None and draw.label]


def _at_the_edge(sheet: Sheet) -> list[Line | Rule]:
    """What is named right of the plot."""
    return [
        draw
        for draw in sheet.chart.draws
        if (isinstance(draw, Line) and draw.label and not ends_early(sheet, draw))
        or (isinstance(draw, Rule) and draw.y is not None and draw.label)
    ]


def _captions(sheet: Sheet, at: float) -> Iterator[Word]:
    """Under the title: what is along y, or what kinds of bars there are."""
    if not sheet.chart.bars:
        yield Word((sheet.chart.y.text(sheet.us),), _EDGE, at, size=SMALL, colour=FAINT)
    left = _EDGE
    for bars in sheet.chart.bars:
        if bars.label:
            text = sheet.text(bars.label)
            swatch = bars.roles[0] if len(set(bars.roles)) == 1 else "plain"
            yield Word((text,), left + _LEAD, at, size=SMALL, colour=FAINT, swatch=swatch, pale=bars.pale)
            left += 2 * _LEAD + text_width(text, SMALL)


def _axis_words(sheet: Sheet) -> Iterator[Word]:
    for mark, text in zip(sheet.x.ticks, sheet.x.tick_texts, strict=True):
        ((x, _),) = sheet.points(mark, sheet.y.low).tolist()
        yield Word((text,), x, sheet.bottom - 4 - SMALL * LEADING / 2, "center", SMALL, FAINT, scale=True)
    label_at = sheet.bottom - 6 - SMALL * LEADING * 1.5
    middle = (sheet.left + sheet.right) / 2
    yield Word((sheet.chart.x.text(sheet.us),), middle, label_at, "center", SMALL, FAINT, scale=True)
    if not sheet.chart.bars:
        for mark, text in zip(sheet.y.ticks, sheet.y.tick_texts, strict=True):
            ((_, y),) = sheet.points(sheet.x.low, mark).tolist()
            yield Word((text,), sheet.left - _GAP, y, "right", SMALL, FAINT, scale=True)
        return
    _, before, _ = _beside_bars(sheet)
    for row, name in enumerate(sheet.chart.bars[0].names):
        ((_, y),) = sheet.points(sheet.x.low, row).tolist()
        lines = tuple(wrapped(sheet.text(name), _OF_NAME, 2))
        yield Word(lines, sheet.left - _GAP - before, y, "right")


def _upright_words(sheet: Sheet) -> Iterator[Word]:
    """Names of upright rules, side by side above the plot."""
    rules = _upright(sheet.chart)
    texts = [wrapped(sheet.text(rule.label), _OF_RULE, 1)[0] for rule, _ in rules]
    wanted = [float(sheet.points(sheet.across(x), sheet.y.low)[0, 0]) for _, x in rules]
    room = [text_width(text, SMALL) + 8 for text in texts]
    middles = apart(wanted, room, _EDGE, sheet.width - _EDGE)
    for (rule, _), text, x, tip in zip(rules, texts, middles, wanted, strict=True):
        yield Word((text,), x, sheet.top + SMALL * 1.35, "center", SMALL, ROLES[rule.role].text, tip=(tip, sheet.top))


def _end_words(sheet: Sheet) -> Iterator[Word]:
    """Names of lines and level rules, one below the other right of the plot."""
    named = _at_the_edge(sheet)
    ends = [draw.end if isinstance(draw, Line) else (None, draw.y) for draw in named]
    tips = [
        sheet.points(sheet.x.high if x is None else sheet.across(x), sheet.up(y or 0.0))[0].tolist() for x, y in ends
    ]
    lines = [tuple(wrapped(sheet.text(draw.label), _AT_END)) for draw in named]
    room = [len(each) * TEXT * LEADING + 1 for each in lines]
    middles = apart([tip[1] for tip in tips], room, _EDGE, sheet.top + SMALL)
    for draw, each, y, tip in zip(named, lines, middles, tips, strict=True):
        yield Word(each, sheet.right + _LEAD, y, colour=ROLES[draw.role].text, tip=(tip[0], tip[1]))


def _bar_words(sheet: Sheet) -> Iterator[Word]:
    for value in bar_values(sheet):
        ((x, y),) = sheet.points(value.x, value.row).tolist()
        place, align = (x + _GAP, "left") if value.after else (x - _GAP, "right")
        yield Word((value.text,), place, y, align, tip=(x, y))


def _mark_words(sheet: Sheet, placed: list[Word]) -> Iterator[Word]:
    """Names of marks, and of curves that end early, where they cover least."""
    curves = _curves(sheet)
    boxes = [word.box for word in placed]
    bounds = (sheet.left, sheet.bottom, sheet.width - _EDGE, sheet.top)
    for draw in sheet.chart.draws:
        if isinstance(draw, Mark):
            spot = (draw.x, draw.y)
        elif isinstance(draw, Line) and ends_early(sheet, draw):
            spot = draw.end
        else:
            continue
        if draw.label:
            lines = tuple(wrapped(sheet.text(draw.label), _AT_MARK))
            size = (_widest(lines, TEXT), len(lines) * TEXT * LEADING)
            ((across, up),) = sheet.points(sheet.across(spot[0]), sheet.up(spot[1])).tolist()
            x, y = beside((across, up), size, curves, boxes, bounds)
            boxes.append((x, y, x + size[0], y + size[1]))
            yield Word(lines, x, y + size[1] / 2, colour=ROLES[draw.role].text, tip=(across, up))


def _curves(sheet: Sheet) -> Array:
    """Places along everything that a name should not cover."""
    curves = [np.zeros((0, 2))]
    for draw in sheet.chart.draws:
        if isinstance(draw, Line):
            fine = np.linspace(draw.x[0], draw.x[-1], 150)
            curves.append(sheet.points(sheet.across(fine), sheet.up(np.interp(fine, draw.x, draw.y))))
        elif isinstance(draw, Rule) and draw.y is not None:
            curves.append(sheet.points(np.linspace(sheet.x.low, sheet.x.high, 150), sheet.up(draw.y)))
        elif isinstance(draw, Rule) and draw.x is not None:
            curves.append(sheet.points(sheet.across(draw.x), np.linspace(sheet.y.low, sheet.y.high, 150)))
        elif isinstance(draw, Mark):
            curves += [sheet.points(sheet.across(draw.x), sheet.up(draw.y))] * 20  # a mark weighs more than a line
    return np.concatenate(curves)
