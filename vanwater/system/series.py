"""The way to one outlet as arrays along the rows, ready for the series solve."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.physics import series, water
from vanwater.physics.pump import PumpCurve
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.network import Drawn, drawn
from vanwater.system.path_conditions import mixed_temperature, tank_surface
from vanwater.system.pump import mains_pressure, pump_curve, starts_from
from vanwater.system.supply import RunNumbers, outlet_numbers, runs_numbers
from vanwater.system.thermostat import mixer_constant
from vanwater.system.water_temperature import cold_water
from vanwater.system.ways import Way

__all__ = ["SeriesCase", "series_case", "series_cases"]


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
    heat = np.stack([temperature for along_way in warmth for temperature in along_way], axis=-1)
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
    cold = cold_water(batch, way)
    hot = batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
    warm, temperatures = cold, []
    for run in (*way.suction, *way.trunk, *way.hot):
        warm = hot if batch.plan.runs[run].start in batch.plan.heaters else warm
        temperatures.append(warm)
    return temperatures + [cold] * len(way.cold) + [mixed_temperature(batch, way)] * len(way.mixed)


def _case(batch: Batch, way: Way, numbers: RunNumbers, density: Array, viscosity: Array) -> SeriesCase:
    cold = cold_water(batch, way)
    hot = batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
    mixed = mixed_temperature(batch, way)
    share = np.zeros_like(cold)
    if way.mixer:
        share = np.where(hot > cold, np.clip((mixed - cold) / np.maximum(hot - cold, 1e-9), 0.0, 1.0), 0.0)
    outlet = outlet_numbers(batch, way.outlet)
    surface = batch.number(f"mains.{way.mains}.z", 0.0) if way.mains else tank_surface(batch, way.tank)
    joined, whole = _drawn(batch, way) if way.joined else None, np.ones_like(cold)
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
            pump=_driven_by(batch, way, joined),
            supply_pressure=given if joined is None else given - joined.fallen,
            regulated_flow=np.where(outlet["regulated"] > 0, outlet["flow"], np.inf),
            mixer_constant=mixer_constant(batch, way.mixer),
            drawn=1.0 if joined is None else np.stack([joined.share.get(run, whole) for run in way.runs], axis=-1),
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
    return batch.once(f"drawn by {way.outlet}", lambda: drawn(batch, way))


def _driven_by(batch: Batch, way: Way, joined: Drawn | None) -> PumpCurve | None:
    """The pump's curve against the whole flow: wider where others run beside it, none where the outlet starts none."""
    if not way.pump or starts_from(batch.plan, way.pump, way.outlet) is False:
        return None
    curve = pump_curve(batch, way.pump)
    share = joined.share[way.trunk[0]] if joined is not None and way.trunk else None
    if share is None:
        return curve
    return PumpCurve(curve.flow / share[:, np.newaxis], curve.rise, curve.voltage, curve.rated_voltage)
