"""The pen for what follows a slider and for what is printed: a laid-out chart as a light SVG text.

It is drawn within a few milliseconds. In a page it follows the dark theme, and a pointer that rests anywhere over
the plot is told the value of every curve there, by style sheet alone; on paper dashes, markers and hatching tell
the roles apart. Each curve carries its name, and the drawing the ends of its axes, so that its numbers can be
read back out of a page. Every id in it starts with the chart's key.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from itertools import groupby

import numpy as np

from vanwater.answers.core.chart import Bars, Chart, Draw, Line, Mark, Role, Rule, words
from vanwater.answers.core.escaping import plain
from vanwater.answers.core.statement import Amount
from vanwater.figures.labels import lay_out
from vanwater.figures.layout import text_width
from vanwater.figures.roles import DARK, FAINT, GRID, GROUNDS, INK, PAPER, ROLES, tone
from vanwater.figures.sheet import LEADING, SMALL, Sheet, Word, bar_rows, value_texts
from vanwater.figures.way import alike, way
from vanwater.figures.way import place as _n
from vanwater.quantities import Array

__all__ = ["DARK_STYLE", "HOVER_STYLE", "drawing"]

_FONT = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"
_SLICES = 36
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

_HATCHES = {
    "/": "M-1,1L1,-1M0,6L6,0M5,7L7,5",
    "\\": "M-1,5L1,7M0,0L6,6M5,-1L7,1",
    "x": "M0,6L6,0M0,0L6,6",
    "-": "M0,3H6",
    "|": "M3,0V6",
    "+": "M0,3H6M3,0V6",
    ".": "M2.4,3h1.2",
}
"""Hatching of bars, as it stands in a square of six points."""
_PALE = ' fill-opacity="0.3" stroke-width="0.8" stroke-dasharray="2 1.5"'

_HALO = "stroke-width:2.5;stroke-linejoin:round"
"""Of words that name something in the plot: paper around their letters."""

_TONES: Mapping[str, str] = {colour: name for name, colour in GROUNDS.items()}

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
        Tell the values under the pointer, in a page that has ``HOVER_STYLE``; each curve's ends without it.

    Returns
    -------
    str
        One ``<svg>`` element, free of references to anything outside, the same bytes for the same chart.
    """
    sheet = lay_out(chart, us, width, height)
    parts = [*_opening(sheet), *_hatches(sheet), *_grid(sheet)]
    parts += alike(element for draw in chart.draws for element in _drawn(sheet, draw, hover))
    for row in bar_rows(chart):
        parts += _bars(sheet, *row)
    parts += [_rule(sheet, draw) for draw in chart.draws if isinstance(draw, Rule)]
    for tip, group in groupby(sheet.words, lambda word: word.tip is not None):
        inside = "".join(alike(element for word in group for element in _word(sheet, word)))
        parts.append(f'<g paint-order="stroke" style="stroke:{_tone(PAPER)};{_HALO}">{inside}</g>' if tip else inside)
    if hover and not chart.bars:
        parts += _slices(sheet)
    return f"{''.join(parts)}</svg>"


def _opening(sheet: Sheet) -> Iterator[str]:
    chart, wide, high = sheet.chart, _n(sheet.width), _n(sheet.height)
    title, description = words(chart.title, "html", sheet.us), words(chart.sentence, "html", sheet.us)
    ends = (sheet.left, sheet.right, sheet.height - sheet.bottom, sheet.height - sheet.top)
    plot = " ".join(f"{end:.6g}" for end in ends)
    desc = f"<desc>{description}</desc>" if description else ""
    seen = " ".join(f"{end:.9g}" for end in (sheet.x.low, sheet.x.high, sheet.y.low, sheet.y.high))
    yield (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}pt" height="{high}pt" '
        f'role="img" aria-label="{title}" data-chart="{chart.key}" data-plot="{plot}" data-seen="{seen}" '
        f'style="max-width:100%;height:auto" font-family="{_FONT}">{desc}'
        f'<rect width="{wide}" height="{high}" style="fill:{_tone(PAPER)}"/>'
    )


