"""The pen for paper and for quick redraws: a chart as one self-contained SVG text, the same bytes every time."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from vanwater.answers.core.chart import Bars, Chart, Line, Mark, Rule, words
from vanwater.answers.core.escaping import plain
from vanwater.answers.core.statement import Amount
from vanwater.figures.labels import lay_out
from vanwater.figures.roles import FAINT, GRID, INK, PAPER, ROLES
from vanwater.figures.sheet import SMALL, Sheet, bar_rows, value_texts

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = ["svg"]

_FONTS = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"
_SETTINGS: Any = {"svg.fonttype": "none", "font.family": "DejaVu Sans", "hatch.linewidth": 0.6}


def svg(chart: Chart, us: bool = False, width: float = 470.0, height: float | None = None) -> str:
    """Draw a chart as SVG.

    Parameters
    ----------
    chart : Chart
        What to draw.
    us : bool
        US units instead of metric ones.
    width, height : float
        Size in points; without a height, as high as it needs.

    Returns
    -------
    str
        One ``<svg>`` element with title and description for those who do not see it, free of references to
        anything outside; every id in it starts with the chart's key.
    """
    import matplotlib as mpl
    from matplotlib.figure import Figure

    sheet = lay_out(chart, us, width, height)
    with mpl.rc_context(_SETTINGS | {"svg.hashsalt": chart.key}):
        figure = Figure(figsize=(sheet.width / 72, sheet.height / 72), facecolor=PAPER)
        axes = _frame(figure, sheet)
        for number, draw in enumerate(chart.draws):
            if isinstance(draw, Line):
                _line(axes, sheet, draw, f"draw-{number}")
            elif isinstance(draw, Mark):
                _mark(axes, sheet, draw, f"draw-{number}")
            elif isinstance(draw, Rule):
                _rule(axes, sheet, draw)
        for row, (bars, offset, high) in enumerate(bar_rows(sheet.chart)):
            _bars(axes, sheet, bars, offset, high, f"bars-{row}")
        _words(figure, sheet)
        file = io.StringIO()
        with warnings.catch_warnings():  # words stay text in the SVG: the reader's fonts draw what ours lack
            warnings.filterwarnings("ignore", message="Glyph .* missing from font")
            figure.savefig(file, format="svg")
    return _cleaned(file.getvalue(), sheet)


def _frame(figure: Figure, sheet: Sheet) -> Axes:
    wide, tall = sheet.right - sheet.left, sheet.top - sheet.bottom
    rectangle = (sheet.left / sheet.width, sheet.bottom / sheet.height, wide / sheet.width, tall / sheet.height)
    axes = figure.add_axes(rectangle, xlim=(sheet.x.low, sheet.x.high), ylim=(sheet.y.low, sheet.y.high))
    axes.set_xticks([])
    axes.set_yticks([])
    axes.patch.set_visible(False)
    for side in axes.spines.values():
        side.set_visible(False)
    if sheet.chart.bars:
        axes.vlines(sheet.x.ticks, sheet.y.low, sheet.y.high, GRID, lw=0.7, zorder=0)
        if sheet.x.low <= 0.0 <= sheet.x.high:
            axes.vlines([0.0], sheet.y.low, sheet.y.high, FAINT, lw=0.8, zorder=4, clip_on=False)
    else:
        axes.hlines(sheet.y.ticks, sheet.x.low, sheet.x.high, GRID, lw=0.7, zorder=0)
        axes.hlines([sheet.y.low], sheet.x.low, sheet.x.high, FAINT, lw=0.8, zorder=1, clip_on=False)
    return axes


def _line(axes: Axes, sheet: Sheet, draw: Line, gid: str) -> None:
    style = ROLES[draw.role]
    x, y = sheet.across(draw.x), sheet.up(draw.y)
    if draw.low is not None and draw.high is not None:
        axes.fill_between(x, sheet.up(draw.low), sheet.up(draw.high), color=style.colour, alpha=0.17, lw=0, zorder=2)
    dash: Any = (0, style.dash) if style.dash else "-"
    shown = np.where(np.isfinite(y), y, np.nan)
    axes.plot(x, shown, color=style.colour, ls=dash, lw=style.width, zorder=3, clip_on=False, gid=gid)
    end_x, end_y = float(sheet.across(draw.end[0])), float(sheet.up(draw.end[1]))
    axes.plot(end_x, end_y, style.marker, ms=4.5, color=style.colour, zorder=5, clip_on=False)


def _mark(axes: Axes, sheet: Sheet, draw: Mark, gid: str) -> None:
    style = ROLES[draw.role]
    axes.plot(
        sheet.across(draw.x), sheet.up(draw.y), style.marker, ms=7, color=style.colour, mec=PAPER, mew=0.8, zorder=6,
        clip_on=False, gid=gid,
    )  # fmt: skip


def _rule(axes: Axes, sheet: Sheet, draw: Rule) -> None:
    style = ROLES[draw.role]
    dash: Any = (0, style.dash) if style.dash else "-"
    look: dict[str, Any] = {"color": style.colour, "lw": 0.9, "ls": dash, "zorder": 4, "clip_on": False}
    if draw.y is not None:
        axes.hlines([float(sheet.up(draw.y))], sheet.x.low, sheet.x.high, **look)
    if draw.x is not None:
        axes.vlines([float(sheet.across(draw.x))], sheet.y.low, sheet.y.high, **look)


def _bars(axes: Axes, sheet: Sheet, bars: Bars, offset: float, high: float, gid: str) -> None:
    rows, values = np.arange(len(bars.names)) + offset, sheet.within(bars.values)
    starts = sheet.within(np.zeros_like(values) if bars.start is None else bars.start)
    for place, role in enumerate(bars.roles):
        axes.barh(
            rows[place], values[place] - starts[place], high, starts[place], color=ROLES[role].colour, ec=PAPER, lw=0.6,
            hatch=ROLES[role].pattern * 2 if len(sheet.chart.bars) > 1 else None, zorder=2, gid=f"{gid}-{place}",
        )  # fmt: skip
    if bars.low is not None and bars.high is not None:
        axes.hlines(rows, sheet.within(bars.low), sheet.within(bars.high), INK, lw=1.0, zorder=5)


def _words(figure: Figure, sheet: Sheet) -> None:
    """Texts in points from the lower left corner, with a thin lead to a curve's end that is not level with them."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import Rectangle

    def place(x: float, y: float) -> tuple[float, float]:
        return x / sheet.width, y / sheet.height

    for word in sheet.words:
        x, y = place(word.x, word.y)
        text = "\n".join(plain(line, "mathtext") for line in word.lines)
        figure.text(
            x, y, text, ha=word.align, va="center", size=word.size, color=word.colour,
            weight="bold" if word.bold else "normal", linespacing=1.15,
        )  # fmt: skip
        if word.lead is not None:
            (begin, low), (end, high) = (place(*spot) for spot in word.lead)
            figure.add_artist(Line2D([begin, end], [low, high], color=word.colour, lw=0.5))
        if word.swatch is not None:
            style, side = ROLES[word.swatch], place(SMALL - 1, SMALL - 1)
            corner = place(word.x - 11, word.y - (SMALL - 1) / 2)
            figure.add_artist(Rectangle(corner, *side, fc=style.colour, ec=PAPER, lw=0.4, hatch=style.pattern * 2))


