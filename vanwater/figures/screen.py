"""The pen for the screen: a chart as a plotly figure, to zoom and to read values off by pointing.

At most one such figure belongs in a notebook, each brings 5 MB of script; small charts that follow a slider are
drawn by :func:`vanwater.figures.paper.svg`.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark, Role, Rule, Words, words
from vanwater.answers.core.escaping import plain
from vanwater.figures.labels import lay_out
from vanwater.figures.layout import Span
from vanwater.figures.roles import FAINT, GRID, INK, PAPER, ROLES
from vanwater.figures.sheet import Sheet, Word, bar_rows, value_texts
from vanwater.quantities import Array

__all__ = ["figure", "update", "widget"]

_PIXELS = 4 / 3  # a point on the screen
_DIGITS = 9
_HATCHING = {"size": 6, "solidity": 0.2, "fgcolor": PAPER, "fillmode": "overlay"}
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
    data = [trace for draw in chart.draws for trace in _traces(sheet, draw)]
    data += [_bars(sheet, *row) for row in bar_rows(chart)]
    margins = (sheet.left, sheet.width - sheet.right, sheet.height - sheet.top, sheet.bottom)
    layout = {
        "template": {"layout": {"modebar": {"remove": _REMOVED, "bgcolor": "rgba(255,255,255,0.8)"}}},
        "autosize": True,  # without it a widget is 700 pixels wide
        "height": round(sheet.height * _PIXELS),
        "margin": dict(zip("lrtb", (round(room * _PIXELS) for room in margins), strict=True)),
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "showlegend": False,
        "hovermode": "closest",
        "barmode": "overlay",
        "font": {"family": _FONT, "size": 11, "color": INK},
        "xaxis": _axis(chart.x, sheet.x, us) | _edge(bool(chart.bars)),
        "yaxis": _axis(chart.y, sheet.y, us) | {"title": {"text": ""}} | (_BARE if chart.bars else {}),
        "shapes": [_rule(sheet, draw) for draw in chart.draws if isinstance(draw, Rule)],
        "annotations": [_word(sheet, word) for word in sheet.words if not word.scale],
    }
    return {"data": data, "layout": layout}


def widget(chart: Chart, us: bool = False) -> Any:
    """A chart as a live plotly widget, complete when it is made.

    Parameters
    ----------
    chart : Chart
        What to draw.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    plotly.graph_objects.FigureWidget
        The widget; change it by :func:`update` only.
    """
    # plotly's jsonschema compiles a grammar for an address check that no figure needs, one second of its import
    sys.modules.setdefault("rfc3987_syntax", None)  # type: ignore[arg-type]
    import plotly.graph_objects as go

    return go.FigureWidget(figure(chart, us))


def update(shown: Any, chart: Chart, us: bool = False) -> None:
    """Let a widget show another chart, whole, in one message.

    Parameters
    ----------
    shown : plotly.graph_objects.FigureWidget
        The widget, made by :func:`widget`.
    chart : Chart
        What it shows from now on.
    us : bool
        US units instead of metric ones.
    """
    fresh = figure(chart, us)
    kinds = [(trace.type, trace.mode if trace.type == "scatter" else "") for trace in shown.data]
    if kinds == [(trace["type"], trace.get("mode", "")) for trace in fresh["data"]]:
        with shown.batch_update():
            for trace, new in zip(shown.data, fresh["data"], strict=True):
                trace.update(new, overwrite=True)
            shown.layout.update(fresh["layout"], overwrite=True)
    else:
        shown.data = ()
        shown.add_traces(fresh["data"])
        shown.layout.update(fresh["layout"], overwrite=True)
    # a page that is loaded again asks for these two, which plotly fills only once, when a widget is made
    shown._widget_data = deepcopy(shown._data)
    shown._widget_layout = deepcopy(shown._layout_obj._props)


def _traces(sheet: Sheet, draw: object) -> Iterator[dict[str, Any]]:
    if isinstance(draw, Line):
        x, style = _list(sheet.across(draw.x)), ROLES[draw.role]
        if draw.low is not None and draw.high is not None:
            band = {"type": "scatter", "mode": "lines", "x": x, "line": {"width": 0}, "hoverinfo": "skip"}
            yield band | {"y": _list(sheet.up(draw.low))}
            yield band | {
                "y": _list(sheet.up(draw.high)),
                "fill": "tonexty",
                "fillcolor": f"rgba({_rgb(draw.role)},0.17)",
            }
        dash = ",".join(f"{length * _PIXELS:.3g}px" for length in style.dash) or "solid"
        line = {"color": style.colour, "width": style.width * _PIXELS, "dash": dash}
        hover = {"hovertemplate": _hover(sheet, draw.label)}
        yield {"type": "scatter", "mode": "lines", "x": x, "y": _list(sheet.up(draw.y)), "line": line} | hover
        yield _dot(sheet, draw.role, *draw.end, 6.0) | {"hoverinfo": "skip"}
    elif isinstance(draw, Mark):
        yield _dot(sheet, draw.role, draw.x, draw.y, 9.0) | {"hovertemplate": _hover(sheet, draw.label)}


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
    values, quantity = sheet.within(bars.values), sheet.chart.x.quantity
    starts = sheet.within(np.zeros_like(values) if bars.start is None else bars.start)
    patterns = [ROLES[role].pattern if len(sheet.chart.bars) > 1 else "" for role in bars.roles]
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
            "pattern": {
                "shape": [pattern[:1] for pattern in patterns],
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
        above, below = sheet.within(bars.high) - values, values - sheet.within(bars.low)
        look = {"type": "data", "symmetric": False, "color": INK, "thickness": 1.3, "width": 0}
        trace["error_x"] = look | {"array": _list(above), "arrayminus": _list(below)}
    return trace


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
        text = f'<span style="color:{ROLES[word.swatch].colour}">■</span> {text}'
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
