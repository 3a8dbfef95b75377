"""Fresh, grey and toilet tanks: shape, pick-up, overflow, and where they sit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Literal

from pydantic_core import PydanticCustomError

from vanwater.physics import vessel
from vanwater.plan.joint import Connection
from vanwater.plan.part import Stocked, Whole, above, asked, such_as, wrong
from vanwater.plan.places import ACROSS, ALONG, Across, Along, Opening
from vanwater.plan.winter import Beside, Face, Foam, FoamConductivity
from vanwater.quantities import LENGTH, TEMPERATURE, THICKNESS, VOLUME, Array, Length, Real, Share

__all__ = ["HOLDS", "LESS", "MORE", "SIDES", "Tank", "content", "label_of"]

HOLDS = ("fresh", "grey", "urine", "cassette")
"""What a tank may hold."""

SIDES = {
    "box": ("length", "width", "height"),
    "lying cylinder": ("length", "diameter"),
    "standing cylinder": ("height", "diameter"),
}
"""Sides that a tank of each shape has."""

MORE = 0.05
"""Share by which a capacity may lie above what the inside sides hold: litres rounded up, sides rounded down (common
practice)."""

LESS = 0.15
"""Share by which it may lie below: rounded edges, recesses and feet of a moulded tank, litres rated to the filler
(common practice). The lesser of the two counts."""


def content(shape: str, level: Real, sides: Mapping[str, Real]) -> Array:
    """Water in a tank that stands level, up to a level.

    Parameters
    ----------
    shape : str
        One of ``SIDES``.
    level : float or array
        Above the tank's floor [m].
    sides : mapping of str to float or array
        Its inside sides, as ``SIDES`` names them [m].

    Returns
    -------
    array
        Content [m³].
    """
    if shape == "box":
        return vessel.box_volume(level, sides["length"], sides["width"])
    if shape == "lying cylinder":
        return vessel.horizontal_cylinder_volume(level, sides["diameter"], sides["length"])
    return vessel.vertical_cylinder_volume(level, sides["diameter"])


Side = Annotated[float, LENGTH.within("2 cm", "4 m")]
Inside = Annotated[float, LENGTH.within("0 m", "4 m")]


class Tank(Stocked):
    """A tank, container or can; a row of equal ones counts as one."""

    holds: Literal["fresh", "grey", "urine", "cassette"] = asked("what it holds", ...)
    count: Whole = asked("how many equal ones", 1, ge=1, le=20)
    capacity: Annotated[float, VOLUME.within("0.5 L", "1000 L")] | None = asked(
        "volume of one, brim full; where its sides hold less, theirs counts"
    )
    shape: Literal["box", "lying cylinder", "standing cylinder"] = asked(
        "box, lying cylinder or standing cylinder", "box"
    )
    lies: Literal["along", "across"] | None = asked(
        "how a lying cylinder lies, along the van or across; along if not said"
    )
    length: Side | None = asked("inside length along the van, of a lying cylinder along its axis")
    width: Side | None = asked("inside width across the van")
    height: Side | None = asked("inside height")
    diameter: Side | None = asked("inside diameter of a cylinder")
    pickup: Inside = asked("height of the pick-up's mouth above the tank's floor", 0.0)
    pickup_from_front: Inside | None = asked("pick-up behind the tank's front wall; the middle if not said")
    pickup_from_left: Inside | None = asked("pick-up from the tank's left wall; the middle if not said")
    overflow: Inside | None = asked("height of the overflow or vent above the tank's floor; the top if not said")
    out_of_reach: Annotated[float, VOLUME.within("0 L", "200 L")] | None = asked(
        "water measured out of reach, instead of the sum"
    )
    filled: Share | None = asked("how full at departure; full for fresh, empty for the others if not said")
    refills: str | None = asked("tank into which this one is emptied on the way (jerry cans)")
    wall: Annotated[float, such_as(THICKNESS.within("0.5 mm", "50 mm"), "5 mm")] | None = asked(
        "thickness of its wall; 5 mm if not said"
    )
    material: str | None = asked("material of its wall, a row of the table of materials; polyethylene if not said")
    foam: Foam | None = asked("insulation all around, where no face says otherwise")
    foam_conductivity: FoamConductivity | None = asked("of that insulation; 0.037 W/mK if not said")
    beside: Beside | None = asked(
        "what lies beside it: outside, box or room; outside for a tank under the floor, room for one above"
    )
    faces: dict[Literal["top", "bottom", "front", "rear", "left", "right"], Face] = asked(
        "faces that differ from the others", {}
    )
    temperature: Annotated[float, such_as(TEMPERATURE.within("0.5 °C", "40 °C"), "8 °C")] | None = asked(
        "temperature of its water, where it is known; else it follows filling, air, box and pad"
    )
    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Length | None = asked("tank's floor above the van's floor")
    filler: Opening | None = asked("where it is filled: the inlet in the wall")
    drain: Opening | None = asked("where it is emptied: the drain's mouth")
    joint: Connection | None = asked("what the connection of its pick-up is")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether shape, sides and capacity make one tank, with its pick-up and overflow inside."""
        yield from self._sides()
        top = self.inside_height
        if top is not None:
            for name, word in (("pickup", "pick-up"), ("overflow", "overflow")):
                value = getattr(self, name)
                if value is not None and above(value, top):
                    about = ("shape", "height", "diameter")
                    yield wrong(name, f"The {word} lies above the tank's top.", "a height inside the tank", about=about)
        if self.overflow is not None and not above(self.overflow, self.pickup):
            yield wrong(
                "overflow",
                "The overflow lies at or below the pick-up.",
                "an overflow above the pick-up",
                "Are the two swapped?" if above(self.pickup, self.overflow) else "",
                ("pickup",),
            )
        yield from self._reach()
        yield from self._litres()

    def _litres(self) -> Iterator[PydanticCustomError]:
        """Whether its capacity and what its sides hold are the same tank."""
        held = self._held(self.inside_height)
        if held is None or self.capacity is None:
            return
        sides = SIDES[self.shape]
        each = ", ".join(f"{side} {LENGTH.text(getattr(self, side))}" for side in sides)
        told = f"The capacity is {VOLUME.text(self.capacity)}, but the inside sides ({each}) hold {VOLUME.text(held)}."
        if above(self.capacity, (1.0 + MORE) * held):
            slip = ""
        elif above((1.0 - LESS) * held, self.capacity):
            slip = "Were the sides measured outside? Inside they are shorter by the wall on both sides."
        else:
            return
        yield wrong("capacity", told, "capacity and sides of the same tank, or one of the two", slip, sides)

    def _held(self, level: float | None) -> float | None:
        """What its sides hold up to a level [m³]; None where they are not all known."""
        sides = {side: value for side in SIDES[self.shape] if (value := getattr(self, side)) is not None}
        if level is None or len(sides) < len(SIDES[self.shape]):
            return None
        return float(content(self.shape, level, sides))

    def _reach(self) -> Iterator[PydanticCustomError]:
        along, across = self.footprint
        for name, wall, side in (("pickup_from_front", "rear", along), ("pickup_from_left", "right", across)):
            value, inside = getattr(self, name), getattr(self, side)
            if value is not None and inside is not None and above(value, inside):
                told = f"The pick-up lies beyond the tank's {wall} wall."
                yield wrong(name, told, f"at most its {side}", about=(side,))
        if self.out_of_reach is not None and self.capacity is not None and not above(self.capacity, self.out_of_reach):
            told = "More is out of reach than the tank holds."
            yield wrong("out_of_reach", told, "less than its capacity", about=("capacity",))

    def _sides(self) -> Iterator[PydanticCustomError]:
        sides = SIDES[self.shape]
        about = ("shape", "capacity", "length", "width", "height", "diameter")
        given = [side for side in about[2:] if getattr(self, side) is not None]
        all_of = f"{', '.join(sides[:-1])} and {sides[-1]}"
        if self.lies is not None and self.shape != "lying cylinder":
            yield wrong("lies", f"A {self.shape} does not lie.", 'shape = "lying cylinder"', about=("shape",))
        for side in given:
            if side not in sides:
                yield wrong(side, f"A {self.shape} has no {side}.", all_of, about=("shape",))
        missing = [side for side in sides if side not in given]
        if not given and self.capacity is None:
            expected = f'capacity = "{VOLUME.told("75 L")}", or {all_of}'
            yield wrong("capacity", "The tank says neither its capacity nor its sides.", expected, about=about)
        elif missing and (given or self.shape != "box"):
            yield wrong(missing[0], f"The {self.shape} says no {' and no '.join(missing)}.", all_of, about=about)

    def capped(self, field: str) -> tuple[str, str] | None:
        """Whether its capacity or what its sides hold is the lesser, while the other one is changed."""
        top = self.inside_height
        if top is None or self.capacity is None:
            return None
        held = self._held(top if self.overflow is None else self.overflow)
        if held is None:
            return None
        if field == "capacity" and above(self.capacity, held):
            return "sides", f"to its overflow the inside sides hold less, {VOLUME.said(held)}."
        if field in (*SIDES[self.shape], "shape", "overflow") and above(held, self.capacity):
            return "capacity", f"it holds its capacity, {VOLUME.said(self.capacity)}."
        return None

    @property
    def footprint(self) -> tuple[str, str]:
        """The sides that it takes up along and across the van."""
        if self.shape == "box":
            return "length", "width"
        if self.shape == "standing cylinder":
            return "diameter", "diameter"
        return ("diameter", "length") if self.lies == "across" else ("length", "diameter")

    @property
    def inside_height(self) -> float | None:
        """Inside height [m], if the sides are known."""
        return self.diameter if self.shape == "lying cylinder" else self.height


def label_of(tank: str) -> str:
    """What a tank is called in a sentence: its name, with the word tank where the name has no such word.

    Parameters
    ----------
    tank : str
        Its name in the plan.

    Returns
    -------
    str
        Such as "fresh tank" or "spare can".
    """
    words = ("tank", "can", "cans", "container", "cassette", "canister", "barrel", "bag", "bottle")
    return tank if any(word in words for word in tank.lower().split()) else f"{tank} tank"
