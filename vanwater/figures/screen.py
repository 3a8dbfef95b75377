"""The pen for a large picture: a chart as a plotly figure, to zoom and to read values off by pointing.

What follows a slider and what is printed is drawn by :func:`vanwater.figures.drawing.drawing`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark, Role, Rule, Words, words
from vanwater.answers.core.escaping import plain
from vanwater.figures.labels import lay_out
from vanwater.figures.layout import Span
from vanwater.figures.roles import FAINT, GRID, INK, PAPER, ROLES
from vanwater.figures.sheet import Sheet, Word, bar_rows, value_texts
from vanwater.quantities import Array

__all__ = ["figure", "plotly_figure"]

_PIXELS = 4 / 3  # a point on the screen
_DIGITS = 9
_LEGEND = 26  # pixels below the axis
_REMOVED = ["sendChartToCloud", "lasso2d", "select2d", "zoomIn2d", "zoomOut2d", "autoScale2d"]
"""Buttons that a figure does without; the first would upload it to a cloud service."""

_BARE = {"showticklabels": False, "showgrid": False, "zeroline": False, "fixedrange": True}  # names are annotations
_FONT = "system-ui, 'Segoe UI', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"


def figure(chart: Chart, us: bool = False, width: float = 520.0) -> dict[str, Any]:
    """Describe a chart as a plotly figure: ``go.Figure(figure(chart))``.

    Parameters
    ----------
    chart : Chart
        What to draw.
    us : bool
        US units instead of metric ones.
    width : float
        Width in points for which words are laid out; the figure itself takes the room that it gets.

    Returns
    -------
    dict
        ``data`` and ``layout`` of plain lists, numbers rounded so that they are alike on every machine.
    """
    sheet = lay_out(chart, us, width)
    data = [trace for place, draw in enumerate(chart.draws) for trace in _traces(sheet, draw, str(place))]
    data += [_bars(sheet, *row) for row in bar_rows(chart)]
    legend = sum("name" in trace for trace in data) > 1
    margins = [sheet.left, sheet.width - sheet.right, sheet.height - sheet.top, sheet.bottom]
    margin = dict(zip("lrtb", (round(room * _PIXELS) for room in margins), strict=True))
    margin["b"] += _LEGEND * legend
    layout = {
        "template": {"layout": {"modebar": {"remove": _REMOVED, "bgcolor": "rgba(0,0,0,0)", "color": FAINT}}},
        "autosize": True,  # without it a widget is 700 pixels wide
        "height": round(sheet.height * _PIXELS) + _LEGEND * legend,
        "margin": margin,
        "uirevision": chart.key,  # what is zoomed stays so while values change
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "showlegend": legend,
        "legend": {"orientation": "h", "x": 0, "y": 0, "yref": "container", "yanchor": "bottom", "itemwidth": 40},
        "hovermode": "closest",
        "barmode": "overlay",
        "font": {"family": _FONT, "size": 11, "color": INK},
        "xaxis": _axis(chart.x, sheet.x, us) | _edge(bool(chart.bars)),
        "yaxis": _axis(chart.y, sheet.y, us) | {"title": {"text": ""}} | (_BARE if chart.bars else {}),
        "shapes": [_rule(sheet, draw) for draw in chart.draws if isinstance(draw, Rule)],
        "annotations": [_word(sheet, word) for word in sheet.words if not word.scale],
    }
    return {"data": data, "layout": layout}


def plotly_figure(chart: Chart, us: bool = False) -> Any:
    """A chart, of an answer or of a sweep, as a figure of plotly's own, to be shown or worked on in a notebook.

    Parameters
    ----------
    chart : Chart
        What to draw.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    plotly.graph_objects.Figure
        The figure, made anew at every call.

    Raises
    ------
    ImportError
        When plotly is not installed.
    """
    try:
        import plotly.graph_objects as go
    except ImportError as error:
        raise ImportError('plotly is not installed: pip install "vanwater[lab]"') from error
    return go.Figure(figure(chart, us))


def _traces(sheet: Sheet, draw: object, group: str) -> Iterator[dict[str, Any]]:
    """A curve with its band and its end, which a click on its name hides together; a mark."""
    if isinstance(draw, Line):
        x, style = _list(sheet.across(draw.x)), ROLES[draw.role]
        beside = {"legendgroup": group, "showlegend": False, "hoverinfo": "skip"}
        if draw.low is not None and draw.high is not None:
            band = {"type": "scatter", "mode": "lines", "x": x, "line": {"width": 0}} | beside
            yield band | {"y": _list(sheet.up(draw.low))}
            yield band | {
                "y": _list(sheet.up(draw.high)),
                "fill": "tonexty",
                "fillcolor": f"rgba({_rgb(draw.role)},0.17)",
            }
        dash = ",".join(f"{length * _PIXELS:.3g}px" for length in style.dash) or "solid"
        line = {"color": style.colour, "width": style.width * _PIXELS, "dash": dash}
        told: dict[str, Any] = {"hovertemplate": _hover(sheet, draw.label), "legendgroup": group}
        name = words(draw.label, "plotly", sheet.us)
        told |= {"name": name} if name else {"showlegend": False}
        yield {"type": "scatter", "mode": "lines", "x": x, "y": _list(sheet.up(draw.y)), "line": line} | told
        yield _dot(sheet, draw.role, *draw.end, 6.0) | beside
    elif isinstance(draw, Mark):
        told = {"hovertemplate": _hover(sheet, draw.label), "showlegend": False}
        yield _dot(sheet, draw.role, draw.x, draw.y, 9.0) | told


def _dot(sheet: Sheet, role: Role, x: float, y: float, size: float) -> dict[str, Any]:
    marker = {"symbol": ROLES[role].symbol, "size": size, "color": ROLES[role].colour}
    return {
        "type": "scatter",
        "mode": "markers",
        "x": _list(sheet.across(x)),
        "y": _list(sheet.up(y)),
        "marker": marker,
    }


def _bars(sheet: Sheet, bars: Bars, offset: float, high: float) -> dict[str, Any]:
    values, quantity = _reached(sheet, bars.values), sheet.chart.x.quantity
    starts = _reached(sheet, np.zeros_like(values) if bars.start is None else bars.start)
    hatched = sum(not each.pale for each in sheet.chart.bars) > 1 and not bars.pale
    kind = f", {words(bars.label, 'plotly', sheet.us)}" if bars.label else ""
    names = [f"{words(name, 'plotly', sheet.us)}{kind}" for name in bars.names]
    trace: dict[str, Any] = {
        "type": "bar",
        "orientation": "h",
        "x": _list(values - starts),
        "base": _list(starts),
        "y": _list(np.arange(len(names), dtype=np.float64) + offset),
        "width": high,
        "marker": {
            "color": [ROLES[role].colour for role in bars.roles],
            "opacity": 0.35 if bars.pale else 1.0,
            "pattern": {
                "shape": [ROLES[role].pattern if hatched else "" for role in bars.roles],
                "size": 6,
                "solidity": 0.2,
                "fgcolor": PAPER,
                "fillmode": "overlay",
            },
        },
        "hovertext": [f"{name}: {text}" for name, text in zip(names, value_texts(sheet, bars), strict=True)],
        "hoverinfo": "text",
    }
    if bars.low is not None and bars.high is not None and quantity is not None:
        above = np.maximum(_reached(sheet, bars.high) - values, 0.0)
        below = np.maximum(values - _reached(sheet, bars.low), 0.0)
        look = {"type": "data", "symmetric": False, "color": INK, "thickness": 1.3, "width": 0}
        trace["error_x"] = look | {"array": _list(above), "arrayminus": _list(below)}
    return trace


def _reached(sheet: Sheet, ends: Array) -> Array:
    """Ends of bars in the display unit: as they are, only endless and unknown ones kept in sight."""
    return np.where(np.isfinite(ends), sheet.across(ends), sheet.within(ends))


def _axis(axis: Axis, shown: Span, us: bool) -> dict[str, Any]:
    return {
        "title": {"text": axis.text(us), "font": {"size": 11, "color": FAINT}, "standoff": 6},
        "range": [_round(shown.low), _round(shown.high)],
        "gridcolor": GRID,
        "zerolinecolor": FAINT,
        "tickfont": {"size": 11, "color": FAINT},
        "nticks": 7,
        "separatethousands": True,
    }


def _edge(bars: bool) -> dict[str, Any]:
    """Bars stand on the line at zero, curves on the lower edge."""
    return {"showgrid": bars, "zeroline": bars, "showline": not bars, "linecolor": FAINT}


def _rule(sheet: Sheet, draw: Rule) -> dict[str, Any]:
    style = ROLES[draw.role]
    dash = ",".join(f"{length * _PIXELS:.3g}px" for length in style.dash)
    look = {"type": "line", "line": {"color": style.colour, "width": 1.2, "dash": dash}}
    if draw.x is not None:
        (x,) = _list(sheet.across(draw.x))
        return look | {"x0": x, "x1": x, "y0": 0, "y1": 1, "yref": "paper"}
    (y,) = _list(sheet.up(draw.y or 0.0))
    return look | {"x0": 0, "x1": 1, "y0": y, "y1": y, "xref": "paper"}


def _word(sheet: Sheet, word: Word) -> dict[str, Any]:
    """Words at what they name, or at the plot's nearest edge, moved by as many pixels as on the sheet."""
    text = "<br>".join(plain(line, "plotly") for line in word.lines)
    if word.swatch is not None:
        text = f'<span style="color:{ROLES[word.swatch].colour}">{"□" if word.pale else "■"}</span> {text}'
    x, y = word.tip or (min(max(word.x, sheet.left), sheet.right), min(max(word.y, sheet.bottom), sheet.top))
    across, up = (x - sheet.left) / (sheet.right - sheet.left), (y - sheet.bottom) / (sheet.top - sheet.bottom)
    note = {
        "text": f"<b>{text}</b>" if word.bold else text,
        "font": {"size": round(word.size * _PIXELS), "color": word.colour},
        "align": word.align,
        "xanchor": word.align,
        "yanchor": "middle",
        "showarrow": word.lead is not None,
        "borderpad": 0,
    }
    note |= _place("x", across, sheet.x) if word.tip else {"xref": "paper", "x": _round(across)}
    note |= _place("y", up, sheet.y) if word.tip and y < sheet.top else {"yref": "paper", "y": _round(up)}
    right, high = (word.x - x) * _PIXELS, (word.y - y) * _PIXELS
    if word.lead is not None:
        lead = {"arrowhead": 0, "arrowwidth": 0.7, "arrowcolor": word.colour, "standoff": 4}
        return note | lead | {"ax": round(right, 1), "ay": round(-high, 1)}
    return note | {"xshift": round(right - (14 if word.swatch else 0), 1), "yshift": round(high, 1)}


