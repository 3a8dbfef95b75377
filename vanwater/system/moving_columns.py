"""The columns of water that a shutting tap stops: from the accumulator, or from the pump, to the tap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from vanwater.physics import water
from vanwater.physics.series import COMMON, SeriesPath, series_flows
from vanwater.plan.model import Plan
from vanwater.plan.tables import FittingRow, fittings, pipes
from vanwater.quantities import Array
from vanwater.system.accumulators import accumulators_behind
from vanwater.system.batch import Batch
from vanwater.system.compliance import take_up
from vanwater.system.design_pressure import shut_off_of
from vanwater.system.over_time import switched_outlets
from vanwater.system.supply import outlet_numbers, runs_numbers
from vanwater.system.thermostat import mixer_constant
from vanwater.system.water_temperature import cold_water
from vanwater.system.ways import Way

__all__ = ["MovingColumn", "moving_columns"]

TAP = "mixing tap"
"""Fitting whose loss is that of an open tap where the plan counts none: what an outlet is measured at is mostly its
aerator or spray head, and the tap before it takes little."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class MovingColumn:
    """The water between what takes the blow and a tap.

    Parameters
    ----------
    outlet, tap : str
        The outlet, and where it is shut: its mixing tap, or itself.
    pump, vessel : str
        The pump before it, and the accumulator that takes the blow; empty where the column ends at the pump.
    side : str
        "hot" or "cold" for a side of a mixing tap, else empty.
    runs : tuple of str
        Runs from there to the tap.
    flow : float
        Flow that is stopped at most, driven by the cut-out of the switch [m³/s].
    before : float
        Pressure that the blow comes on top of: the cut-out where an accumulator holds it, else the pump's shut-off at
        its own volts, since it pushes on until its switch has stopped it [Pa].
    share : float
        Share of the pressure before the tap, lift taken off, that the open tap itself takes of it at that flow [-].
    density : float
        Density of the cold water [kg/m³].
    length : array, shape (runs,)
        Length of each run [m].
    area : array, shape (runs,)
        Section of each run [m²].
    give : array, shape (runs,)
        Water that each run takes up for each pascal at least, as it does in a blow [m³/Pa].
    """

    outlet: str
    tap: str
    pump: str
    vessel: str
    side: str
    runs: tuple[str, ...]
    flow: float
    before: float
    share: float
    density: float
    length: Array
    area: Array
    give: Array


def moving_columns(plan: Plan) -> tuple[MovingColumn, ...]:
    """Every column that a tap behind a switched pump can stop.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of MovingColumn
        One an outlet; two where a mixing tap can be turned to one side, the whole flow on each.

    Notes
    -----
    An accumulator that is not on the way takes the blow as well, but only after the way to it: such a column is taken
    from the pump.
    """
    return plan.once("moving columns", lambda: _moving_columns(plan), alone=True)


def _moving_columns(plan: Plan) -> tuple[MovingColumn, ...]:
    batch = Batch(plan, alone=True)
    each = list(_legs(plan))
    paths = [_path(batch, leg.way, leg.runs) for leg in each]
    return tuple(
        _column(batch, leg, path, float(solved.flow[0]), float(water.density(cold_water(batch, leg.way))[0]))
        for leg, path, solved in zip(each, paths, series_flows(paths), strict=True)
    )


class _Leg(NamedTuple):
    """A way to a tap by one side of it, what takes the blow on it, and the runs behind that."""

    way: Way
    side: str
    leg: tuple[str, ...]
    vessel: str
    runs: tuple[str, ...]


def _legs(plan: Plan) -> Iterator[_Leg]:
    for way in switched_outlets(plan).values():
        filled = _filled(plan, way.pump)
        for side, leg in (("hot", way.hot), ("cold", way.cold)) if way.mixer else (("", ()),):
            whole = (*way.trunk, *leg)
            onward = {name: _from(plan, whole, plan.accumulators[name].at) for name in filled}
            vessel = next((name for name in filled if onward[name]), "")
            yield _Leg(way, side, leg, vessel, onward.get(vessel, whole))


