"""The shapes of the pieces of a plumbing drawing, about their centre.

Pump, valve, check valve and filter are drawn as the symbols for diagrams are (ISO 14617 parts 5, 8, 9 and 11, from
memory: a circle with a triangle that points with the flow, two triangles tip to tip, a triangle against a bar, a
diamond with a dashed screen); tank, heater, accumulator, mixing tap and outlet are plain labelled shapes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["SYMBOLS", "Symbol"]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A shape, the water coming from the left.

    Parameters
    ----------
    width, height : float
        Its size in points; lines end at its left and right edge.
    outline : str
        Path that is filled with the paper and stroked.
    solid : str
        Path that is filled with the ink.
    dashed : str
        Path that is stroked dashed.
    says : str
        What it is, for the list of symbols.
    """

    width: float
    height: float
    outline: str
    solid: str = ""
    dashed: str = ""
    says: str = ""


SYMBOLS: Mapping[str, Symbol] = {
    "tank": Symbol(66, 40, "M-33,-20H33V20H-33z", says="tank"),
    "pump": Symbol(32, 32, "M-16,0a16,16 0 1,0 32,0a16,16 0 1,0 -32,0z", "M-9,-11.5L14,0L-9,11.5z", says="pump"),
    "mains": Symbol(30, 26, "M-15,-13H5L15,0L5,13H-15z", says="inlet for a campsite's water"),
    "accumulator": Symbol(
        22, 36, "M-11,-9a11,9 0 0,1 22,0V9a11,9 0 0,1 -22,0zM-11,2Q-5,-5 0,2T11,2", says="accumulator"
    ),
    "heater": Symbol(
        56, 44, "M-28,-22H28V22H-28zM-20,8l5,-14l5,14l5,-14l5,14l5,-14l5,14l5,-14l5,14", says="water heater"
    ),
    "tee": Symbol(8, 8, "", "M-4,0a4,4 0 1,0 8,0a4,4 0 1,0 -8,0z", says="tee or manifold"),
    "mixer": Symbol(30, 40, "M-15,-20L0,0L-15,20zM15,-8L0,0L15,8z", says="mixing tap"),
    "thermostatic mixer": Symbol(
        30,
        40,
        "M-15,-20L0,0L-15,20zM15,-8L0,0L15,8zM0,0V-12M-4,-16a4,4 0 1,0 8,0a4,4 0 1,0 -8,0z",
        says="thermostatic mixing valve",
    ),
    "outlet": Symbol(26, 26, "M-13,-3H3a9,9 0 0,1 9,9V9H4V7a3,3 0 0,0 -3,-3H-13zM-4,-3V-9M-9,-9H1", says="outlet"),
    "strainer": Symbol(22, 22, "M-11,0L0,-11L11,0L0,11z", dashed="M0,-11V11", says="strainer"),
    "filter": Symbol(26, 22, "M-13,0L0,-11L13,0L0,11z", dashed="M-4,-8V8M4,-8V8", says="filter"),
    "check valve": Symbol(20, 18, "M-10,-9L9,0L-10,9z", "M8,-9h2.5v18h-2.5z", says="check valve, opens with the flow"),
    "valve": Symbol(24, 16, "M-12,-8L12,8V-8L-12,8z", says="valve"),
    "trap": Symbol(24, 24, "M-12,-8V2a8,8 0 0,0 16,0V-8H10M-6,-8V2a2,2 0 0,0 4,0V-12H10", says="trap"),
    "meter": Symbol(24, 24, "M-12,0a12,12 0 1,0 24,0a12,12 0 1,0 -24,0zM-6,5L6,-6", says="water meter"),
    "uv": Symbol(30, 16, "M-15,-8H15V8H-15zM-8,0H8M-5,-4L-2,4M3,-4L6,4", says="UV lamp"),
    "connector": Symbol(20, 16, "M-10,-8H-2V8H-10zM10,-8H2V8H10zM-2,0H2", says="coupling that is taken apart"),
    "own": Symbol(22, 18, "M-11,-9H11V9H-11z", says="fitting of the builder's own"),
}
"""By kind of piece."""
