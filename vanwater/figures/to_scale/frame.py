"""From metres in the van to points on the sheet: one scale, side and plan view under each other with one axis."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from vanwater.figures.schematic.placing import Point
from vanwater.figures.to_scale.parts import VIEWS, Axis, Placed, Van, View

__all__ = ["Extent", "Frame", "extent"]

_LEAST = 0.5  # of an extent, so that one part alone is drawn too [m]


@dataclass(frozen=True, slots=True)
class Extent:
    """What of the van is drawn, along an axis [m].

    Parameters
    ----------
    low, high : float
        Its ends.
    """

    low: float
    high: float

    @property
    def length(self) -> float:
        """From end to end."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class Frame:
    """A view on the sheet.

    Parameters
    ----------
    view : {"side", "plan"}
        Which.
    along, up : Extent
        What it shows along the sheet and up it.
    left, top : float
        Its corner [pt].
    points : float
        Points for a metre.
    """

    view: View
    along: Extent
    up: Extent
    left: float
    top: float
    points: float

    @property
    def right(self) -> float:
        """Its right edge [pt]."""
        return self.left + self.along.length * self.points

    @property
    def bottom(self) -> float:
        """Its lower edge [pt]."""
        return self.top + self.up.length * self.points

    def across(self, along: float) -> float:
        """Where on the sheet a place behind the front axle lies [pt]."""
        return self.left + (along - self.along.low) * self.points

    def down(self, up: float) -> float:
        """Where on the sheet a place up this view lies [pt]."""
        return self.top + (self.up.high - up) * self.points

    def spot(self, part: Placed) -> Point:
        """The middle of a part that this view shows; of one without sides its place."""
        along, up = VIEWS[self.view]
        return self.across(part.centre(along)), self.down(part.centre(up))

    def corners(self, part: Placed) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of a part with sides."""
        along, up = (part.span(axis) for axis in VIEWS[self.view])
        return self.across(along[0]), self.down(up[1]), self.across(along[1]), self.down(up[0])


def extent(van: Van, axis: Axis) -> Extent:
    """What of the van is drawn along an axis: its parts, its axles and its outside, as far as they are known.

    Parameters
    ----------
    van : Van
        What is drawn.
    axis : {"x", "y", "z"}
        The axis.

    Returns
    -------
    Extent
        Never empty.
    """
    shown = [view for view, axes in VIEWS.items() if axis in axes]
    places = [end for part in van.parts if any(part.seen(view) for view in shown) for end in part.span(axis)]
    places += _of_vehicle(van, axis)
    if axis == "x":
        places += [centre.behind.likely for centre in van.centres]
    if axis == "y":
        places += [centre.right.likely for centre in van.centres if centre.right is not None]
    low, high = min((0.0, *places)), max((0.0, *places))
    wider = max(0.0, _LEAST - (high - low)) / 2
    return Extent(low - wider, high + wider)


def _of_vehicle(van: Van, axis: Axis) -> Iterator[float]:
    """Places of the vehicle itself along an axis."""
    base, wheel, ahead, long = (van.length(name) for name in ("wheelbase", "wheel", "front_overhang", "length"))
    floor, high = van.length("floor"), van.length("height")
    if axis == "x":
        yield from (axle + side * (wheel or 0.0) / 2 for axle in (0.0, base or 0.0) for side in (-1, 1))
        if ahead is not None:
            yield -ahead
            if long is not None:
                yield long - ahead
    elif axis == "y":
        for wide in (van.length("track"), van.length("width")):
            if wide is not None:
                yield from (-wide / 2, wide / 2)
    elif floor is not None:
        yield -floor
        if wheel is not None:
            yield wheel - floor
        if high is not None:
            yield high - floor