def _place(name: str, share: float, shown: Span) -> dict[str, Any]:
    ends = sorted((_round(shown.low), _round(shown.high)))  # a note a hair outside would be hidden
    return {f"{name}ref": name, name: min(max(_round(shown.low + share * (shown.high - shown.low)), ends[0]), ends[1])}


def _hover(sheet: Sheet, label: Words) -> str:
    """What a pointer is told: the name, both numbers with their units."""
    along, up = sheet.chart.x.quantity, sheet.chart.y.quantity
    texts = [plain(quantity.unit(sheet.us), "plotly") if quantity else "" for quantity in (up, along)]
    name = words(label, "plotly", sheet.us)
    numbers = f"%{{y:,.3~r}} {texts[0]} at %{{x:,.3~r}} {texts[1]}"
    return f"{name}<br>{numbers}<extra></extra>" if name else f"{numbers}<extra></extra>"


def _list(values: Array | float) -> list[float | None]:
    return [_round(value) if np.isfinite(value) else None for value in np.atleast_1d(values).tolist()]


def _round(value: float) -> float:
    return float(f"{value:.{_DIGITS}g}")


def _rgb(role: Role) -> str:
    colour = ROLES[role].colour
    return ",".join(str(int(colour[start : start + 2], 16)) for start in (1, 3, 5))
