"""The way to one outlet as arrays along the rows, ready for the series solve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics import series, water
from vanwater.physics.pump import PumpCurve
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.supply import outlet_numbers, runs_numbers
from vanwater.system.ways import Way

__all__ = [
    "SHOWER_TEMPERATURE",
    "SeriesCase",
    "missing",
    "mixed_temperature",
    "pump_curve",
    "series_case",
    "tank_surface",
    "wanted_temperature",
]

SHOWER_TEMPERATURE = 311.15
"""Mixed temperature taken where neither outlet nor use says one, K (38 °C, common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class SeriesCase:
    """A way with its numbers.

    Parameters
    ----------
    way : Way
        Names along the way.
    physics : series.SeriesPath
        Its numbers, one row a case.
    cold, mixed, hot : array, shape (rows,)
        Temperatures of the cold water, at the outlet, in the heater [K].
    """

    way: Way
    physics: series.SeriesPath
    cold: Array
    mixed: Array
    hot: Array


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
    found = []
    for run in way.runs:
        if plan.runs[run].size is None and plan.runs[run].bore is None:
            found.append(f"runs.{run}.bore")
        if plan.runs[run].length is None:
            found.append(f"runs.{run}.length")
    if way.tank and plan.tanks[way.tank].z is None:
        found.append(f"tanks.{way.tank}.z")
    if way.pump:
        pump = plan.pumps[way.pump]
        found += [f"pumps.{way.pump}.{name}" for name in ("curve", "z") if getattr(pump, name) is None]
    outlet = plan.outlets[way.outlet]
    if outlet.type is None and outlet.flow is None:
        found.append(f"outlets.{way.outlet}.flow")
    if outlet.z is None:
        found.append(f"outlets.{way.outlet}.z")
    return tuple(found)


def wanted_temperature(plan: Plan, outlet: str) -> float:
    """Temperature wanted at a mixed outlet [K]: its own, else the warmest use of it, else that of a shower."""
    own = plan.outlets[outlet].temperature
    if own is not None:
        return own
    warm = [
        use.temperature
        for name, use in plan.uses.items()
        if use.temperature is not None and (use.outlet or name) == outlet
    ]
    return max(warm, default=SHOWER_TEMPERATURE)


def series_case(batch: Batch, way: Way) -> SeriesCase:
    """Put numbers to a way along the rows of a batch.

    Parameters
    ----------
    batch : Batch
        The plan with its rows; nothing that :func:`missing` names may be missing in row 0.
    way : Way
        A way that is not broken.

    Returns
    -------
    SeriesCase
        The water is cold up to the heater, hot behind it, mixed behind the mixing tap; the tank is half full.
    """
    plan = batch.plan
    cold = batch.number("site.cold_water")
    hot = batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
    mixed = mixed_temperature(batch, way)
    share = np.where(hot > cold, np.clip((mixed - cold) / np.maximum(hot - cold, 1e-9), 0.0, 1.0), 0.0)
    share = share if way.mixer else np.zeros_like(cold)

    temperatures, roles = [], []
    warm = cold
    for group, role in ((way.suction, series.COMMON), (way.trunk, series.COMMON), (way.hot, series.HOT)):
        for run in group:
            warm = hot if plan.runs[run].start in plan.heaters else warm
            temperatures.append(warm)
            roles.append(role)
    temperatures += [cold] * len(way.cold) + [mixed] * len(way.mixed)
    roles += [series.COLD] * len(way.cold) + [series.COMMON] * len(way.mixed)
    heat = np.stack(temperatures, axis=-1)
    numbers = runs_numbers(batch, way.runs)
    outlet = outlet_numbers(batch, way.outlet)
    return SeriesCase(
        way,
        series.SeriesPath(
            bore=numbers.bore,
            length=numbers.length,
            k=numbers.k,
            roughness=numbers.roughness,
            density=water.density(heat),
            viscosity=water.viscosity(heat),
            role=roles,
            suction=[True] * len(way.suction) + [False] * (len(roles) - len(way.suction)),
            hot_share=share,
            surface_height=tank_surface(batch, way.tank),
            pump_height=batch.number(f"pumps.{way.pump}.z", 0.0) if way.pump else np.zeros_like(cold),
            outlet_height=batch.number(f"outlets.{way.outlet}.z"),
            outlet_constant=outlet["flow"] / np.sqrt(outlet["at"]),
            pump=pump_curve(batch, way.pump) if way.pump else None,
            regulated_flow=np.where(outlet["regulated"] > 0, outlet["flow"], np.inf),
        ),
        cold,
        mixed,
        hot,
    )


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
        As wanted behind a mixing tap, else as it comes [K].
    """
    cold = batch.number("site.cold_water")
    if not way.mixer:
        return batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
    wanted = wanted_temperature(batch.plan, way.outlet)
    return np.maximum(batch.number(f"outlets.{way.outlet}.temperature", wanted), cold)


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


def pump_curve(batch: Batch, pump: str) -> PumpCurve:
    """The curve of a pump at the volts that reach it, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pump : str
        A pump whose curve is decided.

    Returns
    -------
    PumpCurve
        At the volts of the curve where none are said; the same object at every call.
    """
    return batch.once(f"pump {pump}", lambda: _pump_curve(batch, pump))


def _pump_curve(batch: Batch, pump: str) -> PumpCurve:
    planned = batch.plan.pumps[pump]
    assert planned.curve is not None
    points = np.array(planned.curve)
    rated = batch.number(f"pumps.{pump}.curve_volts")
    volts = batch.number(f"pumps.{pump}.volts")
    strength = batch.factor("pumps")[:, np.newaxis]
    return PumpCurve(
        flow=points[:, 0] * np.ones_like(strength),
        rise=points[:, 1] * strength,
        voltage=np.where(np.isnan(volts), rated, volts),
        rated_voltage=rated,
    )