def _hatches(sheet: Sheet) -> Iterator[str]:
    """What tells several kinds of bars apart without colour."""
    for role in _hatched(sheet):
        yield (
            f'<pattern id="{sheet.chart.key}-{role}" width="6" height="6" patternUnits="userSpaceOnUse">'
            f'<path d="{_HATCHES[ROLES[role].pattern]}" style="fill:none;stroke:{_tone(PAPER)}" stroke-width="0.9"/>'
            "</pattern>"
        )


def _hatched(sheet: Sheet) -> list[Role]:
    bars = [each for each in sheet.chart.bars if not each.pale]
    roles = sorted({role for each in bars for role in each.roles}) if len(bars) > 1 else []
    return [role for role in roles if ROLES[role].pattern]


def _grid(sheet: Sheet) -> Iterator[str]:
    if sheet.chart.bars:
        ends = np.array((sheet.y.low, sheet.y.high))
        ticks = "".join(_path(sheet, np.full(2, tick), ends) for tick in sheet.x.ticks)
        start = _path(sheet, np.full(2, min(max(sheet.x.low, 0.0), sheet.x.high)), ends)
    else:
        ends = np.array((sheet.x.low, sheet.x.high))
        ticks = "".join(_path(sheet, ends, np.full(2, tick)) for tick in sheet.y.ticks)
        start = _path(sheet, ends, np.full(2, sheet.y.low))
    for path, colour in ((ticks, GRID), (start, FAINT)):
        yield f'<path d="{path}" style="fill:none;stroke:{_tone(colour)}" stroke-width="0.7"/>'


def _drawn(sheet: Sheet, draw: Draw, hover: bool) -> Iterator[tuple[str, str]]:
    if isinstance(draw, Line):
        yield from _line(sheet, draw, "" if hover else f"<title>{_ends(sheet, draw)}</title>")
    elif isinstance(draw, Mark):
        yield _symbol(sheet, draw.role, draw.x, draw.y, 4.0, f"<title>{_told(sheet, draw)}</title>")


def _line(sheet: Sheet, draw: Line, inside: str) -> Iterator[tuple[str, str]]:
    x, y, style = sheet.across(draw.x), sheet.up(draw.y), ROLES[draw.role]
    if draw.low is not None and draw.high is not None:
        known = np.isfinite(draw.low) & np.isfinite(draw.high)
        there = _path(sheet, x[known], sheet.up(draw.high)[known])
        back = _path(sheet, x[known][::-1], sheet.up(draw.low)[known][::-1])
        if there and back:
            yield "", f'<path d="{there}L{back[1:]}z" style="fill:{tone(draw.role)}" fill-opacity="0.17"/>'
    name = words(draw.label, "html", sheet.us)
    yield (
        "",
        (
            f'<path class="vw-line" data-role="{draw.role}" data-name="{name}" d="{_path(sheet, x, y)}" '
            f'style="fill:none;stroke:{tone(draw.role)}" stroke-width="{style.width:g}"{_dash(draw.role)} '
            f'stroke-linejoin="round">{inside}</path>'
        ),
    )
    if draw.role != "saved":
        yield _symbol(sheet, draw.role, *draw.end, 2.4)


def _rule(sheet: Sheet, draw: Rule) -> str:
    if draw.x is not None:
        path = _path(sheet, np.full(2, float(sheet.across(draw.x))), np.array([sheet.y.low, sheet.y.high]))
    else:
        path = _path(sheet, np.array([sheet.x.low, sheet.x.high]), np.full(2, float(sheet.up(draw.y or 0.0))))
    name = words(draw.label, "html", sheet.us)
    look = f'style="fill:none;stroke:{tone(draw.role)}" stroke-width="0.9"{_dash(draw.role)}'
    return f'<path class="vw-rule" data-name="{name}" d="{path}" {look}/>'


