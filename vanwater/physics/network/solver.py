"""Steady flows and pressures of a whole water network, thousands of rows at once."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vanwater.physics.friction_law import friction_terms
from vanwater.physics.network.damped import Damped
from vanwater.physics.network.flows import Flows
from vanwater.physics.network.inputs import NetworkInputs
from vanwater.physics.network.laws import FrictionLaw
from vanwater.physics.network.newton import Newton
from vanwater.physics.network.structure import Network
from vanwater.quantities import Array, PressureDifference

__all__ = ["solve"]

CHUNK = 20_000
"""Numbers in one array of a chunk: what a core's own cache holds a dozen of."""
FEW = 128
"""Rows that are cheaper carried on than cut out."""
FAST_STEPS = 20
"""Plain Newton steps before a row goes the damped way; an everyday van takes four to six."""

DAMPED_STAGES = 30
"""Stages of the damped way; a row that needs it takes six as a rule."""


def solve(
    network: Network,
    inputs: NetworkInputs,
    tolerance: PressureDifference[float] = 1e-6,
    friction: FrictionLaw = friction_terms,
) -> Flows:
    """Steady flows and pressures of a network for every row of its numbers.

    Parameters
    ----------
    network : Network
        The structure.
    inputs : NetworkInputs
        The numbers, one row a case or a design.
    tolerance : float
        Greatest gap left between pressure at hand and loss of a piece [Pa].
    friction : callable
        Friction law, Reynolds number and relative roughness in, :class:`FrictionTerms` out; another one only to
        compare with other programs.

    Returns
    -------
    Flows
        Flows and pressures, residual and mass balance of every row.

    Raises
    ------
    ValueError
        When a number's shape does not fit the structure or a number cannot be, with the name of the piece.

    Notes
    -----
    Friction by Darcy-Weisbach with the law of :mod:`vanwater.physics.friction`, local losses K on the bore of their
    run, outlets Q = k √p or held at a limit, no flow back through outlets and check valves. Newton's method on all
    flows at once, the linear network solved by elimination of nodes, so that trees and loops cost one step a piece;
    rows that do not settle in a few steps are solved by descent on the network's convex energy. A network without
    mixers has one balance. Two mixers of opposite leading sides on thin common lines may have more than one: then
    one of them is given.

    References
    ----------
    Todini, Pilati (1988), A gradient method for the analysis of pipe networks; Millar (1951), Some general theorems
    for non-linear systems possessing resistance, Philosophical Magazine 42; Kennelly (1899), Equivalence of triangles
    and three-pointed stars in conducting networks, Electrical World 34.

    Examples
    --------
    >>> from vanwater.physics.network import Network, NetworkInputs, Outlet, Run, Source, solve
    >>> network = Network((Run("hose", "tank", "tap"),), (Source("tank", "tank"),), (Outlet("tap", "tap"),))
    >>> inputs = NetworkInputs(elevation=0.0, length=2.0, bore=0.010, density=999.1, viscosity=1.138e-3,
    ...                        source_pressure=5000.0, outlet_constant=1e-6)
    >>> flows = solve(network, inputs)
    >>> round(float(flows.outlet("tap")[0]) * 6e4, 3), round(float(flows.at("tap")[0]))
    (3.386, 3185)
    """
    arrays = inputs.shaped(network)
    rows = max(len(array) for array in arrays.values())
    result = _Result(network, rows, tolerance)
    size = int(np.clip(CHUNK // network.elimination.start.size, 256, 1024))
    for first in range(0, rows, size):
        numbers = np.arange(first, min(first + size, rows))
        state = Newton(network, _part(arrays, slice(first, first + size)), numbers.size, friction)
        state.start()
        _iterate(state, numbers, result)
    left = np.flatnonzero(~result.done)
    for first in range(0, left.size, size):
        numbers = left[first : first + size]
        damped = Damped(network, _part(arrays, numbers), numbers.size, friction)
        damped.start()
        damped.settle()
        if network.mixers:
            _follow(damped, numbers, result)
        else:
            result.keep(damped, numbers, slice(None), damped.gaps(), FAST_STEPS + damped.steps)
    return result.flows()


def _iterate(state: Newton, numbers: npt.NDArray[np.intp], result: _Result) -> None:
    """Plain Newton; rows in balance are put aside, and the chunk shrinks when half of them are."""
    done = np.zeros(numbers.size, dtype=bool)
    for step in range(1, FAST_STEPS + 1):
        worst = state.evaluate()
        fresh = (worst < result.tolerance) & ~done
        if fresh.any():
            fresh &= state.whole()
        if fresh.all():
            result.keep(state, numbers, slice(None), worst, step)
            return
        if fresh.any():
            result.keep(state, numbers, np.flatnonzero(fresh), worst, step)
            done |= fresh
        left = np.flatnonzero(~done)
        if not left.size:
            return
        if left.size < 0.5 * done.size and done.size > FEW:
            state, numbers, done = state.taken(left), numbers[left], np.zeros(left.size, dtype=bool)
            state.evaluate()
        state.step()


def _follow(state: Damped, numbers: npt.NDArray[np.intp], result: _Result) -> None:
    """Mixers on their way to the leading side, stage by stage; rows that arrive leave the chunk as they do."""
    for turn in range(DAMPED_STAGES):
        arrived = state.follow(turn, result.tolerance)
        if np.count_nonzero(arrived) < 0.5 * arrived.size:
            continue
        which = np.flatnonzero(arrived)
        result.keep(state, numbers, which, state.gaps(), FAST_STEPS + state.steps)
        if which.size == arrived.size:
            return
        left = np.flatnonzero(~arrived)
        state, numbers = state.taken(left), numbers[left]
    state.tighten()
    result.keep(state, numbers, slice(None), state.gaps(), FAST_STEPS + state.steps)


def _part(arrays: dict[str, Array], rows: slice | npt.NDArray[np.intp]) -> dict[str, Array]:
    return {name: array if len(array) == 1 else array[rows] for name, array in arrays.items()}


class _Result:
    """Where the rows are put aside."""

    def __init__(self, network: Network, rows: int, tolerance: float) -> None:
        plan = network.elimination
        self.network, self.tolerance = network, tolerance
        self.flow: Array = np.zeros((rows, plan.start.size))
        self.mixed: Array = np.zeros((rows, len(plan.mixers)))
        self.pressure: Array = np.zeros((rows, plan.nodes))
        self.drawn: Array = np.zeros((rows, plan.fixed.size))
        self.residual, self.imbalance = np.full(rows, np.inf), np.full(rows, np.inf)
        self.steps = np.zeros(rows, dtype=np.intp)
        self.done = np.zeros(rows, dtype=bool)

    def keep(
        self,
        state: Newton,
        numbers: npt.NDArray[np.intp],
        which: slice | npt.NDArray[np.intp],
        worst: Array,
        step: int,
    ) -> None:
        at = numbers[which]
        self.flow[at] = state.flow[:, which].T
        self.mixed[at] = state.mixed[:, which].T
        self.pressure[at] = state.pressure[:-1, which].T
        self.residual[at] = worst[which]
        imbalance, drawn = state.imbalance()
        self.imbalance[at], self.drawn[at] = imbalance[which], drawn[:, which].T
        self.steps[at] = step
        self.done[at] = True

    def flows(self) -> Flows:
        """Cut the links into runs, pumps and outlets."""
        runs, links = len(self.network.runs), self.network.elimination.links
        most = np.abs(self.flow).max(axis=1)
        return Flows(
            network=self.network,
            runs=self.flow[:, :runs],
            pumps=self.flow[:, runs:links],
            outlets=self.flow[:, links:],
            mixers=self.mixed,
            sources=self.drawn,
            pressure=self.pressure,
            residual=self.residual,
            imbalance=self.imbalance,
            iterations=self.steps,
            converged=(self.residual < self.tolerance) & (self.imbalance <= np.maximum(1e-9 * most, 1e-15)),
        )
