"""What flows in a cable while what it feeds is on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import planned, stated, step
from vanwater.physics import cable, electric
from vanwater.quantities import CURRENT, POWER, Array, Quantity
from vanwater.system.batch import Batch

__all__ = ["along", "current_of"]


def current_of(batch: Batch, to: str, bank: Array, ohms: Array) -> Number | None:
    """Current of a pump as planned; of a heater, or of what hangs on the inverter, by its power at the volts left.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    to : str
        Name of the pump or heater, or "inverter".
    bank : array, shape (rows,)
        Volts at the beginning of its cable [V].
    ohms : array, shape (rows,)
        Resistance of the cable there and back [Ω].

    Returns
    -------
    Number or None
        None where nothing of known power hangs on it.
    """
    plan = batch.plan
    if to in plan.pumps:
        return along(batch, f"pumps.{to}.current", CURRENT)
    if to == "inverter":
        power = _most_on_inverter(batch)
        if power is None:
            return None
        efficiency: Array = batch.number("inverter.efficiency") if plan.inverter is not None else np.ones(len(batch))
    else:
        power = stated(
            f"power of the {to}", batch.number(f"heaters.{to}.power"), POWER, "As planned.", source="the plan"
        )
        efficiency = np.ones(len(batch))
    drawn = power.values / efficiency
    if not np.all(np.isfinite(drawn)):
        return None
    left = cable.voltage_at_load(np.minimum(drawn, cable.most_power(bank, ohms)), bank, ohms)
    name = f"current to the {to}"
    return step(name, electric.battery_current, power=power, voltage=left, efficiency=efficiency)


def along(batch: Batch, address: str, quantity: Quantity) -> Number:
    """A number of the plan along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    address : str
        Where it stands.
    quantity : Quantity
        What it is a number of.

    Returns
    -------
    Number
        As planned.
    """
    return replace(planned(batch.plan, address, quantity), values=batch.number(address))


def _most_on_inverter(batch: Batch) -> Number | None:
    """The strongest load on the inverter: two large ones are not taken to run together."""
    plan = batch.plan
    loads = {
        name: batch.number(f"heaters.{name}.power")
        for name, heater in plan.heaters.items()
        if heater.source == "inverter"
    }
    loads |= {
        name: batch.number(f"appliances.{name}.power") for name, own in plan.appliances.items() if own.on == "inverter"
    }
    known = {name: power for name, power in loads.items() if np.isfinite(power).all()}
    if not known:
        return None
    return stated(
        "strongest load on the inverter",
        np.max(list(known.values()), axis=0),
        POWER,
        "The strongest of what hangs on it; two large loads are not run together.",
        facts=[(name, (power, POWER)) for name, power in known.items()],
        source="the plan",
    )
