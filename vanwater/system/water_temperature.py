"""One water temperature a place: what a tank's water is at while one lives on it, and what a way draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics import cooling, tank_loss
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.day import FULL_DAY, STATES
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.heat import TankHeat, tank_heat, transmittances
from vanwater.system.hours import hours_of
from vanwater.system.pads import FED_IN, mean_cold, pads_of
from vanwater.system.surroundings import Case, neighbours
from vanwater.system.tank_groups import feeding_tank, source_of, tank_groups
from vanwater.system.ways import Way, way_to

__all__ = [
    "FILLED",
    "STAY",
    "TankWater",
    "at_outlet",
    "cold_water",
    "inlet",
    "kept",
    "tank_of_heater",
    "tank_of_outlet",
    "tank_water",
    "water_temperature",
]

FILLED = "site.cold_water"
"""Where the plan says how warm the water is when it is filled."""

STAY = 3 * 86400.0
"""Time for which a tank is taken to be lived on while no days are wanted, s (common practice: a long weekend)."""

NEARLY = 1.0
"""Kelvin below its set point that water enters a heater at most: as warm as that, it needs as good as no heat."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TankWater:
    """A tank whose water follows its surroundings, along the rows.

    Parameters
    ----------
    heat : TankHeat
        Its faces.
    transmittance, beside : array, shape (rows, faces)
        Of each face [W/(m²·K)], and the temperature beside it on the mean cold day [K].
    through, rest : array, shape (rows,)
        Heat that it loses for each kelvin [W/K], and the temperature at which it comes to rest without a pad [K].
    start : array, shape (rows,)
        Temperature of the water as it is filled [K].
    stay : array, shape (rows,)
        Time for which it is lived on [s].
    mass : array, shape (rows,)
        Water in the half full tank, 1 kg a litre as in every heat sum [kg].
    pad : array, shape (rows,)
        Heat of its pads that reaches the water, on the mean of the day [W].
    held : array, shape (rows,)
        Temperature below which it does not fall: what the pads hold, never below freezing [K].
    mean : array, shape (rows,)
        Its mean over the stay [K].
    """

    heat: TankHeat
    transmittance: Array
    beside: Array
    through: Array
    rest: Array
    start: Array
    stay: Array
    mass: Array
    pad: Array
    held: Array
    mean: Array


def tank_water(batch: Batch, tank: str) -> TankWater | None:
    """A tank whose water follows its surroundings.

    It is filled at ``site.cold_water`` and goes as one lump towards the temperature at which its faces bring it to
    rest on the mean cold day, the van parked and its heating on, the tank half full.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    tank : str
        The tank.

    Returns
    -------
    TankWater or None
        None where the plan gives the water's temperature, or says neither a cold nor what lies beside the tank.
    """
    return batch.once(f"water of {tank}", lambda: _tank_water(batch, tank))


def _tank_water(batch: Batch, tank: str) -> TankWater | None:
    outside = mean_cold(batch)
    if batch.plan.tanks[tank].temperature is not None or not np.all(np.isfinite(outside)):
        return None
    heat = tank_heat(batch, tank)
    if heat is None:
        return None
    hold, start = batch.number("frost.hold"), batch.number(FILLED)
    transmittance = transmittances(batch, [heat], [Case(hold, outside)])[0][0]
    beside, area = neighbours(batch, outside).beside(heat.codes), heat.faces.area
    through = tank_loss.conductance(area, transmittance)
    rest = tank_loss.equilibrium_temperature(area, transmittance, beside)
    pad = _pad(batch, tank)
    held = np.maximum(np.where(pad > 0.0, np.minimum(hold, rest + pad / through), FREEZING_POINT), FREEZING_POINT)
    stay, mass = batch.number("household.days_wanted", STAY), 0.5 * heat.content * 1000.0
    return TankWater(
        heat=heat,
        transmittance=transmittance,
        beside=beside,
        through=through,
        rest=rest,
        start=start,
        stay=stay,
        mass=mass,
        pad=pad,
        held=held,
        mean=cooling.mean_temperature(start, stay, rest, through, mass, held),
    )


