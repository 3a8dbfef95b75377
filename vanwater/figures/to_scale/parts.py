"""The records of a drawing to scale: placed parts, centres of mass, the whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from vanwater.answers.core.number import Number

__all__ = ["AXES", "VIEWS", "Axis", "Centre", "Placed", "Van", "View"]

Axis: TypeAlias = Literal["x", "y", "z"]
"""Behind the front axle, right of the centre line, above the van's floor."""

AXES: tuple[Axis, ...] = ("x", "y", "z")

View: TypeAlias = Literal["side", "plan"]

VIEWS: Mapping[View, tuple[Axis, Axis]] = {"side": ("x", "z"), "plan": ("x", "y")}
"""What each view shows along the sheet, and up it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A part of the van with what the plan says of its place.

    Parameters
    ----------
    key : str
        Its address in the plan.
    tag : str
        Its number, as on the plumbing drawing; with a letter for filler and drain of a tank.
    kind : str
        "tank", "pump", "filler" ...: how it is drawn.
    name, what : str
        As the plan calls it; what it is.
    at : mapping of str to Number
        Its centre along the axes, upwards its floor; those that the plan says.
    sides : mapping of str to Number
        Its sides along the axes; all three, or none.
    round : {"", "x", "y", "z"}
        The axis of a cylinder.
    holds : str
        Of a tank: what it holds.
    lacks : tuple of str
        Addresses at which its place would stand.
    unsized : tuple of str
        Addresses at which its sides would stand.
    count : int
        How many it is; of several nobody says how they stand, so they have no sides.
    """

    key: str
    tag: str
    kind: str
    name: str
    what: str
    at: Mapping[Axis, Number]
    sides: Mapping[Axis, Number] = field(default_factory=dict)
    round: Literal["", "x", "y", "z"] = ""
    holds: str = ""
    lacks: tuple[str, ...] = ()
    unsized: tuple[str, ...] = ()
    count: int = 1

    def seen(self, view: View) -> bool:
        """Whether its place in a view is known."""
        return all(axis in self.at for axis in VIEWS[view])

    def centre(self, axis: Axis) -> float:
        """Its middle along an axis, where that is known [m]."""
        low, high = self.span(axis)
        return 0.5 * (low + high)

    def span(self, axis: Axis) -> tuple[float, float]:
        """From where to where it reaches along an axis, where that is known [m]."""
        at = self.at[axis].likely
        side = self.sides[axis].likely if axis in self.sides else 0.0
        return (at, at + side) if axis == "z" else (at - side / 2, at + side / 2)

    @property
    def below(self) -> bool:
        """Whether all of it lies under the van's floor, as far as that is known."""
        if "z" not in self.at:
            return False
        low, high = self.span("z")
        return low < 0.0 and high <= 0.0


@dataclass(frozen=True, slots=True)
class Centre:
    """The centre of mass of the water in a state of the trip.

    Parameters
    ----------
    tag, words : str
        Its sign on the drawing, and the state.
    behind, right : Number or None
        Where it lies, as the answer on weight tells it.
    """

    tag: str
    words: str
    behind: Number
    right: Number | None


@dataclass(frozen=True, slots=True)
class Van:
    """What is drawn to scale, and what the plan says no place of.

    Parameters
    ----------
    parts : tuple of Placed
        In the order of their numbers.
    lengths : mapping of str to Number
        The vehicle's own that the plan says, by their fields.
    lacks : tuple of str
        Addresses of those that it does not say.
    centres : tuple of Centre
        Of the water, state by state.
    """

    parts: tuple[Placed, ...]
    lengths: Mapping[str, Number]
    lacks: tuple[str, ...]
    centres: tuple[Centre, ...]

    @property
    def drawn(self) -> bool:
        """Whether any part has a place in a view."""
        return any(part.seen(view) for part in self.parts for view in VIEWS)

    def length(self, name: str) -> float | None:
        """One of the vehicle's lengths [m]."""
        return self.lengths[name].likely if name in self.lengths else None
