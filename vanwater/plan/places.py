"""Where something sits: one way of saying it for every part, from the front axle, the centre line and the floor."""

from __future__ import annotations

from typing import Annotated

from vanwater.plan.part import Part, asked
from vanwater.quantities import LENGTH

__all__ = ["ACROSS", "ALONG", "Across", "Along", "Height", "Opening"]

Along = Annotated[float, LENGTH.within("-2 m", "10 m")]
Across = Annotated[float, LENGTH.within("-2 m", "2 m")]
Height = Annotated[float, LENGTH.within("-3 m", "5 m")]

ALONG, ACROSS = "centre, behind the front axle", "centre, right of the centre line"
"""What x and y mean of every part."""


class Opening(Part):
    """Where water goes into a tank or out of it by itself: the filler in the wall, the drain."""

    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Height | None = asked("centre, above the van's floor")
