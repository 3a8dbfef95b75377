"""The whole water network of a plan as physics sees it: any outlets open together, all rows in one solve."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np

from vanwater.physics import network as physics
from vanwater.physics import water
from vanwater.physics.pump import PumpCurve
from vanwater.physics.statics import STANDARD_GRAVITY
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.cushion import CHECK_VALVES
from vanwater.system.series import missing, mixed_temperature, pump_curve, tank_surface
from vanwater.system.supply import outlet_numbers, runs_numbers
from vanwater.system.ways import Way, way_to

__all__ = ["Case", "Solved", "Together", "complete_ways", "open_together", "solve_cases"]


_TRICKLE = 1e-6  # m³/s


@dataclass(frozen=True, slots=True)
class Case:
    """One case of a network.

    Parameters
    ----------
    opened : tuple of str
        Outlets that are open; each must have a complete way.
    row : int
        Row of the batch.
    taps : tuple of (str, float)
        Mixing taps that stand at another hot share than the one for the wanted temperature.
    held : float, optional
        Gauge pressure at the place that :func:`solve_cases` is told to hold [Pa].
    resting : tuple of str
        Pumps that stand still and let nothing through.
    """

    opened: tuple[str, ...]
    row: int = 0
    taps: tuple[tuple[str, float], ...] = ()
    held: float = 0.0
    resting: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """Cases of a network with their numbers and what they gave, one row a case.

    Parameters
    ----------
    flows : Flows
        Flows and pressures.
    numbers : mapping of str to array
        What was put into the network, by the names of :class:`vanwater.physics.network.NetworkInputs`.
    """

    flows: physics.Flows
    numbers: Mapping[str, Array]

    @property
    def network(self) -> physics.Network:
        """The structure."""
        return self.flows.network

    def of_run(self, key: str, run: str) -> Array:
        """A number of a run, one a case: "bore", "density", "loss_coefficient" ..."""
        return self.numbers[key][:, [one.name for one in self.network.runs].index(run)]

    def speed(self, run: str) -> Array:
        """Mean speed of the water in a run [m/s]."""
        area = 0.25 * np.pi * self.of_run("bore", run) ** 2
        return np.asarray(np.abs(self.flows.run(run)) / area, dtype=np.float64)

    def lift(self, run: str) -> Array:
        """Pressure that the rise of a run takes; a fall gives [Pa]."""
        nodes, one = self.network.nodes, self._run(run)
        height = self.numbers["elevation"]
        rise = height[:, nodes.index(one.end)] - height[:, nodes.index(one.start)]
        return np.asarray(rise * self.of_run("density", run) * STANDARD_GRAVITY, dtype=np.float64)

    def loss(self, run: str) -> Array:
        """Pressure that a run takes with its fittings [Pa]."""
        one = self._run(run)
        return np.asarray(self.flows.at(one.start) - self.flows.at(one.end) - self.lift(run), dtype=np.float64)

    def _run(self, run: str) -> physics.Run:
        return next(one for one in self.network.runs if one.name == run)


@dataclass(frozen=True, slots=True, eq=False)
class Together:
    """What the outlets of a network give for several sets of open ones.

    Parameters
    ----------
    outlets : tuple of str
        The outlets of the network.
    flow : array, shape (sets, rows, outlets)
        Flow at each outlet [m³/s]; none where it is shut.
    pressure : array, shape (sets, rows, outlets)
        Gauge pressure before each outlet [Pa].
    discharge : mapping of str to array, shape (sets, rows)
        Gauge pressure behind each pump [Pa].
    residual : array, shape (sets, rows)
        What the pressures fail to add up to [Pa].
    """

    outlets: tuple[str, ...]
    flow: Array
    pressure: Array
    discharge: Mapping[str, Array]
    residual: Array


def complete_ways(plan: Plan) -> dict[str, Way]:
    """The ways of all outlets that are complete and decided.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    dict of str to Way
        By outlet.
    """
    ways = {outlet: way_to(plan, outlet) for outlet in plan.outlets}
    return {outlet: way for outlet, way in ways.items() if not way.broken and not missing(plan, way)}


def open_together(batch: Batch, sets: Sequence[Sequence[str]]) -> Together:
    """Solve the network with each set of outlets open, for every row of a batch.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    sets : sequence of sequence of str
        Outlets that are open together; each must have a complete way.

    Returns
    -------
    Together
        One solve of all sets and rows; the outlets are those that some set opens.

    Raises
    ------
    ValueError
        When the runs do not make a network that water can flow through.
    """
    rows = len(batch)
    solved = solve_cases(batch, [Case(tuple(opened), row) for opened in sets for row in range(rows)])
    flows, built = solved.flows, solved.network
    names = [outlet.name for outlet in built.outlets]
    shape = (len(sets), rows)
    return Together(
        tuple(names),
        np.stack([flows.outlet(name).reshape(shape) for name in names], axis=-1),
        np.stack([flows.at(name).reshape(shape) for name in names], axis=-1),
        {pump.name: flows.at(pump.end).reshape(shape) for pump in built.pumps},
        flows.residual.reshape(shape),
    )


def solve_cases(batch: Batch, cases: Sequence[Case], hold: str = "") -> Solved:
    """Solve cases of a plan's network, all at once.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    cases : sequence of Case
        What is open, in which row.
    hold : str
        Node whose pressure each case gives, such as that of an accumulator; none for an empty text.

    Returns
    -------
    Solved
        The network of the outlets that are open in some case, one row a case. What the held node takes or gives is
        the last of the sources.

    Raises
    ------
    ValueError
        When the runs do not make a network that water can flow through.
    """
    opened = {outlet for case in cases for outlet in case.opened}
    ways = {outlet: way for outlet, way in complete_ways(batch.plan).items() if outlet in opened}
    built = _built(batch.plan, ways, hold)
    places = np.array([case.row for case in cases])
    numbers = {key: value[places] for key, value in _numbers(batch, ways, built).items()}
    numbers["openness"] = np.array([[float(one.name in case.opened) for one in built.outlets] for case in cases])
    mixers = [mixer.name for mixer in built.mixers]
    for place, case in enumerate(cases):
        for tap, share in case.taps:
            numbers["hot_share"][place, mixers.index(tap)] = share
    if hold:
        numbers["source_pressure"][:, -1] = [case.held for case in cases]
    if any(case.resting for case in cases):
        into = [run.end.removesuffix(" inlet") for run in built.runs]
        numbers["shut"] = np.array([[end in case.resting for end in into] for case in cases])
    return Solved(physics.solve(built, physics.NetworkInputs(**numbers)), numbers)


def _built(plan: Plan, ways: Mapping[str, Way], hold: str = "") -> physics.Network:
    runs = dict.fromkeys(run for way in ways.values() for run in way.runs)
    pumps = dict.fromkeys(way.pump for way in ways.values() if way.pump)
    tanks = dict.fromkeys(way.tank for way in ways.values())
    sides = {
        run: side for way in ways.values() for leg, side in ((way.hot, "hot"), (way.cold, "cold")) for run in leg[-1:]
    }
    mixers = dict.fromkeys(way.mixer for way in ways.values() if way.mixer)

    def begins(run: str) -> str:
        start = plan.runs[run].start
        return f"{start} outlet" if start in pumps else start

    def ends(run: str) -> str:
        end = plan.runs[run].end
        if end in pumps:
            return f"{end} inlet"
        return f"{end} {sides[run]}" if end in mixers else end

    return _structure(
        tuple(physics.Run(run, begins(run), ends(run), _one_way(plan, run)) for run in runs),
        tuple(physics.Source(place, place) for place in (*tanks, *((hold,) if hold else ()))),
        tuple(physics.Outlet(outlet, outlet) for outlet in ways),
        tuple(physics.Pump(pump, f"{pump} inlet", f"{pump} outlet") for pump in pumps),
        tuple(physics.Mixer(mixer, f"{mixer} hot", f"{mixer} cold", mixer) for mixer in mixers),
    )


@lru_cache(maxsize=64)
def _structure(
    runs: tuple[physics.Run, ...],
    sources: tuple[physics.Source, ...],
    outlets: tuple[physics.Outlet, ...],
    pumps: tuple[physics.Pump, ...],
    mixers: tuple[physics.Mixer, ...],
) -> physics.Network:
    """The checked structure; plans that differ in numbers only share it."""
    return physics.Network(runs, sources, outlets, pumps, mixers)


def _one_way(plan: Plan, run: str) -> bool:
    return any(count and kind in CHECK_VALVES for kind, count in plan.runs[run].fittings.items())


def _numbers(batch: Batch, ways: Mapping[str, Way], built: physics.Network) -> dict[str, Any]:
    names = [run.name for run in built.runs]
    runs = runs_numbers(batch, names)
    heat = _temperatures(batch, ways)
    warm = np.stack([heat[run] for run in names], axis=-1)
    taps = [outlet_numbers(batch, outlet.name) for outlet in built.outlets]
    flow, at, held = (np.stack([tap[key] for tap in taps], axis=-1) for key in ("flow", "at", "regulated"))
    numbers = {
        "elevation": np.stack([_height(batch, node) for node in built.nodes], axis=-1),
        "length": runs.length,
        "bore": runs.bore,
        "roughness": runs.roughness,
        "loss_coefficient": runs.k,
        "density": water.density(warm),
        "viscosity": water.viscosity(warm),
        "source_pressure": np.zeros((len(batch), len(built.sources))),
        "outlet_constant": flow / np.sqrt(at),
        "outlet_limit": np.where(held > 0, flow, np.inf),
    }
    if built.mixers:
        shares = {way.mixer: _hot_share(batch, way) for way in ways.values() if way.mixer}
        numbers["hot_share"] = np.stack([shares[mixer.name] for mixer in built.mixers], axis=-1)
    if built.pumps:
        curves = [_from_shut_off(pump_curve(batch, pump.name)) for pump in built.pumps]
        points = max(flow.shape[-1] for flow, _ in curves)
        numbers["pump_flow"] = np.stack([_filled(flow, points) for flow, _ in curves], axis=1)
        numbers["pump_rise"] = np.stack([_filled(rise, points) for _, rise in curves], axis=1)
    return numbers


def _from_shut_off(curve: PumpCurve) -> tuple[Array, Array]:
    """Flow and rise at the points of a curve at its volts, begun at no flow; points below it become the last one."""
    flow = np.broadcast_to(curve.flow - np.asarray(curve.slowing)[..., np.newaxis], curve.rise.shape)
    shut_off = curve.rise_and_slope(np.zeros(flow.shape[:-1]))[0][..., np.newaxis]
    order = np.argsort(flow <= 0, axis=-1, kind="stable")
    last = np.maximum(np.sum(flow > 0, axis=-1, keepdims=True) - 1, 0)
    order = np.take_along_axis(order, np.minimum(np.arange(flow.shape[-1]), last), axis=-1)
    some = np.any(flow > 0, axis=-1, keepdims=True)
    flow, rise = (np.take_along_axis(values, order, axis=-1) for values in (flow, curve.rise))
    beyond = curve.rise_and_slope(np.full(flow.shape[:-1], _TRICKLE))[0][..., np.newaxis]
    flow, rise = np.where(some, flow, _TRICKLE), np.where(some, rise, beyond)  # too weak: its last line goes on
    return np.concatenate([np.zeros_like(shut_off), flow], axis=-1), np.concatenate([shut_off, rise], axis=-1)


def _filled(values: Array, points: int) -> Array:
    """A curve with its last point repeated until it has so many points."""
    return np.concatenate([values, np.repeat(values[..., -1:], points - values.shape[-1], axis=-1)], axis=-1)


def _temperatures(batch: Batch, ways: Mapping[str, Way]) -> dict[str, Array]:
    """Temperature of the water in each run: cold to the heater, hot behind it, mixed behind the mixing tap."""
    cold = batch.number("site.cold_water")
    heat: dict[str, Array] = {}
    for way in ways.values():
        hot = batch.number(f"heaters.{way.heater}.set_point") if way.heater else cold
        warm = cold
        for run in (*way.suction, *way.trunk, *way.hot):
            warm = hot if batch.plan.runs[run].start in batch.plan.heaters else warm
            heat.setdefault(run, warm)
        heat |= dict.fromkeys(way.cold, cold)
        heat |= {run: mixed_temperature(batch, way) for run in way.mixed}
    return heat


def _hot_share(batch: Batch, way: Way) -> Array:
    cold = batch.number("site.cold_water")
    hot = batch.number(f"heaters.{way.heater}.set_point")
    mixed = mixed_temperature(batch, way)
    return np.clip((mixed - cold) / np.maximum(hot - cold, 1e-9), 0.0, 1.0)


def _height(batch: Batch, node: str) -> Array:
    """Height of a node above the van's floor; a tank's is that of its surface [m]."""
    plan = batch.plan
    if node in plan.tanks:
        return tank_surface(batch, node)
    for ending in (" inlet", " outlet", " hot", " cold"):
        if node.endswith(ending) and node.removesuffix(ending) in (*plan.pumps, *plan.mixers, *plan.outlets):
            node = node.removesuffix(ending)
            break
    for table in ("pumps", "tees", "heaters", "mixers", "outlets"):
        if node in getattr(plan, table):
            return batch.number(f"{table}.{node}.z", 0.0)
    return np.zeros(len(batch))
