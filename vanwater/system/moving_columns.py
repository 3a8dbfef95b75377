"""The columns of water that a shutting tap stops: from the accumulator, or from the pump, to the tap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from vanwater.physics import statics, valves, water
from vanwater.plan.model import Plan
from vanwater.plan.tables import pipes
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.compliance import accumulators_behind, take_up
from vanwater.system.over_time import switched_outlets
from vanwater.system.supply import outlet_numbers

__all__ = ["MovingColumn", "moving_columns"]


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
        Flow that is stopped at most: what the outlet lets through at cut-out, the losses on the way left out [m³/s].
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
    return plan.once("moving columns", lambda: tuple(_moving_columns(plan)))


def _moving_columns(plan: Plan) -> Iterator[MovingColumn]:
    ways = switched_outlets(plan)
    if not ways:
        return
    batch = Batch(plan)
    density = float(water.density(batch.number("site.cold_water"))[0])
    for outlet, way in ways.items():
        filled = [name for name in accumulators_behind(plan, way.pump) if plan.accumulators[name].precharge is not None]
        flow = _flow(batch, outlet, way.pump, density)
        sides = (("hot", way.hot), ("cold", way.cold)) if way.mixer else (("", ()),)
        for side, leg in sides:
            way_there = (*way.trunk, *leg)
            onward = {name: _from(plan, way_there, plan.accumulators[name].at) for name in filled}
            vessel = next((name for name in filled if onward[name]), "")
            runs = onward.get(vessel, ())
            known = [plan.runs[run] for run in runs or way_there]
            bore = np.array([pipes()[run.size].bore if run.size is not None else run.bore for run in known])
            yield MovingColumn(
                outlet=outlet,
                tap=way.mixer or outlet,
                pump=way.pump,
                vessel=vessel,
                side=side,
                runs=runs or way_there,
                flow=flow,
                density=density,
                length=np.array([run.length for run in known]),
                area=0.25 * np.pi * bore**2,
                give=np.array([take_up(run.size, run.bore, run.length)[0] for run in known]),
            )


def _from(plan: Plan, runs: tuple[str, ...], place: str) -> tuple[str, ...]:
    """The runs from a place on; none where it is not on the way."""
    starts = [plan.runs[run].start for run in runs]
    return runs[starts.index(place) :] if place in starts else ()


def _flow(batch: Batch, outlet: str, pump: str, density: float) -> float:
    """What an outlet lets through with the cut-out right before it."""
    numbers = outlet_numbers(batch, outlet)
    lift = batch.number(f"outlets.{outlet}.z") - batch.number(f"pumps.{pump}.z", 0.0)
    before = np.maximum(batch.number(f"pumps.{pump}.cut_out") - statics.column_pressure(lift, density), 0.0)
    free = valves.outlet_flow(before, numbers["flow"] / np.sqrt(numbers["at"]))
    return float(np.where(numbers["regulated"] > 0, np.minimum(free, numbers["flow"]), free)[0])
