"""The pen for what follows a slider: a laid-out chart as a light SVG text, drawn within two milliseconds.

Same sheet, same roles as on paper. In a page it follows the dark theme, and a pointer that rests anywhere over
the plot is told the value of every curve there, by style sheet alone. Each curve carries its name, and the
drawing the ends of its axes, so that its numbers can be read back out of a page.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from vanwater.answers.core.chart import Bars, Chart, Line, Mark, Role, Rule, words
from vanwater.answers.core.escaping import plain
from vanwater.answers.core.statement import Amount
from vanwater.figures.labels import lay_out
from vanwater.figures.layout import text_width
from vanwater.figures.roles import FAINT, GRID, INK, PAPER, ROLES, contrast
from vanwater.figures.sheet import LEADING, SMALL, Sheet, Word, bar_rows, value_texts
from vanwater.quantities import Array

__all__ = ["DARK_STYLE", "HOVER_STYLE", "drawing"]

_FONT = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"
_GROUND = "#1c1c1c"  # of a dark page
_ENOUGH = 4.5  # contrast of small text, WCAG 2.2, success criterion 1.4.3
_SLICES = 36
_STRAIGHT = 1e-7  # points that a way may bend and still be straight
_SYMBOLS = {
    "circle": "M-{r},0a{r},{r} 0 1,0 {d},0a{r},{r} 0 1,0 -{d},0z",
    "square": "M-{r},-{r}h{d}v{d}h-{d}z",
    "triangle-down": "M-{r},-{r}h{d}l-{r},{d}z",
    "triangle-up": "M-{r},{r}h{d}l-{r},-{d}z",
    "diamond": "M0,-{d}l{r},{d}l-{r},{d}l-{r},-{d}z",
    "cross": "M-{r},0h{d}M0,-{r}v{d}",
    "x": "M-{r},-{r}l{d},{d}M-{r},{r}l{d},-{d}",
    "line-ew": "M-{r},0h{d}",
    "hexagon": "M-{r},0l{h},-{r}h{r}l{h},{r}l-{h},{r}h-{r}z",
}
"""Outlines of the end markers; those that are not here are drawn as circles."""

_TONES = {INK: "ink", FAINT: "faint", GRID: "grid", PAPER: "paper"}

HOVER_STYLE = (
    ".vw-told{visibility:hidden;pointer-events:none}.vw-slice:hover .vw-told{visibility:visible}"
    ".vw-slice .vw-catch{fill-opacity:0}.vw-told path{stroke:var(--vw-faint,#5c5c5c);stroke-width:.6}"
    ".vw-told rect{fill:var(--vw-paper,#fff);stroke:var(--vw-faint,#5c5c5c);stroke-width:.5}"
    ".vw-told text{font-size:8px;fill:var(--vw-ink,#222)}"
)
"""What a page needs so that values are told where the pointer is."""


def drawing(
    chart: Chart, us: bool = False, width: float = 470.0, height: float | None = None, *, hover: bool = False
) -> str:
    """Draw a chart as a light SVG.

    Parameters
    ----------
    chart : Chart
        What to draw.
    us : bool
        US units instead of metric ones.
    width, height : float
        Size in points; without a height, as high as it needs.
    hover : bool
        Tell the values under the pointer, in a page that has ``HOVER_STYLE``.

    Returns
    -------
    str
        One ``<svg>`` element, free of references to anything outside, the same bytes for the same chart.
    """
    sheet = lay_out(chart, us, width, height)
    parts = [*_opening(sheet), *_grid(sheet)]
    for draw in chart.draws:
        if isinstance(draw, Line):
            parts += _line(sheet, draw)
        elif isinstance(draw, Mark):
            parts.append(_symbol(sheet, draw.role, draw.x, draw.y, 4.0, f"<title>{_told(sheet, draw)}</title>"))
        elif isinstance(draw, Rule):
            parts.append(_rule(sheet, draw))
    for row in bar_rows(chart):
        parts += _bars(sheet, *row)
    for word in sheet.words:
        parts += _word(sheet, word)
    if hover and not chart.bars:
        parts += _slices(sheet)
    return f"{''.join(parts)}</svg>"


def _opening(sheet: Sheet) -> Iterator[str]:
    chart, wide, high = sheet.chart, _n(sheet.width), _n(sheet.height)
    title, description = words(chart.title, "html", sheet.us), words(chart.sentence, "html", sheet.us)
    plot = " ".join(map(_n, (sheet.left, sheet.right, sheet.height - sheet.bottom, sheet.height - sheet.top)))
    seen = " ".join(f"{end:.9g}" for end in (sheet.x.low, sheet.x.high, sheet.y.low, sheet.y.high))
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}pt" height="{high}pt" '
        f'role="img" aria-label="{title} {description}" data-chart="{chart.key}" data-plot="{plot}" data-seen="{seen}" '
        f'style="max-width:100%;height:auto" font-family="{_FONT}">'
        f'<rect width="{wide}" height="{high}" style="fill:{_tone(PAPER)}"/>'
    )


def _grid(sheet: Sheet) -> Iterator[str]:
    if sheet.chart.bars:
        ends = (sheet.y.low, sheet.y.high)
        lines = [(_path(sheet, np.full(2, tick), np.array(ends)), GRID) for tick in sheet.x.ticks]
        start = min(max(sheet.x.low, 0.0), sheet.x.high)
        lines.append((_path(sheet, np.full(2, start), np.array(ends)), FAINT))
    else:
        ends = (sheet.x.low, sheet.x.high)
        lines = [(_path(sheet, np.array(ends), np.full(2, tick)), GRID) for tick in sheet.y.ticks]
        lines.append((_path(sheet, np.array(ends), np.full(2, sheet.y.low)), FAINT))
    for path, tone in lines:
        yield f'<path d="{path}" style="fill:none;stroke:{_tone(tone)}" stroke-width="0.7"/>'


def _line(sheet: Sheet, draw: Line) -> Iterator[str]:
    x, y, style = sheet.across(draw.x), sheet.up(draw.y), ROLES[draw.role]
    if draw.low is not None and draw.high is not None:
        known = np.isfinite(draw.low) & np.isfinite(draw.high)
        there = _path(sheet, x[known], sheet.up(draw.high)[known])
        back = _path(sheet, x[known][::-1], sheet.up(draw.low)[known][::-1])
        if there and back:
            yield f'<path d="{there}L{back[1:]}z" style="fill:{_colour(draw.role)}" fill-opacity="0.17"/>'
    name = words(draw.label, "html", sheet.us)
    yield (
        f'<path class="vw-line" data-role="{draw.role}" data-name="{name}" d="{_path(sheet, x, y)}" '
        f'style="fill:none;stroke:{_colour(draw.role)}" stroke-width="{style.width:g}"{_dash(draw.role)} '
        f'stroke-linejoin="round"/>'
    )
    if draw.role != "saved":
        yield _symbol(sheet, draw.role, *draw.end, 2.4)


def _rule(sheet: Sheet, draw: Rule) -> str:
    if draw.x is not None:
        path = _path(sheet, np.full(2, float(sheet.across(draw.x))), np.array([sheet.y.low, sheet.y.high]))
    else:
        path = _path(sheet, np.array([sheet.x.low, sheet.x.high]), np.full(2, float(sheet.up(draw.y or 0.0))))
    name = words(draw.label, "html", sheet.us)
    look = f'style="fill:none;stroke:{_colour(draw.role)}" stroke-width="0.9"{_dash(draw.role)}'
    return f'<path class="vw-rule" data-name="{name}" d="{path}" {look}/>'


def _bars(sheet: Sheet, bars: Bars, offset: float, high: float) -> Iterator[str]:
    values = sheet.within(bars.values)
    starts = sheet.within(np.zeros_like(values) if bars.start is None else bars.start)
    texts, rows = value_texts(sheet, bars), np.arange(len(bars.names)) + offset
    for place, role in enumerate(bars.roles):
        ends = sheet.points(np.array([starts[place], values[place]]), np.full(2, rows[place]))
        (left, up), (right, _) = sorted(ends.tolist())
        tall = abs(sheet.points(sheet.x.low, 0.0)[0, 1] - sheet.points(sheet.x.low, high)[0, 1])
        name = words(bars.names[place], "html", sheet.us)
        yield (
            f'<rect class="vw-bar" data-name="{name}" x="{_n(left)}" y="{_n(sheet.height - up - tall / 2)}" '
            f'width="{_n(right - left)}" height="{_n(tall)}" style="fill:{_colour(role)}">'
            f"<title>{name}: {plain(texts[place], 'html')}</title></rect>"
        )
    if bars.low is not None and bars.high is not None:
        for row, low, up in zip(rows, sheet.within(bars.low), sheet.within(bars.high), strict=True):
            path = _path(sheet, np.array([low, up]), np.full(2, row))
            yield f'<path d="{path}" style="fill:none;stroke:{_tone(INK)}"/>'


def _word(sheet: Sheet, word: Word) -> Iterator[str]:
    anchor = {"left": "start", "center": "middle", "right": "end"}[word.align]
    height, middle = word.size * LEADING, sheet.height - word.y
    weight = ' font-weight="bold"' if word.bold else ""
    if word.lead is not None:
        (x, y), (to_x, to_y) = word.lead
        line = f"M{_n(x)},{_n(sheet.height - y)}L{_n(to_x)},{_n(sheet.height - to_y)}"
        yield f'<path d="{line}" style="fill:none;stroke:{_tone(word.colour)}" stroke-width="0.5"/>'
    if word.swatch is not None:
        side = SMALL - 1
        spot = f'x="{_n(word.x - 11)}" y="{_n(middle - side / 2)}" width="{side:g}" height="{side:g}"'
        yield f'<rect {spot} style="fill:{_colour(word.swatch)}"/>'
    first = middle - (len(word.lines) - 1) * height / 2 + word.size * 0.35
    for row, line in enumerate(word.lines):
        yield (
            f'<text x="{_n(word.x)}" y="{_n(first + row * height)}" font-size="{word.size:g}"{weight} '
            f'text-anchor="{anchor}" style="fill:{_tone(word.colour)}">{plain(line, "html")}</text>'
        )


def _slices(sheet: Sheet) -> Iterator[str]:
    """Upright strips over the plot, each with what a pointer on it is told."""
    along, up = sheet.chart.x.quantity, sheet.chart.y.quantity
    lines = [draw for draw in sheet.chart.draws if isinstance(draw, Line) and draw.label and draw.role != "saved"]
    if along is None or up is None or not lines:
        return
    top, bottom = sheet.height - sheet.top, sheet.height - sheet.bottom
    wide = (sheet.right - sheet.left) / _SLICES
    middles = sheet.left + wide * (np.arange(_SLICES) + 0.5)
    across = (middles - sheet.left) / (sheet.right - sheet.left)
    shown = np.asarray(sheet.x.low + across * (sheet.x.high - sheet.x.low), dtype=np.float64)
    places = np.asarray(along.spellings[along.unit(sheet.us)].to_si(shown), dtype=np.float64)
    values = np.array([np.interp(places, draw.x, draw.y, left=np.nan, right=np.nan) for draw in lines])
    heights = sheet.height - sheet.points(shown, sheet.up(values))[:, 1].reshape(values.shape)
    names = [words(draw.label, "html", sheet.us) for draw in lines]
    colours = [_colour(draw.role) for draw in lines]
    label = words(sheet.chart.x.label, "html")
    for place, middle in enumerate(middles.tolist()):
        labels, dots = [f"{label}: {Amount(float(places[place]), along, 2).text(sheet.us)}"], ""
        for row in np.flatnonzero(np.isfinite(values[:, place])).tolist():
            labels.append(f"{names[row]}: {Amount(float(values[row, place]), up, 2).text(sheet.us)}")
            dots += f'<circle cx="{_n(middle)}" cy="{_n(heights[row, place])}" r="2.4" style="fill:{colours[row]}"/>'
        yield (
            f'<g class="vw-slice"><path class="vw-catch" d="M{_n(middle - wide / 2)},{_n(top)}h{_n(wide)}V{_n(bottom)}'
            f'h-{_n(wide)}z"/><g class="vw-told"><path d="M{_n(middle)},{_n(top)}V{_n(bottom)}"/>'
            f"{dots}{_box(sheet, middle, top, labels)}</g></g>"
        )


def _box(sheet: Sheet, at: float, top: float, lines: list[str]) -> str:
    """A small box of lines beside a place, on the side that has more room."""
    wide, step = max(text_width(line, SMALL) for line in lines) + 8, SMALL * LEADING
    left = at + 6 if at < (sheet.left + sheet.right) / 2 else at - 6 - wide
    spans = "".join(f'<tspan x="{_n(left + 5)}" dy="{step:g}">{line}</tspan>' for line in lines)
    frame = f'<rect x="{_n(left)}" y="{_n(top + 4)}" width="{_n(wide)}" height="{_n(len(lines) * step + 6)}" rx="2"/>'
    return f'{frame}<text y="{_n(top + 4)}">{spans}</text>'


def _told(sheet: Sheet, mark: Mark) -> str:
    along, up = sheet.chart.x.quantity, sheet.chart.y.quantity
    assert along is not None and up is not None  # a chart with marks has both; see Chart
    spot = f"{Amount(mark.y, up).text(sheet.us)} at {Amount(mark.x, along).text(sheet.us)}"
    return f"{words(mark.label, 'html', sheet.us)}: {plain(spot, 'html')}"


def _symbol(sheet: Sheet, role: Role, x: float, y: float, size: float, inside: str = "") -> str:
    ((across, up),) = sheet.points(float(sheet.across(x)), float(sheet.up(y))).tolist()
    shape = _SYMBOLS.get(ROLES[role].symbol, _SYMBOLS["circle"])
    path = shape.format(r=f"{size:g}", d=f"{2 * size:g}", h=f"{size / 2:g}")
    look = f'style="fill:{_colour(role)};stroke:{_colour(role)}" stroke-width="1"'
    return f'<path transform="translate({_n(across)} {_n(sheet.height - up)})" d="{path}" {look}>{inside}</path>'


def _path(sheet: Sheet, across: Array, up: Array) -> str:
    """A way through points in display units, broken where one is not known, without those on a straight way."""
    points = sheet.points(across, up)
    points[:, 1] = sheet.height - points[:, 1]
    bend = np.abs(np.diff(points, 2, axis=0)).max(axis=1, initial=0.0)
    kept = np.concatenate(([True], ~(bend < _STRAIGHT), [True]))[: len(points)]
    kept[-1:] = True
    known = np.isfinite(points[:, 1])
    begin = known & ~np.concatenate(([False], known[:-1]))
    last = known & ~np.concatenate((known[1:], [False]))
    drawn = known & (kept | begin | last)
    places = zip(np.round(points[drawn], 2).tolist(), begin[drawn].tolist(), strict=True)
    return "".join(f"{'M' if first else 'L'}{x + 0.0:g},{y + 0.0:g}" for (x, y), first in places)


def _dash(role: Role) -> str:
    lengths = " ".join(f"{length:g}" for length in ROLES[role].dash)
    return f' stroke-dasharray="{lengths}"' if lengths else ""


def _n(value: float) -> str:
    """A place in hundredths of a point."""
    return f"{round(value, 2) + 0.0:g}"


def _colour(role: Role) -> str:
    return f"var(--vw-{role},{ROLES[role].colour})"


@lru_cache(maxsize=64)
def _tone(colour: str) -> str:
    """A colour of words or grid, which a dark page replaces by its own."""
    name = _TONES.get(colour) or next((f"{role}-text" for role, style in ROLES.items() if style.text == colour), "ink")
    return f"var(--vw-{name},{colour})"


def _dark() -> Iterator[tuple[str, str]]:
    yield from (("ink", "#e4e4e4"), ("faint", "#a8a8a8"), ("grid", "#3a3a3a"), ("paper", _GROUND), ("saved", "#808080"))
    for role, style in ROLES.items():
        if role != "saved":  # stays faint
            yield role, _lighter(style.colour, 3.0)
        yield f"{role}-text", _lighter(style.colour, _ENOUGH)


def _lighter(colour: str, enough: float) -> str:
    """A colour made light enough to be seen on a dark ground."""
    parts = [int(colour[start : start + 2], 16) for start in (1, 3, 5)]
    for step in range(101):
        lighter = "#" + "".join(f"{round(part + (255 - part) * step / 100):02x}" for part in parts)
        if contrast(lighter, _GROUND) >= enough:
            break
    return lighter


DARK_STYLE = "".join(f"--vw-{name}:{colour};" for name, colour in _dark())
"""The colours of a dark page, as custom properties of a style sheet."""
