"""The linear network of one Newton step, solved for a whole chunk of rows by elimination of nodes.

Every link stands as ``q = constant + conductance (δ_start − δ_end)`` with δ the change of pressure at its nodes. A
mixer's flow is one more unknown, solved after the nodes are eliminated (Schur complement, one unknown a mixer).
"""

from __future__ import annotations

import numpy as np

from vanwater.physics.network.elimination import Elimination, Step
from vanwater.quantities import Array

__all__ = ["Linear"]

LEAK = 1e-22
"""Conductance to the open air of the last node of a part [m³/(s·Pa)]: keeps the pressure of a shut part finite."""

_Near = tuple[Array, Array, Array, Array]
_Fill = tuple[Array, Array | None, Array, Array]
_Down = tuple[Array, Array, Array, list[_Near], list[_Fill]]
_Up = tuple[Array, Array, Array, list[tuple[Array, Array]]]


class Linear:
    """Work space for one chunk; made once, used at every step.

    Beside what each node has too much stands, for every mixer, what one unit of its flow takes out of the node: all
    of it is carried through the elimination at once.

    Parameters
    ----------
    plan : Elimination
        Order of elimination.
    rows : int
        Count of rows.
    hot : array
        Hot share of each mixer, shape (mixers, rows).
    """

    def __init__(self, plan: Elimination, rows: int, hot: Array) -> None:
        self.plan, self.hot = plan, hot
        links, columns = plan.start.size, 1 + len(plan.mixers)
        self.conductance: Array = np.empty((links, rows))
        self.constant: Array = np.empty((links, rows))
        self.change: Array = np.zeros((plan.nodes + 1, rows))
        self._ground: Array = np.empty((plan.nodes + 1, rows))
        self._loads: Array = np.empty((plan.nodes + 1, columns, rows))
        self._falls: Array = np.zeros((plan.nodes + 1, columns, rows))
        self._excess = self._loads[:, 0]
        self._share: Array = np.empty((plan.shares, rows))
        self._sum: Array = np.empty((plan.nodes, rows))
        self._work: Array = np.empty(rows)
        self._wide: Array = np.empty((columns, rows))
        self._unit: Array = np.zeros_like(self._loads)
        for mixer, (a, b, m) in enumerate(plan.mixers.tolist(), 1):
            self._unit[a, mixer], self._unit[b, mixer] = hot[mixer - 1], 1.0 - hot[mixer - 1]
            self._unit[m, mixer] = -1.0
        self._bind()

    def _bind(self) -> None:
        """Hand each step the rows it works on, so that the loops hold no index."""
        plan = self.plan
        links, constant = list(self.conductance), list(self.constant)
        self._mesh = links[: plan.links] + list(np.empty((plan.slots - plan.links, self._work.size)))
        ground, excess = list(self._ground), list(self._excess)
        ends = list(zip(plan.start.tolist(), plan.end.tolist(), strict=True))
        self._flows = [(excess[u], excess[v], constant[i]) for i, (u, v) in enumerate(ends)]
        known = {*plan.fixed.tolist(), plan.nodes}
        self._grounds = [(ground[u], links[i]) for i, (u, v) in enumerate(ends) if v in known and u not in known]
        self._grounds += [(ground[v], links[i]) for i, (u, v) in enumerate(ends) if u in known and v not in known]
        self._merges = [(self._mesh[a], self._mesh[b], self._mesh[slot]) for slot, a, b in plan.merges]
        share, total, change = list(self._share), list(self._sum), list(self.change)
        loads = list(self._loads) if len(plan.mixers) else excess
        self._down = [_bound(step, self._mesh, share, total, ground, loads) for step in plan.steps]
        self._up = [_back(step, share, total, excess, change) for step in reversed(plan.steps)]
        self._wide_up = [_back(step, share, total, loads, list(self._falls)) for step in reversed(plan.wide)]

    def forward(self, mixed: Array) -> None:
        """Eliminate the nodes one after another; ``mixed`` are the present flows of the mixers."""
        add, multiply, divide, work = np.add, np.multiply, np.divide, self._work
        wide = self._wide if len(mixed) else work
        self._gather(mixed)
        for ground, excess, total, near, fills in self._down:
            add(ground, near[0][0] if near else LEAK, total)
            for mesh, *_ in near[1:]:
                add(total, mesh, total)
            for mesh, share, other_ground, other_excess in near:
                divide(mesh, total, share)
                multiply(share, ground, work)
                add(other_ground, work, other_ground)
                multiply(share, excess, wide)
                add(other_excess, wide, other_excess)
            for slot, old, share, mesh in fills:
                if old is None:
                    multiply(share, mesh, slot)
                else:
                    multiply(share, mesh, work)
                    add(old, work, slot)

    def _gather(self, mixed: Array) -> None:
        """Sum up what the links and mixers take out of each node, and what conducts to given pressures."""
        add, subtract = np.add, np.subtract
        self._ground.fill(0.0)
        np.copyto(self._loads, self._unit)
        for row, conductance in self._grounds:
            add(row, conductance, row)
        for start, end, constant in self._flows:
            add(start, constant, start)
            subtract(end, constant, end)
        for (a, b, m), flow, share in zip(self.plan.mixers.tolist(), mixed, self.hot, strict=True):
            self._excess[a] += share * flow
            self._excess[b] += (1.0 - share) * flow
            self._excess[m] -= flow
        for first, second, slot in self._merges:
            add(first, second, slot)

    def backward(self) -> Array:
        """The change of pressure at every node [Pa]; zero at nodes of given pressure and in the open air."""
        _substitute(self._up, self._work)
        return self.change

    def mix(self, weights: Array, stiffness: Array, wanted: Array) -> Array:
        """The change of each mixer's flow [m³/s]; to be called between ``forward`` and ``backward``.

        Parameters
        ----------
        weights : array
            Weight of the hot side's and the cold side's pressure in the mixed one, shape (2, mixers, rows).
        stiffness : array
            Fall of the mixed pressure with the flow, shape (mixers, rows) [Pa·s/m³].
        wanted : array
            Change wanted of the mixed pressure against the two sides [Pa].
        """
        _substitute(self._wide_up, self._wide)
        a, b, m = self.plan.mixers.T
        # row i: how the gap at mixer i stands, and how each mixer's flow changes it
        gap = weights[0][:, None] * self._falls[a]
        gap += weights[1][:, None] * self._falls[b]
        gap -= self._falls[m]
        right = wanted + gap[:, 0]
        matrix = np.negative(gap[:, 1:]).transpose(2, 0, 1)
        each = np.arange(len(a))
        matrix[:, each, each] += np.maximum(stiffness.T, 1e2)
        flow = right / matrix[:, 0].T if len(a) == 1 else _solved(matrix, right.T[..., None])[..., 0].T
        self._excess += (self._loads[:, 1:] * flow).sum(axis=1)
        return flow


