"""Charts as inline SVG, checked before they are trusted."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from vanwater.answers.core.chart import Chart
from vanwater.document.words import Words
from vanwater.figures.drawing import drawing

__all__ = ["Picture", "inline", "pictures"]

WIDE, HIGH = 380.0, 205.0
"""Points of a chart with curves: paper shows it a little larger, a telephone smaller."""

_MANY, _ROW, _AROUND = 6, 18.0, 92.0
"""From so many bars on each takes so many points, beside title, names of the colours and axis."""

_SVG = "{http://www.w3.org/2000/svg}"
_TAGS = frozenset(
    {"svg", "g", "defs", "title", "desc", "style", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon"}
    | {"use", "symbol", "marker", "clipPath", "text", "tspan", "linearGradient", "radialGradient", "stop", "pattern"}
)
_OUTSIDE = re.compile(r"url\(\s*['\"]?(?!#)|@import|expression\(|javascript:", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Picture:
    """A chart, ready for the page.

    Parameters
    ----------
    key : str
        The chart's name.
    svg : Markup
        The drawing.
    sentence : Markup
        The same in words.
    """

    key: str
    svg: Markup
    sentence: Markup


def pictures(charts: Sequence[Chart], words: Words) -> tuple[Picture, ...]:
    """Draw charts for a page.

    Parameters
    ----------
    charts : sequence of Chart
        What to draw.
    words : Words
        What writes the sentence below, and says which units are drawn.

    Returns
    -------
    tuple of Picture
        In the same order.
    """
    return tuple(
        Picture(chart.key, inline(drawing(chart, words.us, WIDE, _high(chart))), words(chart.sentence))
        for chart in charts
    )


def _high(chart: Chart) -> float | None:
    """How high a drawing is: few bars as they need, many closer."""
    if not chart.bars:
        return HIGH
    rows = len(chart.bars[0].names)
    side_by_side = sum(bars.start is None for bars in chart.bars) > 1
    return None if rows < _MANY or side_by_side else _AROUND + _ROW * rows


def inline(svg: str) -> Markup:
    """An SVG text as a part of a page, if it is nothing but a drawing.

    Parameters
    ----------
    svg : str
        One svg element.

    Returns
    -------
    Markup
        The same element without prolog, as wide as the page allows.

    Raises
    ------
    ValueError
        When it is no well-formed SVG, or holds a script, a handler, or a reference to something outside.
    """
    start = svg.find("<svg")
    try:
        root = ET.fromstring(svg[max(start, 0) :])
    except ET.ParseError as error:
        raise ValueError(f"a drawing is no well-formed SVG: {error}") from None
    for element in root.iter():
        tag = str(element.tag)
        if not tag.startswith(_SVG) or tag.removeprefix(_SVG) not in _TAGS:
            raise ValueError(f"a drawing holds <{tag.rpartition('}')[2]}>, which is no part of one")
        for name, value in element.attrib.items():
            local = name.rpartition("}")[2]
            if (
                local.lower().startswith("on")
                or (local == "href" and not value.startswith("#"))
                or _OUTSIDE.search(value)
            ):
                raise ValueError(f'a drawing holds {local}="{value[:40]}", which leads outside')
        if tag == f"{_SVG}style" and _OUTSIDE.search(element.text or ""):
            raise ValueError("a drawing's style leads outside")
    return Markup(svg[start:].strip())
