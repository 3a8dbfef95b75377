"""What heat for hot water takes from the battery, and which share of it that is."""

from __future__ import annotations

from vanwater.answers.core.battery_number import usable_number
from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, step
from vanwater.physics import battery, electric
from vanwater.quantities import SHARE
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import HeaterNumbers
from vanwater.system.power import bank_of

__all__ = ["at_battery", "battery_share"]


def at_battery(name: str, used: Number, numbers: HeaterNumbers) -> Number:
    """The energy that a heat takes from the battery, through inverter and cable."""
    return step(
        name,
        electric.battery_energy,
        used=used,
        inverter_efficiency=numbers.inverter,
        cable_efficiency=numbers.cable,
    )


def battery_share(batch: Batch, name: str, energy: Number) -> Number:
    """The share of the full battery that an energy is."""
    bank = bank_of(batch)
    assert bank is not None
    usable = batch.once("usable energy of the battery, with its sum", lambda: usable_number(batch, bank))
    share = battery.battery_share(energy.values, usable.values)
    return by(name, share, SHARE, battery.battery_share, energy=energy, usable=usable)
