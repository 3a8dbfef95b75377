"""Outlets open together behind a pump's pressure switch: which cases cycle, how the flows swing, their means."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from vanwater.answers.outlets.cycling import LEAST_LINE
from vanwater.physics.network import Flows
from vanwater.physics.switch_cycle import cycle_pressures, cycle_times
from vanwater.quantities import Array
from vanwater.system.accumulators import serving
from vanwater.system.batch import Batch
from vanwater.system.compliance import elastic_storage, pump_line, taken
from vanwater.system.network import Case, Solved, solve_ways
from vanwater.system.ways import Way

__all__ = ["Cycled", "cycled"]

Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False, kw_only=True)
class Cycled:
    """Cases of a network; those under which a pump cycles at the moment of their mean.

    Parameters
    ----------
    solved : Solved
        Outlets give their mean over a cycle; all else is of the moment at which they draw as much in all.
    crossing : mapping of str to array
        Pressure behind each pump at which it would run on, were there no switch, a case [Pa].
    cycles : mapping of str to array of bool
        The cases in which each pump's switch stops it.
    least, most : array, shape (cases, outlets)
        Flow at cut-in and at cut-out, or the steady one [m³/s].
    times : mapping of str to tuple of array
        For how long each pump runs and rests in a cycle, a case; NaN where it does not cycle, no cut-in is decided or
        the outlets run dry [s].
    """

    solved: Solved
    crossing: Mapping[str, Array]
    cycles: Mapping[str, Bools]
    least: Array
    most: Array
    times: Mapping[str, tuple[Array, Array]]


def cycled(batch: Batch, ways: Mapping[str, Way], cases: Sequence[Case], solved: Solved) -> Cycled:
    """Follow the switch of each pump through its cycle, where outlets open together let it cycle.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    ways : mapping of str to Way
        The ways to the outlets.
    cases : sequence of Case
        What is open, in which row.
    solved : Solved
        Their steady solve, as if there were no switch.

    Returns
    -------
    Cycled
        The network solved once more with the pressures between cut-in and cut-out held behind the pumps that cycle,
        every outlet's mean over the time that passes at each; a pump without a cut-in is held at its cut-out.
    """
    flows = solved.flows
    crossing = {pump.name: flows.at(pump.end) for pump in solved.network.pumps}
    rows = np.array([case.row for case in cases])
    cut_out = {pump: batch.number(f"pumps.{pump}.cut_out")[rows] for pump in crossing}
    cycles = {pump: (flows.pump(pump) > 0.0) & (stands > cut_out[pump]) for pump, stands in crossing.items()}
    some = np.flatnonzero(np.any(list(cycles.values()), axis=0)) if cycles else np.array([], dtype=np.intp)
    if not some.size:
        return Cycled(
            solved=solved, crossing=crossing, cycles=cycles, least=flows.outlets, most=flows.outlets, times={}
        )
    pumps = [pump for pump in crossing if cycles[pump].any()]
    own = [cases[place] for place in some]
    swings = [_swing(batch, ways, own, pump, crossing[pump][some], cycles[pump][some]) for pump in pumps]
    count = max(len(pressure) for pressure, _ in swings)
    held = np.stack([_filled(pressure, count) for pressure, _ in swings], axis=-1)  # moments, cases, pumps
    hold = [f"{pump} outlet" for pump in pumps]
    led = {outlet.name: ways[outlet.name] for outlet in solved.network.outlets}
    followed = _held(batch, led, own, held, hold)
    told = {name: np.empty((some.size, flows.outlets.shape[1])) for name in ("least", "most", "mean")}
    means = np.empty((some.size, len(pumps)))
    times = {pump: (np.full(len(cases), np.nan), np.full(len(cases), np.nan)) for pump in pumps}
    told["least"][:], told["most"][:], told["mean"][:] = (flows.outlets[some] for _ in told)
    for at, (pump, (pressure, water)) in enumerate(zip(pumps, swings, strict=True)):
        moments = slice(0, len(pressure))
        supply = _of_moments(followed, followed.pump(pump), count)[moments]
        drawn = supply + _of_moments(followed, followed.sources[:, at - len(pumps)], count)[moments]
        filled, emptied = cycle_times(water, supply, drawn)
        real = cycles[pump][some] & (drawn[0] > 0.0) & (batch.plan.pumps[pump].cut_in is not None)
        for laid, spent in zip(times[pump], (filled, emptied), strict=True):
            laid[some] = np.where(real, spent.sum(axis=0), np.nan)
        time = filled + emptied
        time[:, drawn[0] <= 0.0] = 0.0
        time[0, drawn[0] <= 0.0] = 1.0  # it stays at the cut-in, and nothing runs
        share = time / time.sum(axis=0)
        means[:, at] = _pressure_at(np.sum(share * drawn, axis=0), drawn, pressure)
        for place, outlet in enumerate(solved.network.outlets):
            if ways[outlet.name].pump != pump:
                continue
            each = _of_moments(followed, followed.outlets[:, place], count)[moments]
            told["least"][:, place], told["most"][:, place] = each[0], each[1]
            told["mean"][:, place] = np.sum(share * each, axis=0)
    moment = _held(batch, led, own, means[np.newaxis], hold)
    least, most = flows.outlets.copy(), flows.outlets.copy()
    least[some], most[some] = told["least"], told["most"]
    return Cycled(
        solved=replace(solved, flows=_put(flows, some, moment, told["mean"])),
        crossing=crossing,
        cycles=cycles,
        least=least,
        most=most,
        times=times,
    )


def _swing(
    batch: Batch, ways: Mapping[str, Way], cases: Sequence[Case], pump: str, crossing: Array, cycles: Bools
) -> tuple[Array, Array]:
    """Pressures behind a pump at which a cycle is looked at, cut-in and cut-out first, and the water about each.

    Cases in which it runs on stay at their crossing, those without a cut-in at their cut-out.
    """
    rows = np.array([case.row for case in cases])
    cut_in, cut_out = (batch.number(f"pumps.{pump}.{end}")[rows] for end in ("cut_in", "cut_out"))
    if batch.plan.pumps[pump].cut_in is None:
        stands = np.where(cycles, cut_out, crossing)
        return np.stack([stands, stands]), np.ones((2, len(cases)))
    kept = elastic_storage(batch, _vessels(batch, ways, pump), np.maximum(pump_line(batch, pump).likely, LEAST_LINE))
    there = taken(kept, len(batch), rows)
    pressure, water = cycle_pressures(np.where(cycles, crossing, cut_out + 1.0), cut_in, cut_out, there)
    none = np.zeros((2, len(cases)))
    held = np.concatenate([np.stack([cut_in, cut_out]), pressure])
    return np.where(cycles, held, crossing), np.where(cycles, np.concatenate([none, water]), 1.0)


def _vessels(batch: Batch, ways: Mapping[str, Way], pump: str) -> tuple[str, ...]:
    """The accumulators whose water comes to every outlet behind a pump."""
    serves = [serving(batch.plan, pump, outlet) for outlet, way in ways.items() if way.pump == pump]
    return tuple(name for name in serves[0] if all(name in others for others in serves)) if serves else ()


def _held(batch: Batch, ways: Mapping[str, Way], cases: Sequence[Case], pressures: Array, hold: Sequence[str]) -> Flows:
    """The cases with each of the pressures held, moment after moment."""
    given = [replace(case, held=tuple(at)) for moment in pressures for case, at in zip(cases, moment, strict=True)]
    return solve_ways(batch, ways, given, *hold).flows


def _of_moments(flows: Flows, values: Array, count: int) -> Array:
    return np.reshape(values, (count, len(flows.residual) // count))


def _filled(moments: Array, count: int) -> Array:
    """Moments with the last one repeated until there are so many."""
    return np.concatenate([moments, np.repeat(moments[-1:], count - len(moments), axis=0)])


def _pressure_at(mean: Array, drawn: Array, pressure: Array) -> Array:
    """Pressure at which the mean is drawn, between those that were looked at."""
    order = np.argsort(pressure, axis=0)
    draws, stands = (np.take_along_axis(each, order, axis=0) for each in (drawn, pressure))
    return np.array([np.interp(mean[case], draws[:, case], stands[:, case]) for case in range(mean.size)])


def _put(flows: Flows, places: npt.NDArray[np.intp], moment: Flows, outlets: Array) -> Flows:
    """Flows in which some cases are those of a moment, with other flows at the outlets."""
    nodes = [moment.network.nodes.index(node) for node in flows.network.nodes]
    other = {
        "runs": moment.runs,
        "pumps": moment.pumps,
        "outlets": outlets,
        "mixers": moment.mixers,
        "sources": moment.sources[:, : flows.sources.shape[1]],
        "pressure": moment.pressure[:, nodes],
        "residual": moment.residual,
        "imbalance": moment.imbalance,
        "iterations": moment.iterations,
        "converged": moment.converged,
    }
    laid = {name: getattr(flows, name).copy() for name in other}
    for name, values in other.items():
        laid[name][places] = values
    return Flows(network=flows.network, **laid)
