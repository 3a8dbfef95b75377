"""How warm the water is, as a number with its sum: a tank's, a heater's inlet, what comes along a way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import by, planned, stated
from vanwater.physics import cooling, tank_loss
from vanwater.plan.tanks import label_of
from vanwater.quantities import CONDUCTANCE, MASS, POWER, STAY, TEMPERATURE, Quantity
from vanwater.system.batch import Batch
from vanwater.system.water_temperature import (
    FILLED,
    TankWater,
    inlet,
    kept,
    tank_of_heater,
    tank_water,
    water_temperature,
)
from vanwater.system.ways import Way

__all__ = ["cold_number", "inlet_number", "start_number", "tank_number"]


def tank_number(batch: Batch, tank: str, pairs: Sequence[UnsureRows] = ()) -> Number:
    """Temperature of a tank's water while one lives on it.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    tank : str
        The tank; an empty text for the mains.
    pairs : sequence of UnsureRows
        Where the batch holds what moves it.

    Returns
    -------
    Number
        As the plan gives it for the tank; else the mean over the stay; else that of the water as it is filled.
    """
    return batch.once(f"temperature of the water in {tank}", lambda: _tank_number(batch, tank, pairs))


def _tank_number(batch: Batch, tank: str, pairs: Sequence[UnsureRows]) -> Number:
    water = tank_water(batch, tank) if tank else None
    if water is None:
        own = tank and batch.plan.tanks[tank].temperature is not None
        return _planned(batch, f"tanks.{tank}.temperature" if own else FILLED, TEMPERATURE)
    at, label = ("tank", tank), label_of(tank)
    through = by(
        f"heat for each degree, {label} parked at mean",
        water.through,
        CONDUCTANCE,
        tank_loss.conductance,
        area=water.heat.faces.area,
        transmittance=water.transmittance,
    ).keyed(*at, "conductance", "parked_at_mean", pairs=pairs)
    rest = by(
        f"temperature of rest, {label} parked at mean",
        water.rest,
        TEMPERATURE,
        tank_loss.equilibrium_temperature,
        area=water.heat.faces.area,
        transmittance=water.transmittance,
        neighbours=water.beside,
    ).keyed(*at, "rest", "parked_at_mean", pairs=pairs)
    return by(
        f"water of the {label}, on the mean of the stay",
        water.mean,
        TEMPERATURE,
        cooling.mean_temperature,
        start=_planned(batch, FILLED, TEMPERATURE),
        duration=_stay(batch, water),
        outside=rest,
        conductance=through,
        mass=stated(
            f"water in the half full {label}",
            water.mass,
            MASS,
            "Half of what it holds, 1 kg a litre.",
            source="common practice",
        ),
        least=_held(batch, tank, water, rest, through),
    ).keyed(*at, "water_temperature", pairs=pairs, digits=2)


def _planned(batch: Batch, address: str, quantity: Quantity) -> Number:
    return replace(planned(batch.plan, address, quantity), values=batch.number(address))


def _stay(batch: Batch, water: TankWater) -> Number:
    """Time over which the mean is taken."""
    if batch.plan.household.days_wanted is not None:
        return _planned(batch, "household.days_wanted", STAY)
    return stated("stay", water.stay, STAY, "As no days are wanted, a long weekend.", source="common practice")


def _held(batch: Batch, tank: str, water: TankWater, rest: Number, through: Number) -> Number:
    """Temperature below which it does not fall."""
    label, padded = label_of(tank), bool(np.any(water.pad > 0.0))
    heat = stated(
        f"heat of the pads that reaches the {label}",
        water.pad,
        POWER,
        "Power times the share that reaches the water, on the mean of the hours in which they are fed.",
        source="the plan",
    )
    return stated(
        f"temperature below which the {label} does not fall",
        water.held,
        TEMPERATURE,
        "What its pads hold: as set, or as far above rest as their heat goes; never below freezing."
        if padded
        else "Freezing: how long water lasts there is told with the frost.",
        facts=(("set", _planned(batch, "frost.hold", TEMPERATURE)), ("heat", heat), ("rest", rest), ("loses", through))
        if padded
        else (),
        source="heat balance of a lump",
    )


def start_number(batch: Batch, tank: str, pairs: Sequence[UnsureRows] = ()) -> Number:
    """Temperature of a tank's water from which it is counted how long it lasts in the cold.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    tank : str
        The tank; an empty text for none.
    pairs : sequence of UnsureRows
        Where the batch holds what moves it.

    Returns
    -------
    Number
        As the plan gives it for the frost; else that of the tank's water where the plan gives it or a pad keeps it;
        else as it is filled.
    """
    plan = batch.plan
    if plan.frost.start is not None:
        return _planned(batch, "frost.start", TEMPERATURE)
    own = tank and (plan.tanks[tank].temperature is not None or kept(plan, tank))
    return tank_number(batch, tank if own else "", pairs)


def cold_number(batch: Batch, way: Way) -> Number:
    """Temperature of the cold water that comes along a way.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    way : Way
        A way to an outlet.

    Returns
    -------
    Number
        That of the tank which it follows; from the mains as filled.
    """
    return tank_number(batch, "" if way.mains else way.tank)


def inlet_number(batch: Batch, heater: str) -> Number:
    """Temperature of the water that enters a heater.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater.

    Returns
    -------
    Number
        That of the tank which feeds it, a little below its set point at most.
    """
    tank = tank_of_heater(batch.plan, heater)
    number, enters = tank_number(batch, tank), inlet(batch, heater)
    if np.array_equal(enters, water_temperature(batch, tank)):
        return number
    return stated(
        f"water that enters the {heater}",
        enters,
        TEMPERATURE,
        "That of the tank which feeds it, a little below the set point at most: as warm as that, it needs no heat.",
        facts=(("tank", number), ("set point", _planned(batch, f"heaters.{heater}.set_point", TEMPERATURE))),
        source="calorimetry",
    ).keyed("heater", heater, "inlet")
