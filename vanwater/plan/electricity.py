"""Electricity: battery, inverter, what charges, what else lives on it, cables."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic_core import PydanticCustomError

from vanwater.plan.part import Part, Stocked, Whole, YesNo, asked, such_as, wrong
from vanwater.plan.winter import Beside
from vanwater.quantities import (
    CHARGE,
    CURRENT,
    DAILY_ENERGY,
    HOURS,
    LENGTH,
    POWER,
    SECTION,
    SHARE,
    TEMPERATURE,
    VOLTAGE,
)

__all__ = [
    "Alternator",
    "Appliance",
    "Battery",
    "Cable",
    "Chemistry",
    "Converter",
    "Inverter",
    "Shore",
    "Sun",
    "gauge_name",
    "gauge_section",
]

Chemistry = Literal["lithium iron phosphate", "agm", "gel", "flooded"]

_A_DAY = DAILY_ENERGY.within("0 Wh/day", "50 kWh/day")


def gauge_section(gauge: int) -> float:
    """Cross-section of an American wire gauge by ASTM B258 [m²]; 0 for 1/0, −1 for 2/0."""
    diameter = float(0.127e-3 * 92.0 ** ((36 - gauge) / 39))
    return 0.25 * math.pi * diameter**2


def gauge_name(gauge: int) -> str:
    """An American wire gauge as the trade calls it: 10 AWG, 2/0 AWG for −1."""
    return f"{gauge} AWG" if gauge > 0 else f"{1 - gauge}/0 AWG"


class Battery(Stocked):
    """The leisure battery and what else lives on it."""

    volts: Annotated[float, VOLTAGE.within("6 V", "60 V")] = asked("nominal volts of one battery", ...)
    charge: Annotated[float, CHARGE.within("5 Ah", "2000 Ah")] = asked("capacity of one battery", ...)
    series: Whole = asked("batteries behind each other: their volts add up", 1, ge=1, le=8)
    parallel: Whole = asked("batteries, or rows of them, beside each other: their capacities add up", 1, ge=1, le=12)
    chemistry: Chemistry | None = asked("what its cells are: lithium iron phosphate, agm, gel or flooded")
    usable: Annotated[float, SHARE.within("10 %", "100 %")] = asked("share that may be used when it is warm", ...)
    other_loads: Annotated[float, _A_DAY] | None = asked("everything else that lives on it, a day")
    charging: Annotated[float, _A_DAY] = asked("what is put back a day, beside the sources that have a table", 0.0)
    max_current: Annotated[float, such_as(CURRENT.within("5 A", "1000 A"), "100 A")] | None = asked(
        "largest current it may give for long"
    )
    beside: Beside = asked("where it stands: room, box or outside", "room")
    heated: Annotated[float, such_as(POWER.within("5 W", "500 W"), "60 W")] | None = asked(
        "power with which it keeps itself above freezing"
    )

    @property
    def bank_volts(self) -> float:
        """Nominal volts of all of it [V]."""
        return self.volts * self.series


class Inverter(Stocked):
    """The inverter that feeds the heater."""

    volts: Annotated[float, such_as(VOLTAGE.within("90 V", "260 V"), "230 V")] | None = asked("volts it makes")
    rating: Annotated[float, such_as(POWER.within("100 W", "10 kW"), "2000 W")] | None = asked(
        "power it gives for long"
    )
    surge: Annotated[float, such_as(POWER.within("100 W", "20 kW"), "4000 W")] | None = asked(
        "power it gives for a few seconds"
    )
    efficiency: Annotated[float, SHARE.within("50 %", "100 %")] = asked("share that arrives at the socket", 0.9)
    idle: Annotated[float, such_as(POWER.within("0 W", "200 W"), "12 W")] = asked(
        "what it takes while it is on without a load", 0.0
    )
    hours_on: Annotated[float, HOURS.within("0 h", "24 h")] = asked("hours a day it is on", 0.0)
    switched: Literal["by hand", "always", "search"] = asked(
        "who switches it: by hand for the hours that it is on, always on, or by itself when it finds a load", "by hand"
    )
    search: Annotated[float, such_as(POWER.within("0 W", "50 W"), "2 W")] | None = asked(
        "what it takes while it looks for a load; a fifth of its idling if not said"
    )
    cut_out: Annotated[float, such_as(VOLTAGE.within("5 V", "60 V"), "10.5 V")] | None = asked(
        "volts of the battery at which it switches off"
    )
    cable: Annotated[float, SHARE.within("70 %", "100 %")] = asked(
        "share that the cable from the battery lets through, where no table tells of the cable itself", 0.98
    )

    def capped(self, field: str) -> tuple[str, str] | None:
        """Whether it is on otherwise than a field says."""
        if field == "hours_on" and self.switched == "always":
            return "switched", "it is always on."
        if field == "search" and self.switched != "search":
            return "switched", "it does not look for a load."
        return None


class Converter(Part):
    """What makes other volts of the battery's, for a pump or a heater of its own volts."""

    volts: Annotated[float, such_as(VOLTAGE.within("5 V", "60 V"), "12 V")] = asked("volts that it makes", ...)
    efficiency: Annotated[float, SHARE.within("50 %", "100 %")] = asked("share that it lets through", 0.9)
    rating: Annotated[float, such_as(POWER.within("20 W", "5 kW"), "240 W")] | None = asked(
        "power that it gives for long"
    )