def _hints(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """What a pointer that rests on a thing is told: its name and its numbers."""
    along, up = sheet.chart.x.quantity, sheet.chart.y.quantity
    for number, draw in enumerate(sheet.chart.draws):
        if isinstance(draw, Mark) and along and up:
            spot = f"{Amount(draw.y, up).text(sheet.us)} at {Amount(draw.x, along).text(sheet.us)}"
            yield f"draw-{number}", f"{words(draw.label, 'html', sheet.us)}: {spot}"
        elif isinstance(draw, Line) and up:
            known = draw.y[np.isfinite(draw.y)]
            ends = (
                f"{Amount(known[0], up).text(sheet.us)} to {Amount(known[-1], up).text(sheet.us)}" if known.size else ""
            )
            yield f"draw-{number}", f"{words(draw.label, 'html', sheet.us)}: {ends}"
    for row, (bars, _, _) in enumerate(bar_rows(sheet.chart)):
        for place, (name, text) in enumerate(zip(bars.names, value_texts(sheet, bars), strict=True)):
            kind = f", {words(bars.label, 'html', sheet.us)}" if bars.label else ""
            yield f"bars-{row}-{place}", f"{words(name, 'html', sheet.us)}{kind}: {text}"


def _cleaned(text: str, sheet: Sheet) -> str:
    """Only the drawing: no prolog, no metadata, fonts that every system has, ids of this chart's own."""
    key = sheet.chart.key
    text = re.sub(r"<metadata>.*?</metadata>", "", text[text.index("<svg") :], flags=re.DOTALL)
    text = re.sub(r'\bid="', f'id="{key}-', text)
    text = re.sub(r'(url\(|href=")#', rf"\g<1>#{key}-", text)
    text = re.sub(r"'DejaVu Sans'(?:, [^;\"]*)?(?=[;\"])", _FONTS, text)
    for gid, hint in _hints(sheet):
        text = text.replace(f'<g id="{key}-{gid}">', f'<g id="{key}-{gid}"><title>{hint}</title>', 1)
    title = words(sheet.chart.title, "html", sheet.us)
    desc = words(sheet.chart.sentence, "html", sheet.us)
    opening = f'<title id="{key}-title">{title}</title><desc id="{key}-desc">{desc}</desc>'
    start = text.index(">") + 1
    head = re.sub(r' (?:width|height)="[^"]*"', "", text[:start])[:-1]
    size = f'width="{sheet.width:g}pt" height="{sheet.height:g}pt" style="max-width:100%;height:auto"'
    label = f'role="img" aria-labelledby="{key}-title {key}-desc"'
    return f"{head} {size} {label}>{opening}{text[start:]}"
