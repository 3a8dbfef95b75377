"""Frost: how cold it gets, what holds the tanks above freezing, what lies beside them, how the van's room cools."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic_core import PydanticCustomError

from vanwater.plan.part import Part, Stocked, Whole, YesNo, above, asked, such_as, wrong
from vanwater.quantities import CONDUCTIVITY, HOURS, POWER, ROAD_SPEED, SHARE, TEMPERATURE, THICKNESS

__all__ = ["BESIDE", "Beside", "Body", "Face", "Foam", "FoamConductivity", "Frost", "Pad", "Readings", "Water"]

Beside = Literal["outside", "box", "room"]
BESIDE: tuple[Beside, ...] = ("outside", "box", "room")
"""What may lie beside a face or a run: outside air, an unheated box, the heated room."""

Foam = Annotated[float, such_as(THICKNESS.within("0 mm", "300 mm"), "20 mm")]
FoamConductivity = Annotated[float, such_as(CONDUCTIVITY.within("0.005 W/mK", "1 W/mK"), "0.036 W/mK")]


class Face(Part):
    """One face of a tank, where it differs from the others."""

    beside: Beside | None = asked("what lies beside this face: outside, box or room")
    foam: Foam | None = asked("insulation on this face")


class Frost(Part):
    """The cold that the van is planned for."""

    design_cold: Annotated[float, such_as(TEMPERATURE.within("-60 °C", "40 °C"), "-12 °C")] | None = asked(
        "coldest hours it must stand"
    )
    mean_cold: Annotated[float, such_as(TEMPERATURE.within("-60 °C", "40 °C"), "-6 °C")] | None = asked(
        "mean outside temperature of such a day; the coldest if not said"
    )
    hold: Annotated[float, such_as(TEMPERATURE.within("0.5 °C", "25 °C"), "4 °C")] = asked(
        "temperature that the heat holds in the tanks", 277.15
    )
    start: Annotated[float, such_as(TEMPERATURE.within("0.5 °C", "40 °C"), "10 °C")] | None = asked(
        "temperature of the water when the heat goes off; if not said, the tank's where a pad keeps it, else as filled"
    )
    road_speed: Annotated[float, ROAD_SPEED.within("0 km/h", "150 km/h")] = asked("speed on the road", 25.0)
    under_floor: Annotated[float, such_as(SHARE.within("0 %", "100 %"), "50 %")] = asked(
        "share of the road speed that the air has under the floor", 0.5
    )
    room: Annotated[float, such_as(TEMPERATURE.within("-20 °C", "35 °C"), "18 °C")] = asked(
        "temperature of the heated room", 291.15
    )
    box: Annotated[float, such_as(TEMPERATURE.within("-50 °C", "35 °C"), "2 °C")] | None = asked(
        "temperature in the boxes; half way between room and outside if not said"
    )
    nights: Whole = asked("nights without a charge that the heat must last", 1, ge=1, le=30)
    ice_share: Annotated[float, such_as(SHARE.within("1 %", "100 %"), "10 %")] = asked(
        "share of ice at which still water blocks a run, or a tank's outlet", 0.07
    )


Inside = Annotated[float, such_as(TEMPERATURE.within("-40 °C", "40 °C"), "9 °C")]


class Readings(Part):
    """Two readings of the temperature in the living room at night after the heating stopped, and the outside."""

    first: Inside = asked("first reading inside, half an hour or more after the heating stopped", ...)
    later: Inside = asked("second reading inside", ...)
    after: Annotated[float, HOURS.within("0.25 h", "24 h")] = asked("time between the two", ...)
    outside: Annotated[float, such_as(TEMPERATURE.within("-60 °C", "30 °C"), "-3 °C")] = asked(
        "temperature outside meanwhile", ...
    )

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether the room cooled toward the outside."""
        if not above(self.first, self.later):
            told = "The room did not cool between the two readings."
            yield wrong("later", told, "colder than the first", "Are the two swapped?", ("first",))
        if not above(self.later, self.outside):
            told = "The room was no warmer than the outside at the second reading."
            yield wrong("outside", told, "colder than the second reading", about=("later",))


class Body(Part):
    """The van's body: how fast its living room cools once the heating stops."""

    size: Literal["small", "medium", "large"] | None = asked(
        "size of its living room: small, medium or large; medium if not said"
    )
    time_constant: Annotated[float, such_as(HOURS.within("0.2 h", "48 h"), "2.2 h")] | None = asked(
        "time in which the difference to the outside falls to 37 %, instead of the one that follows from its size"
    )
    measured: Readings | None = asked(
        "two readings inside after the heating stopped: they go before size and time constant"
    )

    def capped(self, field: str) -> tuple[str, str] | None:
        """Whether readings speak for a time constant that is said as well."""
        if field == "time_constant" and self.measured is not None:
            return "measured", "the readings give a time constant of their own."
        return None


class Water(Part):
    """The water of the van as a whole."""

    drained: YesNo = asked(
        "whether tanks, lines and heater are drained, as in a van that is laid up; what is left of its day is then "
        "spent with the heating off",
        False,
    )


class Pad(Stocked):
    """A heating pad or trace heating on a tank, with its thermostat."""

    tank: str = asked("tank that it heats", ...)
    power: Annotated[float, such_as(POWER.within("5 W", "1000 W"), "60 W")] = asked("electric power", ...)
    net_share: Annotated[float, such_as(SHARE.within("20 %", "100 %"), "75 %")] = asked(
        "share of its heat that reaches the water", 0.75
    )
    protected_by: Literal["level", "temperature", "none"] | None = asked(
        "what switches it off when the tank is empty: level, temperature or none"
    )
    fed: Literal["battery", "engine", "shore"] = asked(
        "what feeds it: the battery, the engine while it runs, or a socket while the van stands at one", "battery"
    )