def _bound(
    step: Step, mesh: list[Array], share: list[Array], total: list[Array], ground: list[Array], loads: list[Array]
) -> _Down:
    node = step.node
    near = [
        (mesh[slot], share[number], ground[other], loads[other])
        for other, slot, number in zip(step.neighbours, step.slots, step.shares, strict=True)
    ]
    fills = [
        (mesh[fill.slot], mesh[fill.old] if fill.old >= 0 else None, share[fill.share], mesh[fill.conductance])
        for fill in step.fills
    ]
    return ground[node], loads[node], total[node], near, fills


def _back(step: Step, share: list[Array], total: list[Array], loads: list[Array], change: list[Array]) -> _Up:
    near = [(share[number], change[other]) for other, number in zip(step.neighbours, step.shares, strict=True)]
    return loads[step.node], total[step.node], change[step.node], near


def _substitute(steps: list[_Up], work: Array) -> None:
    """Carry the changes back from the node eliminated last to the first."""
    multiply, subtract, add, divide = np.multiply, np.subtract, np.add, np.divide
    for excess, total, change, near in steps:
        divide(excess, total, work)
        if near:
            multiply(*near[0], change)
            subtract(change, work, change)
        else:
            np.negative(work, change)
        for share, other in near[1:]:
            multiply(share, other, work)
            add(change, work, change)


def _solved(matrix: Array, right: Array) -> Array:
    """Solve small systems; two mixers on one dead side ask the same, so that a diagonal may need a touch more."""
    try:
        flow = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        flow = np.linalg.solve(matrix + 1e-9 * np.abs(matrix) * np.eye(matrix.shape[-1]), right)
    return np.asarray(flow, dtype=np.float64)