class Sun(Part):
    """Panels on the roof and what their day is worth."""

    panels: Annotated[float, such_as(POWER.within("5 W", "5 kW"), "200 W")] = asked("rated power of all panels", ...)
    full_sun: Annotated[float, such_as(HOURS.within("0 h", "10 h"), "0.6 h")] = asked(
        "hours of full sun that a day's yield is worth, losses counted: a panel of 100 W that yields 60 Wh has 0.6 h",
        ...,
    )


class Alternator(Part):
    """What charges the battery on the road."""

    current: Annotated[float, such_as(CURRENT.within("1 A", "300 A"), "30 A")] = asked(
        "current that the charger puts into the battery", ...
    )
    volts: Annotated[float, such_as(VOLTAGE.within("6 V", "65 V"), "14.2 V")] | None = asked(
        "volts at which it charges; a ninth more than the battery's if not said"
    )


class Shore(Part):
    """The socket and the charger on it."""

    limit: Annotated[float, such_as(CURRENT.within("1 A", "64 A"), "10 A")] = asked(
        "current that the socket's breaker allows", ...
    )
    volts: Annotated[float, such_as(VOLTAGE.within("90 V", "260 V"), "230 V")] = asked("volts of the socket", ...)
    charger: Annotated[float, such_as(CURRENT.within("0 A", "300 A"), "20 A")] = asked(
        "current that the charger puts into the battery", 0.0
    )


class Appliance(Part):
    """Something else that takes power, by name: kettle, cooker, fan, fridge."""

    power: Annotated[float, such_as(POWER.within("1 W", "6 kW"), "45 W")] = asked("power while it runs", ...)
    on: Literal["battery", "inverter", "shore"] = asked(
        "what it hangs on: battery, inverter or the socket alone", "battery"
    )
    hours: Annotated[float, such_as(HOURS.within("0 h", "24 h"), "2 h")] = asked("hours a day that it runs", ...)
    start: Annotated[float, such_as(POWER.within("1 W", "20 kW"), "900 W")] | None = asked(
        "power for the moment of its start, of a motor or compressor"
    )
    always: YesNo = asked("whether it also runs while nobody is in the van and on the road, as a fridge does", False)


class Cable(Part):
    """The cable from the battery to a pump, a heater on its volts, or the inverter."""

    to: str = asked("what it feeds: a pump, a heater, or inverter", ...)
    length: Annotated[float, such_as(LENGTH.within("0.1 m", "30 m"), "5 m")] = asked("length one way", ...)
    section: Annotated[float, such_as(SECTION.within("0.5 mm²", "150 mm²"), "6 mm²")] | None = asked(
        "cross-section of one conductor"
    )
    awg: Whole | None = asked("its American wire gauge, in place of the section; 0 for 1/0, -1 for 2/0", ge=-3, le=20)
    insulation: Annotated[float, such_as(TEMPERATURE.within("60 °C", "125 °C"), "105 °C")] | None = asked(
        "temperature that its insulation stands; 70 °C if not said, 80 °C of a gauge: the least that is commonly sold"
    )
    engine_space: YesNo | None = asked("whether it goes through the engine space; it does not if not said")
    fuse: Annotated[float, such_as(CURRENT.within("1 A", "600 A"), "15 A")] | None = asked(
        "rating of the fuse at its beginning"
    )

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether its size is said in one way, and only one."""
        about = ("section", "awg")
        if self.section is not None and self.awg is not None:
            yield wrong("section", "A cable has either a section or a gauge.", "one of the two", about=about)
        if self.section is None and self.awg is None:
            yield wrong("section", "This cable says no section.", 'section = "6 mm²", or awg = 10', about=about)

    @property
    def copper(self) -> float:
        """Cross-section of one conductor [m²], a gauge by ASTM B258."""
        if self.section is not None:
            return self.section
        assert self.awg is not None
        return gauge_section(self.awg)
