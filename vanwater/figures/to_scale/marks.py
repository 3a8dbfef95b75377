"""Parts without sides, drawn as small marks about their place, and the mark of a centre of mass.

A mark is never to scale: the place is its middle. Symbols are those of the plumbing drawing; a tank or heater whose
sides nobody says is a crossed box, so that nobody measures it.
"""

from __future__ import annotations

from vanwater.figures.roles import tone
from vanwater.figures.schematic.placing import Point
from vanwater.figures.schematic.room import Area
from vanwater.figures.schematic.symbols import SYMBOLS, Symbol
from vanwater.figures.to_scale.parts import Placed
from vanwater.figures.to_scale.scale import n

__all__ = ["CENTRE", "area", "centre", "mark"]

_SIZE = 0.36
"""Of a symbol of the plumbing drawing, here."""

CENTRE = 4.5
"""Half the width of the mark of a centre of mass [pt]."""

_OWN = {
    "unsized": Symbol(26, 26, "M-13,-13H13V13H-13zM-13,-13L13,13M-13,13L13,-13"),
    "filler": Symbol(22, 22, "M-11,0a11,11 0 1,0 22,0a11,11 0 1,0 -22,0z", "M-6,-5H6L0,7z"),
    "drain": Symbol(22, 22, "M-11,-11H11V11H-11z", "M-6,-5H6L0,7z"),
}


def _symbol(part: Placed) -> Symbol:
    if part.kind in _OWN:
        return _OWN[part.kind]
    return _OWN["unsized"] if part.kind in ("tank", "heater") else SYMBOLS[part.kind]


def area(part: Placed, spot: Point) -> Area:
    """What the mark of a part covers.

    Parameters
    ----------
    part : Placed
        The part.
    spot : (float, float)
        Its place on the sheet.

    Returns
    -------
    Area
        About it.
    """
    symbol = _symbol(part)
    half, high = (max(2.5, _SIZE * side / 2) + 0.6 for side in (symbol.width, symbol.height))
    return Area(spot[0] - half, spot[1] - high, spot[0] + half, spot[1] + high)


def mark(part: Placed, spot: Point, hidden: bool) -> str:
    """The mark of a part.

    Parameters
    ----------
    part : Placed
        The part.
    spot : (float, float)
        Its place on the sheet.
    hidden : bool
        Whether it is drawn dashed.

    Returns
    -------
    str
        An element of SVG.
    """
    symbol = _symbol(part)
    dashed = ' stroke-dasharray="5 3"' if hidden else ""
    colour = tone("fresh" if part.holds == "fresh" else "grey") if part.holds else ""
    shapes = ""
    if symbol.outline:
        look = f'fill="{tone("paper")}" stroke="{tone("ink")}" stroke-width="2.2"{dashed}'
        shapes += f'<path d="{symbol.outline}" {look}/>'
    if colour:
        shapes += f'<path d="{symbol.outline}" fill="{colour}" fill-opacity="0.3"/>'
    if symbol.solid:
        larger = 1.6 if part.kind == "tee" else 1.0
        shapes += f'<path transform="scale({larger})" d="{symbol.solid}" fill="{tone("ink")}"/>'
    return f'<g transform="translate({n(spot[0])} {n(spot[1])}) scale({_SIZE})">{shapes}</g>'


def centre(spot: Point) -> str:
    """The mark of a centre of mass: a circle of four quarters, two of them black.

    Parameters
    ----------
    spot : (float, float)
        Its place on the sheet.

    Returns
    -------
    str
        An element of SVG.
    """
    r = n(CENTRE)
    ink = tone("ink")
    return (
        f'<g class="vw-centre" transform="translate({n(spot[0])} {n(spot[1])})">'
        f'<circle r="{r}" fill="{tone("paper")}" stroke="{ink}" stroke-width="0.8"/>'
        f'<path d="M0,0V-{r}A{r},{r} 0 0,1 {r},0zM0,0V{r}A{r},{r} 0 0,1 -{r},0z" fill="{ink}"/></g>'
    )