def _bars(sheet: Sheet, bars: Bars, offset: float, high: float) -> Iterator[str]:
    values = sheet.within(bars.values)
    starts = sheet.within(np.zeros_like(values) if bars.start is None else bars.start)
    texts, rows = value_texts(sheet, bars), np.arange(len(bars.names)) + offset
    kind = f", {words(bars.label, 'html', sheet.us)}" if bars.label else ""
    hatched, cut = _hatched(sheet), sheet.across(bars.values) > sheet.x.high * (1 + 1e-9)
    rects, hatching, gaps = [], dict[Role, str](), ""
    for place, role in enumerate(bars.roles):
        ends = sheet.points(np.array([starts[place], values[place]]), np.full(2, rows[place]))
        (left, up), (right, _) = sorted(np.round(ends, 1).tolist())  # so that a bar ends where the next one begins
        tall = abs(sheet.points(sheet.x.low, 0.0)[0, 1] - sheet.points(sheet.x.low, high)[0, 1])
        name = words(bars.names[place], "html", sheet.us)
        top = sheet.height - up - tall / 2
        box = f'x="{_n(left)}" y="{_n(top)}" width="{_n(right - left)}" height="{_n(tall)}"'
        told = f"<title>{name}{kind}: {plain(texts[place], 'html')}</title>"
        edge = f";stroke:{tone(role)}" if bars.pale else ""
        nothing = starts[place] == values[place] and (bars.pale or bars.start is not None)
        if not nothing:  # a bar from zero is told however short, a stretch of no length says nothing
            look = f'style="fill:{tone(role)}{edge}"{_PALE if bars.pale else ""}'
            rects.append((look, f'<rect class="vw-bar" data-name="{name}" data-role="{role}" {box}>{told}</rect>'))
        if right > left and role in hatched and not bars.pale:
            outline = f"M{_n(left)},{_n(top)}h{_n(right - left)}v{_n(tall)}h-{_n(right - left)}z"
            hatching[role] = hatching.get(role, "") + outline
        if right > left and cut[place]:
            gaps += "".join(f"M{_n(right - back)},{_n(top - 1)}l-4,{_n(tall + 2)}" for back in (5.0, 9.0))
    yield from alike(rects)
    for role, outlines in hatching.items():
        yield f'<path d="{outlines}" fill="url(#{sheet.chart.key}-{role})" pointer-events="none"/>'
    if gaps:
        yield f'<path class="vw-cut" d="{gaps}" style="fill:none;stroke:{_tone(PAPER)}" stroke-width="1.6"/>'
    if bars.low is not None and bars.high is not None:
        ends_of = zip(rows, sheet.within(bars.low), sheet.within(bars.high), strict=True)
        ranges = "".join(_path(sheet, np.array([low, up]), np.full(2, row)) for row, low, up in ends_of)
        yield f'<path d="{ranges}" style="fill:none;stroke:{_tone(INK)}"/>'


def _word(sheet: Sheet, word: Word) -> Iterator[tuple[str, str]]:
    """Its elements, each with the look that it may share with its neighbours."""
    anchor = {"left": "", "center": ' text-anchor="middle"', "right": ' text-anchor="end"'}[word.align]
    height, middle = word.size * LEADING, sheet.height - word.y
    if word.tip and _crossed(sheet, word):
        left, low, right, up = word.box
        box = f'x="{_n(left - 2)}" y="{_n(sheet.height - up)}" width="{_n(right - left + 2)}" height="{_n(up - low)}"'
        yield "", f'<rect {box} style="fill:{_tone(PAPER)};stroke:none" fill-opacity="0.85"/>'
    weight = ' font-weight="bold"' if word.bold else ""
    if word.lead is not None:
        (x, y), (to_x, to_y) = word.lead
        line = f"M{_n(x)},{_n(sheet.height - y)}L{_n(to_x)},{_n(sheet.height - to_y)}"
        yield "", f'<path d="{line}" style="fill:none;stroke:{_tone(word.colour)}" stroke-width="0.5"/>'
    if word.swatch is not None:
        side = SMALL - 1
        spot = f'x="{_n(word.x - 11)}" y="{_n(middle - side / 2)}" width="{side:g}" height="{side:g}"'
        edge, look = (f";stroke:{tone(word.swatch)}", _PALE) if word.pale else ("", "")
        yield "", f'<rect {spot} style="fill:{tone(word.swatch)}{edge}"{look}/>'
        if word.swatch in _hatched(sheet) and not word.pale:
            yield "", f'<rect {spot} fill="url(#{sheet.chart.key}-{word.swatch})"/>'
    first = middle - (len(word.lines) - 1) * height / 2 + word.size * 0.35
    look = f'font-size="{word.size:g}"{weight}{anchor} style="fill:{_tone(word.colour)}"'
    for row, line in enumerate(word.lines):
        yield look, f'<text x="{_n(word.x)}" y="{_n(first + row * height)}">{plain(line, "html")}</text>'


