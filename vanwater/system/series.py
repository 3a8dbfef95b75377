"""The way to one outlet as arrays along the rows, ready for the series solve."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from vanwater.physics import series, water
from vanwater.physics.pump import PumpCurve
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.pump import mains_pressure, pump_curve, pump_gaps, starts_from
from vanwater.system.supply import RunNumbers, outlet_numbers, runs_numbers
from vanwater.system.thermostat import mixer_constant, set_temperature
from vanwater.system.ways import Way, sources

if TYPE_CHECKING:
    from vanwater.system.network import Drawn

__all__ = [
    "SHOWER_TEMPERATURE",
    "SeriesCase",
    "missing",
    "mixed_temperature",
    "series_case",
    "series_cases",
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
    for run in (*way.runs, *(run for branch in way.joined for run in branch)):
        if plan.runs[run].size is None and plan.runs[run].bore is None:
            found.append(f"runs.{run}.bore")
        if plan.runs[run].length is None:
            found.append(f"runs.{run}.length")
    tanks, pumps = sources(plan, way)
    found += [f"tanks.{tank}.z" for tank in tanks if plan.tanks[tank].z is None]
    found += [f"pumps.{pump}.{field}" for pump in pumps for field in pump_gaps(plan.pumps[pump])]
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
    return series_cases(batch, [way])[0]


def series_cases(batch: Batch, ways: Sequence[Way]) -> list[SeriesCase]:
    """Put numbers to several ways at once.

    Parameters
    ----------
    batch : Batch
        The plan with its rows; nothing that :func:`missing` names may be missing in row 0.
    ways : sequence of Way
        Ways that are not broken.

    Returns
    -------
    list of SeriesCase
        As :func:`series_case` for each.
    """
    if not ways:
        return []
    warmth = [_temperatures(batch, way) for way in ways]
    heat = np.stack([one for each in warmth for one in each], axis=-1)
    density, viscosity = water.density(heat), water.viscosity(heat)
    numbers = runs_numbers(batch, [run for way in ways for run in way.runs])
    ends = np.cumsum([len(way.runs) for way in ways]).tolist()
    parts = [slice(end - len(way.runs), end) for way, end in zip(ways, ends, strict=True)]
    return [
        _case(batch, way, numbers.only(part), density[:, part], viscosity[:, part])
        for way, part in zip(ways, parts, strict=True)
    ]


def _temperatures(batch: Batch, way: Way) -> list[Array]:
    """Temperature of the water in each run of a way."""
    cold = batch.number("site.cold_water")
    hot = batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
    warm, found = cold, []
    for run in (*way.suction, *way.trunk, *way.hot):
        warm = hot if batch.plan.runs[run].start in batch.plan.heaters else warm
        found.append(warm)
    return found + [cold] * len(way.cold) + [mixed_temperature(batch, way)] * len(way.mixed)


def _case(batch: Batch, way: Way, numbers: RunNumbers, density: Array, viscosity: Array) -> SeriesCase:
    cold = batch.number("site.cold_water")
    hot = batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
    mixed = mixed_temperature(batch, way)
    share = np.zeros_like(cold)
    if way.mixer:
        share = np.where(hot > cold, np.clip((mixed - cold) / np.maximum(hot - cold, 1e-9), 0.0, 1.0), 0.0)
    outlet = outlet_numbers(batch, way.outlet)
    surface = batch.number(f"mains.{way.mains}.z", 0.0) if way.mains else tank_surface(batch, way.tank)
    drawn, one = _drawn(batch, way) if way.joined else None, np.ones_like(cold)
    given = mains_pressure(batch, way.mains) if way.mains else np.zeros_like(cold)
    before = len(way.suction) + len(way.trunk)
    return SeriesCase(
        way,
        series.SeriesPath(
            bore=numbers.bore,
            length=numbers.length,
            k=numbers.k,
            roughness=numbers.roughness,
            density=density,
            viscosity=viscosity,
            role=[series.COMMON] * before
            + [series.HOT] * len(way.hot)
            + [series.COLD] * len(way.cold)
            + [series.COMMON] * len(way.mixed),
            suction=[True] * len(way.suction) + [False] * (len(way.runs) - len(way.suction)),
            hot_share=share,
            surface_height=surface,
            pump_height=_pump_height(batch, way.pump, surface),
            outlet_height=batch.number(f"outlets.{way.outlet}.z"),
            outlet_constant=outlet["flow"] / np.sqrt(outlet["at"]),
            pump=_driven_by(batch, way, drawn),
            supply_pressure=given if drawn is None else given - drawn.fallen,
            regulated_flow=np.where(outlet["regulated"] > 0, outlet["flow"], np.inf),
            mixer_constant=mixer_constant(batch, way.mixer),
            drawn=1.0 if drawn is None else np.stack([drawn.share.get(run, one) for run in way.runs], axis=-1),
        ),
        cold,
        mixed,
        hot,
    )


def _pump_height(batch: Batch, pump: str, surface: Array) -> Array:
    """Height of a pump; for one that hangs in its tank that of the water's surface, which its pressures count from."""
    if not pump or batch.plan.pumps[pump].kind == "submersible":
        return surface
    return batch.number(f"pumps.{pump}.z", 0.0)


def _drawn(batch: Batch, way: Way) -> Drawn:
    """What the followed tank gives, where others are joined to it."""
    from vanwater.system.network import drawn  # the network is built of what stands here

    return batch.once(f"drawn by {way.outlet}", lambda: drawn(batch, way))


def _driven_by(batch: Batch, way: Way, drawn: Drawn | None) -> PumpCurve | None:
    """The pump's curve against the whole flow: wider where others run beside it, none where the outlet starts none."""
    if not way.pump or starts_from(batch.plan, way.pump, way.outlet) is False:
        return None
    curve = pump_curve(batch, way.pump)
    share = drawn.share[way.trunk[0]] if drawn is not None and way.trunk else None
    if share is None:
        return curve
    return PumpCurve(curve.flow / share[:, np.newaxis], curve.rise, curve.voltage, curve.rated_voltage)


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
    cold = batch.number("site.cold_water")
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
