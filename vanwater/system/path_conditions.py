"""What holds along a way besides its runs: what must be decided, the temperatures, the water's surface in the tank."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.pump import pump_gaps
from vanwater.system.stores import outlet_of
from vanwater.system.thermostat import set_temperature
from vanwater.system.water_temperature import cold_water
from vanwater.system.ways import Way, sources, way_from_mains, way_to

__all__ = [
    "SHOWER_TEMPERATURE",
    "asked_first",
    "mains_ways",
    "missing",
    "mixed_temperature",
    "pumpless",
    "run_gaps",
    "tank_surface",
    "wanted_temperature",
]

SHOWER_TEMPERATURE = 311.15
"""Mixed temperature taken where neither outlet nor use says one, K (38 °C, common practice)."""


def missing(plan: Plan, way: Way) -> tuple[str, ...]:
    """Addresses that must be decided before the flow along a way can be known.

    Parameters
    ----------
    plan : Plan
        The plan.
    way : Way
        The way.

    Returns
    -------
    tuple of str
        Empty when everything is there.
    """
    runs = (*way.runs, *(run for branch in way.joined for run in branch))
    gaps = [gap for run in runs for gap in run_gaps(plan, run)]
    tanks, pumps = sources(plan, way)
    gaps += [f"tanks.{tank}.z" for tank in tanks if plan.tanks[tank].z is None]
    gaps += [f"pumps.{pump}.{field}" for pump in pumps for field in pump_gaps(plan.pumps[pump])]
    outlet = plan.outlets[way.outlet]
    if outlet.type is None and outlet.flow is None:
        gaps.append(f"outlets.{way.outlet}.flow")
    if outlet.z is None:
        gaps.append(f"outlets.{way.outlet}.z")
    return tuple(gaps)


def pumpless(plan: Plan) -> bool:
    """Whether a plan has no pump and needs none.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    bool
        True where it says so, and where a whole way leads to every outlet by gravity or from the mains.
    """
    if plan.pumps:
        return False
    drawn = (not way_to(plan, outlet).broken or not way_from_mains(plan, outlet).broken for outlet in plan.outlets)
    return "pump" in plan.van.without or (bool(plan.outlets) and all(drawn))


def run_gaps(plan: Plan, run: str) -> tuple[str, ...]:
    """Addresses that must be decided before the loss and the content of a run can be known.

    Parameters
    ----------
    plan : Plan
        The plan.
    run : str
        Name of the run.

    Returns
    -------
    tuple of str
        Of its bore and its length, those that are not there.
    """
    planned = plan.runs[run]
    bore = (f"runs.{run}.bore",) if planned.size is None and planned.bore is None else ()
    return bore if planned.length is not None else (*bore, f"runs.{run}.length")


def mains_ways(plan: Plan) -> tuple[Way, ...]:
    """The ways from mains inlets to outlets that are whole and decided.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Way
        Empty where no inlet feeds an outlet.
    """
    if not plan.mains:
        return ()
    ways = [way_from_mains(plan, outlet) for outlet in plan.outlets]
    return tuple(way for way in ways if not way.broken and not missing(plan, way))


def asked_first(ways: Mapping[str, Way]) -> str:
    """The outlet that people ask about first: a shower, else one that mixes, else the first.

    Parameters
    ----------
    ways : mapping of str to Way
        By outlet.

    Returns
    -------
    str
        Empty where there is none.
    """
    showers = (name for name in ways if "shower" in name.lower() and "out" not in name.lower())
    mixing = (name for name, way in ways.items() if way.mixer)
    return next(showers, next(mixing, next(iter(ways), "")))


def wanted_temperature(plan: Plan, outlet: str) -> float:
    """Temperature wanted at a mixed outlet [K]: its own, else the warmest use of it, else that of a shower."""
    own = plan.outlets[outlet].temperature
    if own is not None:
        return own
    warm = [
        use.temperature
        for name, use in plan.uses.items()
        if use.temperature is not None and outlet_of(plan, name) == outlet
    ]
    return max(warm, default=SHOWER_TEMPERATURE)


def mixed_temperature(batch: Batch, way: Way) -> Array:
    """Temperature of the water at an outlet, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    way : Way
        The way to it.

    Returns
    -------
    array, shape (rows,)
        As set or wanted behind a mixing tap, else as it comes [K].
    """
    cold = cold_water(batch, way)
    if not way.mixer:
        return batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
    wanted = wanted_temperature(batch.plan, way.outlet)
    held = set_temperature(batch, way.mixer)
    return np.maximum(np.where(np.isnan(held), batch.number(f"outlets.{way.outlet}.temperature", wanted), held), cold)


def tank_surface(batch: Batch, tank: str) -> Array:
    """Height of the water in a half full tank, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    tank : str
        A tank whose height is decided.

    Returns
    -------
    array, shape (rows,)
        Above the van's floor [m]; the tank's floor where its sides are not known.
    """
    planned = batch.plan.tanks[tank]
    floor = batch.number(f"tanks.{tank}.z")
    if planned.inside_height is None:
        return floor
    side = "diameter" if planned.shape == "lying cylinder" else "height"
    return floor + batch.number(f"tanks.{tank}.{side}") / 2