def _column(batch: Batch, leg: _Leg, path: SeriesPath, flow: float, density: float) -> MovingColumn:
    plan, way = batch.plan, leg.way
    runs = [plan.runs[run] for run in leg.runs]
    bore = np.array([pipes()[run.size].bore if run.size is not None else run.bore for run in runs])
    before = _before(plan, way.pump, bool(_filled(plan, way.pump)))
    return MovingColumn(
        outlet=way.outlet,
        tap=way.mixer or way.outlet,
        pump=way.pump,
        vessel=leg.vessel,
        side=leg.side,
        runs=leg.runs,
        flow=flow,
        before=before,
        share=_share(batch, leg, path, flow, before),
        density=density,
        length=np.array([run.length for run in runs]),
        area=0.25 * np.pi * bore**2,
        give=np.array([take_up(run.size, run.bore, run.length)[0] for run in runs]),
    )


def _filled(plan: Plan, pump: str) -> list[str]:
    """Accumulators behind a pump whose pre-charge is decided: one behind a check valve takes the blow there too."""
    return [name for name in accumulators_behind(plan, pump) if plan.accumulators[name].precharge is not None]


def _from(plan: Plan, runs: tuple[str, ...], place: str) -> tuple[str, ...]:
    """The runs from a place on; none where it is not on the way."""
    starts = [plan.runs[run].start for run in runs]
    return runs[starts.index(place) :] if place in starts else ()


def _path(batch: Batch, way: Way, runs: tuple[str, ...]) -> SeriesPath:
    """The way from where the cut-out holds to the outlet, all of the flow on one side of the tap."""
    outlet = outlet_numbers(batch, way.outlet)
    numbers = runs_numbers(batch, [*runs, *way.mixed])
    cold = cold_water(batch, way)
    height = batch.number(f"pumps.{way.pump}.z", 0.0)
    return SeriesPath(
        bore=numbers.bore,
        length=numbers.length,
        k=numbers.k,
        roughness=numbers.roughness,
        density=water.density(cold)[:, np.newaxis],
        viscosity=water.viscosity(cold)[:, np.newaxis],
        role=[COMMON] * numbers.bore.shape[-1],
        suction=[False] * numbers.bore.shape[-1],
        hot_share=0.0,
        surface_height=height,
        pump_height=height,
        outlet_height=batch.number(f"outlets.{way.outlet}.z"),
        outlet_constant=outlet["flow"] / np.sqrt(outlet["at"]),
        supply_pressure=batch.number(f"pumps.{way.pump}.cut_out"),
        regulated_flow=np.where(outlet["regulated"] > 0, outlet["flow"], np.inf),
    )


def _before(plan: Plan, pump: str, held: bool) -> float:
    """The cut-out where an accumulator holds it, if the pump gets there; else what the pump makes without flow."""
    most, cut_out = shut_off_of(plan, pump), plan.pumps[pump].cut_out
    assert most is not None and cut_out is not None
    return min(cut_out, most) if held else most


def _share(batch: Batch, leg: _Leg, path: SeriesPath, flow: float, before: float) -> float:
    """What the open tap itself takes of the pressure before it."""
    left = before + float(path.lift(path.surface_height, path.outlet_height)[0])
    if left <= 0.0 or flow <= 0.0:
        return 1.0
    return min(_tap(batch, leg.way, leg.leg) * flow**2 / left, 1.0)


def _tap(batch: Batch, way: Way, leg: tuple[str, ...]) -> float:
    """Loss of the open tap over the square of the flow [Pa s²/m⁶]."""
    plan, table = batch.plan, fittings()
    known = [
        (kind, count) for run in leg for kind, count in plan.runs[run].fittings.items() if kind not in plan.fittings
    ]
    counted = sum(count * _loss(table[kind]) for kind, count in known if table[kind].kind == "mixer")
    valve = float(mixer_constant(batch, way.mixer)[0]) if way.mixer else np.inf
    told = counted + 1.0 / valve**2
    return told or _loss(table[TAP])


def _loss(row: FittingRow) -> float:
    return 0.0 if row.loss is None or row.loss_at is None else row.loss / row.loss_at**2