def _crossed(sheet: Sheet, word: Word) -> bool:
    """Whether an upright rule runs through the value of a bar."""
    upright = [draw.x for draw in sheet.chart.draws if isinstance(draw, Rule) and draw.x is not None]
    places = [float(sheet.points(sheet.across(x), sheet.y.low)[0, 0]) for x in upright if sheet.chart.bars]
    left, low, right, _ = word.box
    return any(left < place < right for place in places) and low < sheet.top


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
    colours = [tone(draw.role) for draw in lines]
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
    name = words(mark.label, "html", sheet.us)
    return f"{name}: {plain(spot, 'html')}" if name else plain(spot, "html")


def _ends(sheet: Sheet, line: Line) -> str:
    """A curve's name and its first and last value."""
    known = line.y[np.isfinite(line.y)]
    up = sheet.chart.y.quantity
    assert up is not None  # a chart with curves has it; see Chart
    ends = f"{Amount(float(known[0]), up).text(sheet.us)} to {Amount(float(known[-1]), up).text(sheet.us)}"
    name = words(line.label, "html", sheet.us)
    return f"{name}: {plain(ends, 'html')}" if name else plain(ends, "html")


def _symbol(sheet: Sheet, role: Role, x: float, y: float, size: float, inside: str = "") -> tuple[str, str]:
    ((across, up),) = sheet.points(float(sheet.across(x)), float(sheet.up(y))).tolist()
    shape = _SYMBOLS.get(ROLES[role].symbol, _SYMBOLS["circle"])
    path = shape.format(r=f"{size:g}", d=f"{2 * size:g}", h=f"{size / 2:g}")
    place = f"translate({_n(across)} {_n(sheet.height - up)})"
    return f'style="fill:{tone(role)};stroke:{tone(role)}"', (
        f'<path transform="{place}" d="{path}"{f">{inside}</path>" if inside else "/>"}'
    )


def _path(sheet: Sheet, across: Array, up: Array) -> str:
    """A way through points in display units, broken where one is not known, without those that nobody would miss."""
    points = sheet.points(across, up)
    points[:, 1] = sheet.height - points[:, 1]
    known = np.flatnonzero(np.isfinite(points[:, 1]))
    pieces = np.split(known, np.flatnonzero(np.diff(known) > 1) + 1)
    return "".join(way(points[piece]) for piece in pieces if len(piece))


def _dash(role: Role) -> str:
    lengths = " ".join(f"{length:g}" for length in ROLES[role].dash)
    return f' stroke-dasharray="{lengths}"' if lengths else ""


@lru_cache(maxsize=64)
def _tone(colour: str) -> str:
    """A colour of words or grid, which a dark page replaces by its own."""
    name = _TONES.get(colour) or next((f"{role}-text" for role, style in ROLES.items() if style.text == colour), "ink")
    return f"var(--vw-{name},{colour})"


DARK_STYLE = "".join(f"--vw-{name}:{colour};" for name, colour in DARK.items())
"""The colours of a dark page, as custom properties of a style sheet."""
