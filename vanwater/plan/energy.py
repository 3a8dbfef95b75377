"""Heat for the water: heaters."""

from __future__ import annotations

from typing import Annotated, Literal

from vanwater.plan.joint import Connection
from vanwater.plan.part import Stocked, YesNo, asked, such_as
from vanwater.plan.places import ACROSS, ALONG, Across, Along, Height
from vanwater.quantities import (
    DURATION,
    FLOW,
    HOURS,
    LENGTH,
    MASS,
    POWER,
    PRESSURE,
    SHARE,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
)

__all__ = ["BURNERS", "INSTANT", "Heater"]

BURNERS = ("gas", "diesel")
"""Sources that burn."""

INSTANT = 1.5e-3
"""Content up to which a heater that burns heats as the water flows, m³ (common practice, from memory)."""


Outside = Annotated[float, such_as(LENGTH.within("5 cm", "2 m"), "40 cm")]


class Heater(Stocked):
    """A small hot-water tank."""

    volume: Annotated[float, such_as(VOLUME.within("0.2 L", "80 L"), "10 L")] = asked("water it holds", ...)
    source: Literal["inverter", "battery", "engine", "gas", "diesel", "shore"] = asked(
        "what heats it away from a socket", "inverter"
    )
    power: Annotated[float, POWER.within("50 W", "20 kW")] | None = asked("power of its element or burner")
    also: Literal["inverter", "battery", "engine", "shore"] | None = asked(
        "a second source that heats it where it can: engine, shore, inverter or battery"
    )
    also_power: Annotated[float, such_as(POWER.within("50 W", "20 kW"), "4000 W")] | None = asked(
        "power of that second source"
    )
    set_point: Annotated[float, TEMPERATURE.within("30 °C", "95 °C")] = asked("temperature it heats to", 333.15)
    standby: Annotated[float, such_as(POWER.within("0 W", "500 W"), "20 W")] = asked(
        "heat it loses while it is on", 0.0
    )
    hours_on: Annotated[float, HOURS.within("0 h", "24 h")] = asked("hours a day it is on", 3 * 3600.0)
    when: Literal["hours", "sun"] = asked(
        "when it is heated: in its hours, before the draws of morning and evening, or while the sun charges, where it "
        "lives on the battery",
        "hours",
    )
    left_hot: YesNo = asked(
        "whether it stands hot when its hours end, and cools until they begin again; else it is switched off before "
        "the last draw, and its heat drawn",
        False,
    )
    volts: Annotated[float, VOLTAGE.within("6 V", "260 V")] | None = asked("volts that its element is made for")
    efficiency: Annotated[float, such_as(SHARE.within("30 %", "100 %"), "78 %")] = asked(
        "share of the fuel's heat that reaches the water, of one that burns", 0.78
    )
    gas: Literal["propane", "butane"] | None = asked("what is in its bottle, of one that burns gas")
    fuel: Annotated[float, such_as(MASS.within("0.2 kg", "200 kg"), "5 kg")] | None = asked(
        "fuel that is carried for it"
    )
    draws: Annotated[float, such_as(POWER.within("0 W", "200 W"), "15 W")] = asked(
        "what its fan, pump and control take from the battery while it burns", 0.0
    )
    start_up: Annotated[float, such_as(DURATION.within("0 s", "15 min"), "2 min")] = asked(
        "time from its switching on until its burner gives heat", 0.0
    )
    start_draws: Annotated[float, such_as(POWER.within("0 W", "500 W"), "100 W")] = asked(
        "what it takes from the battery meanwhile, with a glow pin", 0.0
    )
    least_flow: Annotated[float, such_as(FLOW.within("0 L/min", "20 L/min"), "2 L/min")] | None = asked(
        "flow below which it does not light or heat, of one that heats as the water flows; 2 L/min if not said"
    )
    relief: Annotated[float, such_as(PRESSURE.within("0.5 bar", "12 bar"), "6 bar")] | None = asked(
        "pressure at which its relief valve opens"
    )
    rated: Annotated[float, such_as(PRESSURE.within("0.5 bar", "20 bar"), "6 bar")] | None = asked(
        "pressure that it is made for, as its plate says"
    )
    empty_cut_out: YesNo | None = asked("whether something keeps the element off while it is empty")
    length: Outside | None = asked("outside length along the van")
    width: Outside | None = asked("outside width across the van")
    height: Outside | None = asked("outside height, upwards of its z")
    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its two connections are")

    @property
    def starts_in(self) -> float:
        """Time until its burner gives heat; none of what does not burn [s]."""
        return self.start_up if self.source in BURNERS else 0.0

    @property
    def by_the_sun(self) -> bool:
        """Whether it is heated from the battery while the sun charges."""
        return self.when == "sun" and self.source in ("inverter", "battery") and not self.as_it_flows

    def capped(self, field: str) -> tuple[str, str] | None:
        """Whether it is heated otherwise than a field says."""
        if field in ("start_up", "start_draws") and self.source not in BURNERS:
            return "source", "only a burner takes time to start."
        if field == "when" and self.when == "sun" and not self.by_the_sun:
            return "source", "only a store that lives on the battery is heated while the sun charges."
        if field == "hours_on" and self.by_the_sun:
            return "when", "it is heated while the sun charges."
        return None

    @property
    def as_it_flows(self) -> bool:
        """Whether it heats while water flows: its least flow is said, or it burns and holds next to nothing."""
        return self.least_flow is not None or (self.source in BURNERS and self.volume <= INSTANT)
