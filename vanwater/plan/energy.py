"""Heat and electricity: heater, battery, inverter."""

from __future__ import annotations

from typing import Annotated, Literal

from vanwater.plan.joint import Connection
from vanwater.plan.part import Stocked, YesNo, asked, such_as
from vanwater.quantities import (
    CHARGE,
    CURRENT,
    DAILY_ENERGY,
    FLOW,
    HOURS,
    LENGTH,
    POWER,
    PRESSURE,
    SHARE,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
)

__all__ = ["BURNERS", "INSTANT", "Battery", "Heater", "Inverter"]

BURNERS = ("gas", "diesel")
"""Sources that burn."""

INSTANT = 1.5e-3
"""Content up to which a heater that burns heats as the water flows, m³ (common practice, from memory)."""

_A_DAY = DAILY_ENERGY.within("0 Wh/day", "50 kWh/day")


class Heater(Stocked):
    """A small hot-water tank."""

    volume: Annotated[float, such_as(VOLUME.within("0.2 L", "80 L"), "10 L")] = asked("water it holds", ...)
    source: Literal["inverter", "battery", "engine", "gas", "diesel", "shore"] = asked(
        "what heats it away from a socket", "inverter"
    )
    power: Annotated[float, POWER.within("50 W", "20 kW")] | None = asked("power of its element or burner")
    set_point: Annotated[float, TEMPERATURE.within("30 °C", "95 °C")] = asked("temperature it heats to", 333.15)
    standby: Annotated[float, such_as(POWER.within("0 W", "500 W"), "20 W")] = asked(
        "heat it loses while it is on", 0.0
    )
    hours_on: Annotated[float, HOURS.within("0 h", "24 h")] = asked("hours a day it is on", 3 * 3600.0)
    volts: Annotated[float, VOLTAGE.within("6 V", "260 V")] | None = asked("volts that its element is made for")
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
    x: Annotated[float, LENGTH.within("-2 m", "10 m")] | None = asked("centre, behind the front axle")
    y: Annotated[float, LENGTH.within("-2 m", "2 m")] | None = asked("centre, right of the centre line")
    z: Annotated[float, LENGTH.within("-3 m", "5 m")] | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its two connections are")

    @property
    def as_it_flows(self) -> bool:
        """Whether it heats while water flows: its least flow is said, or it burns and holds next to nothing."""
        return self.least_flow is not None or (self.source in BURNERS and self.volume <= INSTANT)


class Battery(Stocked):
    """The leisure battery and what else lives on it."""

    volts: Annotated[float, VOLTAGE.within("6 V", "60 V")] = asked("nominal volts", ...)
    charge: Annotated[float, CHARGE.within("5 Ah", "2000 Ah")] = asked("capacity", ...)
    usable: Annotated[float, SHARE.within("10 %", "100 %")] = asked("share that may be used", ...)
    other_loads: Annotated[float, _A_DAY] | None = asked("everything else that lives on it, a day")
    charging: Annotated[float, _A_DAY] = asked("what sun or driving puts back a day", 0.0)
    max_current: Annotated[float, such_as(CURRENT.within("5 A", "1000 A"), "100 A")] | None = asked(
        "largest current it may give for long"
    )


class Inverter(Stocked):
    """The inverter that feeds the heater."""

    volts: Annotated[float, such_as(VOLTAGE.within("90 V", "260 V"), "230 V")] | None = asked("volts it makes")
    rating: Annotated[float, such_as(POWER.within("100 W", "10 kW"), "2000 W")] | None = asked(
        "power it gives for long"
    )
    efficiency: Annotated[float, SHARE.within("50 %", "100 %")] = asked("share that arrives at the socket", 0.9)
    idle: Annotated[float, such_as(POWER.within("0 W", "200 W"), "12 W")] = asked(
        "what it takes while it is on without a load", 0.0
    )
    hours_on: Annotated[float, HOURS.within("0 h", "24 h")] = asked("hours a day it is on", 0.0)
    cable: Annotated[float, SHARE.within("70 %", "100 %")] = asked(
        "share that the cable from the battery lets through", 0.98
    )