def _pad(batch: Batch, tank: str) -> Array:
    """Heat of a tank's pads that reaches the water, on the mean of the hours in which they are fed [W]."""
    total, share = np.zeros(len(batch)), hours_of(batch) / FULL_DAY
    for name in pads_of(batch.plan).get(tank, ()):
        reaches = np.minimum(batch.number(f"pads.{name}.net_share") * batch.factor("pad share"), 1.0)
        fed = sum(share[STATES.index(state)] for state in FED_IN[batch.plan.pads[name].fed])
        total = total + batch.number(f"pads.{name}.power") * reaches * fed
    return total


def water_temperature(batch: Batch, tank: str) -> Array:
    """Temperature of a tank's water while one lives on it.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    tank : str
        The tank; an empty text for the mains.

    Returns
    -------
    array, shape (rows,)
        As the plan gives it for the tank; else the mean over the stay; else as it is filled [K].
    """
    if not tank:
        return batch.number(FILLED)
    if batch.plan.tanks[tank].temperature is not None:
        return batch.number(f"tanks.{tank}.temperature")
    water = tank_water(batch, tank)
    return batch.number(FILLED) if water is None else water.mean


def kept(plan: Plan, tank: str) -> bool:
    """Whether a tank has heat of its own that can go off while the van stands.

    Parameters
    ----------
    plan : Plan
        The plan.
    tank : str
        The tank.

    Returns
    -------
    bool
        Whether the battery feeds one of its pads, or a socket does in hours that the day has. How long a tank without
        one lasts counts from when it is filled.
    """
    feeders = {plan.pads[pad].fed for pad in pads_of(plan).get(tank, ())}
    return "battery" in feeders or ("shore" in feeders and plan.day.shore > 0.0)


def cold_water(batch: Batch, way: Way) -> Array:
    """Temperature of the cold water that comes along a way.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    way : Way
        A way to an outlet.

    Returns
    -------
    array, shape (rows,)
        That of the tank which it follows; from the mains as filled [K].
    """
    return water_temperature(batch, "" if way.mains else way.tank)


def tank_of_outlet(plan: Plan, outlet: str | None) -> str:
    """The tank that an outlet draws from, or what is not drawn at an outlet.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str or None
        The outlet, if any.

    Returns
    -------
    str
        That of its way, else the main fresh tank; empty where the plan has none.
    """
    return feeding_tank(plan, outlet or "") or _main_tank(plan)


def tank_of_heater(plan: Plan, heater: str) -> str:
    """The tank that feeds a heater.

    Parameters
    ----------
    plan : Plan
        The plan.
    heater : str
        The heater.

    Returns
    -------
    str
        That of the first way through it, else the main fresh tank; empty where the plan has none.
    """
    ways = (way_to(plan, outlet) for outlet in plan.outlets)
    return next((way.tank for way in ways if way.heater == heater and way.tank), "") or _main_tank(plan)


def _main_tank(plan: Plan) -> str:
    """The first tank of the main fresh store, else the first fresh tank, else none."""
    main = source_of(plan, None)
    tanks = next((group.tanks for group in tank_groups(plan) if main and group.name == main), ())
    return next(iter(tanks), "") or next((name for name, tank in plan.tanks.items() if tank.holds == "fresh"), "")


def at_outlet(batch: Batch, outlet: str | None) -> Array:
    """Temperature of the cold water that an outlet draws.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    outlet : str or None
        The outlet, if any.

    Returns
    -------
    array, shape (rows,)
        That of :func:`tank_of_outlet` [K].
    """
    return water_temperature(batch, tank_of_outlet(batch.plan, outlet))


def inlet(batch: Batch, heater: str) -> Array:
    """Temperature of the water that enters a heater.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater.

    Returns
    -------
    array, shape (rows,)
        That of the tank which feeds it, a little below its set point at most [K].
    """
    warmest = batch.number(f"heaters.{heater}.set_point") - NEARLY
    filled = batch.number(FILLED)
    return np.minimum(water_temperature(batch, tank_of_heater(batch.plan, heater)), np.maximum(warmest, filled))
