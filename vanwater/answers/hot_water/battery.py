"""What heat for hot water takes from the battery, and which share of it that is."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.battery_number import usable_number
from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, step
from vanwater.physics import battery, electric
from vanwater.quantities import SHARE
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import HeaterNumbers
from vanwater.system.power import bank_of

__all__ = ["at_battery", "battery_share", "usable_energy"]


def at_battery(name: str, used: Number, numbers: HeaterNumbers) -> Number:
    """The energy that a heat takes from the battery, through inverter and cable."""
    return step(
        name,
        electric.battery_energy,
        used=used,
        inverter_efficiency=numbers.inverter,
        cable_efficiency=numbers.cable,
    )


def usable_energy(batch: Batch) -> Number | None:
    """What the full battery gives; None without one, and of one that gives nothing, as a lead one that is frozen."""
    bank = bank_of(batch)
    if bank is None:
        return None
    usable = batch.once("usable energy of the battery, with its sum", lambda: usable_number(batch, bank))
    return usable if np.all(usable.values > 0.0) else None


def battery_share(name: str, energy: Number, usable: Number) -> Number:
    """The share of the full battery that an energy is."""
    share = battery.battery_share(energy.values, usable.values)
    return by(name, share, SHARE, battery.battery_share, energy=energy, usable=usable)
