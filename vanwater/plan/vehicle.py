"""The vehicle: its axles, what it weighs, what it may weigh, and what else rides in it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from pydantic_core import PydanticCustomError

from vanwater.plan.part import Part, above, asked, such_as, wrong
from vanwater.plan.places import ACROSS, ALONG, Across, Along
from vanwater.quantities import LENGTH, MASS

__all__ = ["Load", "Vehicle"]

Axle = Annotated[float, such_as(MASS.within("100 kg", "8000 kg"), "1450 kg")]
Total = Annotated[float, such_as(MASS.within("500 kg", "12000 kg"), "3500 kg")]


class Vehicle(Part):
    """Axles and sides: where they stand, what they were weighed at, what they may carry."""

    wheelbase: Annotated[float, such_as(LENGTH.within("1.5 m", "8 m"), "3.6 m")] | None = asked(
        "distance of the axles; of the first and the middle of the rear ones where there are three"
    )
    track: Annotated[float, such_as(LENGTH.within("1 m", "2.6 m"), "1.8 m")] | None = asked(
        "distance between the left and the right wheels"
    )
    wheel: Annotated[float, such_as(LENGTH.within("0.3 m", "1.2 m"), "0.7 m")] | None = asked(
        "outside diameter of a tyre"
    )
    floor: Annotated[float, such_as(LENGTH.within("0.1 m", "1.5 m"), "0.6 m")] | None = asked(
        "height of the van's floor above the road"
    )
    front_overhang: Annotated[float, such_as(LENGTH.within("0 m", "2 m"), "0.95 m")] | None = asked(
        "what of it lies before the front axle"
    )
    length: Annotated[float, such_as(LENGTH.within("2 m", "13 m"), "6 m")] | None = asked("its length over all")
    width: Annotated[float, such_as(LENGTH.within("1 m", "2.7 m"), "2.05 m")] | None = asked(
        "its width without mirrors"
    )
    height: Annotated[float, such_as(LENGTH.within("1 m", "4.5 m"), "2.6 m")] | None = asked(
        "its height above the road"
    )
    empty_front: Axle | None = asked("weighed front axle load, every tank dry, without people and loads")
    empty_rear: Axle | None = asked("weighed rear axle load, every tank dry, without people and loads")
    permitted_front: Axle | None = asked("permitted front axle load, from the vehicle's plate")
    permitted_rear: Axle | None = asked("permitted rear axle load, from the vehicle's plate")
    permitted_total: Total | None = asked("permitted total mass, from the vehicle's plate")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether the total that is permitted fits the axles."""
        front, rear, total = self.permitted_front, self.permitted_rear, self.permitted_total
        if front is not None and rear is not None and total is not None and above(total, front + rear):
            told = "The permitted total is more than both axles may carry together."
            about = ("permitted_front", "permitted_rear")
            yield wrong("permitted_total", told, "at most the sum of the permitted axle loads", about=about)
        yield from self._outline()

    def _outline(self) -> Iterator[PydanticCustomError]:
        """Whether its outside holds its wheels and its floor."""
        before, length, base = self.front_overhang, self.length, self.wheelbase
        if length is not None and base is not None and above(base + (before or 0.0), length):
            told = "The van ends before its rear axle."
            expected = "at least the front overhang and the wheelbase together"
            yield wrong("length", told, expected, about=("front_overhang", "wheelbase"))
        for field, least, other in (("width", self.track, "track"), ("height", self.floor, "floor")):
            value = getattr(self, field)
            if value is not None and least is not None and above(least, value):
                yield wrong(field, f"The van's {field} is less than its {other}.", f"more than {other}", about=(other,))


class Load(Part):
    """Something that rides along and has a place: a row of seats with its people, luggage, a bicycle rack."""

    mass: Annotated[float, such_as(MASS.within("0.1 kg", "3000 kg"), "150 kg")] = asked("what it weighs", ...)
    x: Along = asked(ALONG, ...)
    y: Across | None = asked(ACROSS)
