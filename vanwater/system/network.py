"""The whole water network of a plan as physics sees it: any outlets open together, all rows in one solve."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.physics import network as physics
from vanwater.physics.pump import shut_off_pressure
from vanwater.physics.statics import STANDARD_GRAVITY
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.network_parts import network_numbers, network_of
from vanwater.system.path_conditions import missing
from vanwater.system.pump import pump_curve, starts_from
from vanwater.system.ways import Way, sources, way_to

__all__ = [
    "Case",
    "Drawn",
    "Solved",
    "Together",
    "complete_ways",
    "drawn",
    "open_together",
    "solve_cases",
    "solve_ways",
]


_LEAST_SHARE = 1e-6  # of the whole flow, taken for a run that gives nothing


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
    held : float or tuple of float, optional
        Gauge pressure at each place that :func:`solve_cases` is told to hold [Pa].
    resting : tuple of str
        Pumps that stand still and let nothing through.
    """

    opened: tuple[str, ...]
    row: int = 0
    taps: tuple[tuple[str, float], ...] = ()
    held: float | tuple[float, ...] = 0.0
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
        return self.numbers[key][:, [link.name for link in self.network.runs].index(run)]

    def speed(self, run: str) -> Array:
        """Mean speed of the water in a run [m/s]."""
        area = 0.25 * np.pi * self.of_run("bore", run) ** 2
        return np.asarray(np.abs(self.flows.run(run)) / area, dtype=np.float64)

    def lift(self, run: str) -> Array:
        """Pressure that the rise of a run takes; a fall gives [Pa]."""
        nodes, link = self.network.nodes, self._run(run)
        height = self.numbers["elevation"]
        rise = height[:, nodes.index(link.end)] - height[:, nodes.index(link.start)]
        return np.asarray(rise * self.of_run("density", run) * STANDARD_GRAVITY, dtype=np.float64)

    def loss(self, run: str) -> Array:
        """Pressure that a run takes with its fittings [Pa]."""
        link = self._run(run)
        return np.asarray(self.flows.at(link.start) - self.flows.at(link.end) - self.lift(run), dtype=np.float64)

    def _run(self, run: str) -> physics.Run:
        return next(link for link in self.network.runs if link.name == run)


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
    return dict(plan.once("complete ways", lambda: _complete_ways(plan)))


def _complete_ways(plan: Plan) -> Mapping[str, Way]:
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


def solve_cases(batch: Batch, cases: Sequence[Case], *hold: str) -> Solved:
    """Solve cases of a plan's network, all at once.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    cases : sequence of Case
        What is open, in which row.
    *hold : str
        Nodes whose pressure each case gives, such as that of an accumulator.

    Returns
    -------
    Solved
        The network of the outlets that are open in some case, one row a case. What the held nodes take or give are
        the last of the sources.

    Raises
    ------
    ValueError
        When the runs do not make a network that water can flow through.
    """
    opened = {outlet for case in cases for outlet in case.opened}
    ways = {outlet: way for outlet, way in complete_ways(batch.plan).items() if outlet in opened}
    return solve_ways(batch, ways, cases, *hold)


def solve_ways(batch: Batch, ways: Mapping[str, Way], cases: Sequence[Case], *hold: str) -> Solved:
    """Solve cases of the network that some ways make, all at once.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    ways : mapping of str to Way
        Ways by outlet that are whole and decided: all from tanks, or all from mains inlets.
    cases : sequence of Case
        What is open, in which row.
    *hold : str
        Nodes whose pressure each case gives.

    Returns
    -------
    Solved
        One row a case.

    Raises
    ------
    ValueError
        When the runs do not make a network that water can flow through.
    """
    built = network_of(batch.plan, ways, *hold)
    places = np.array([case.row for case in cases])
    numbers = {key: value[places] for key, value in network_numbers(batch, ways, built).items()}
    numbers["openness"] = np.array([[float(outlet.name in case.opened) for outlet in built.outlets] for case in cases])
    mixers = [mixer.name for mixer in built.mixers]
    for place, case in enumerate(cases):
        for tap, share in case.taps:
            numbers["hot_share"][place, mixers.index(tap)] = share
    if hold:
        given = [np.broadcast_to(case.held, len(hold)) for case in cases]
        numbers["source_pressure"][:, -len(hold) :] = given
    for at, pump in enumerate(built.pumps):
        if not pump.check_valve:  # it hangs in its tank and runs by the outlets' micro-switches
            numbers["pump_rise"][:, at] *= _running(batch.plan, ways, pump.name, cases)
    if any(case.resting for case in cases):
        into = [run.end.removesuffix(" inlet") for run in built.runs]
        numbers["shut"] = np.array([[end in case.resting for end in into] for case in cases])
    return Solved(physics.solve(built, physics.NetworkInputs(**numbers)), numbers)


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """What the tank that a way follows gives beside those that are joined to it, while the outlet alone is open.

    Parameters
    ----------
    share : mapping of str to array, shape (rows,)
        Flow of each run up to the parting of hot and cold over that of the outlet; 1 where no water comes [-].
    fallen : array, shape (rows,)
        Where no water comes, pressure that is lost where the tanks meet, as one runs into the other; else none [Pa].
    """

    share: Mapping[str, Array]
    fallen: Array


def drawn(batch: Batch, way: Way) -> Drawn:
    """How much of an outlet's water the tank gives that its way follows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    way : Way
        A way that is whole and decided, to which other tanks are joined.

    Returns
    -------
    Drawn
        By the whole network.
    """
    solved = solve_ways(batch, {way.outlet: way}, [Case((way.outlet,), row) for row in range(len(batch))])
    whole = solved.flows.outlet(way.outlet)
    runs = (*way.suction, *way.trunk)
    flows = {run: np.where(whole > 0.0, solved.flows.run(run), 1.0) for run in runs}
    meets = {batch.plan.runs[branch[-1]].end for branch in way.joined}
    last = max(place for place, run in enumerate(runs) if batch.plan.runs[run].end in meets)
    fallen = np.sum([solved.loss(run) for run in runs[: last + 1]], axis=0)
    if way.pump and last >= len(way.suction):
        pump = next(pump for pump in solved.network.pumps if pump.name == way.pump)
        at_rest = shut_off_pressure(pump_curve(batch, way.pump))
        fallen = fallen + at_rest - (solved.flows.at(pump.end) - solved.flows.at(pump.start))
    return Drawn(
        {run: np.maximum(flow / np.where(whole > 0.0, whole, 1.0), _LEAST_SHARE) for run, flow in flows.items()},
        np.where(whole > 0.0, 0.0, fallen),
    )


def _running(plan: Plan, ways: Mapping[str, Way], pump: str, cases: Sequence[Case]) -> Array:
    """1 where an open outlet starts a submersible pump, else 0; shape (cases, 1)."""
    starting = {
        outlet
        for outlet, way in ways.items()
        if pump in sources(plan, way)[1] and starts_from(plan, pump, outlet) is not False
    }
    return np.array([[float(not starting.isdisjoint(case.opened))] for case in cases])
