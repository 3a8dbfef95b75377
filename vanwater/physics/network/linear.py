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

_Own = tuple[Array, Array, Array, Array]
_Near = tuple[Array, Array, Array, Array, Array]
_Fill = tuple[Array, Array | None, Array, Array]


class Linear:
    """Work space for one chunk; made once, used at every step.

    Parameters
    ----------
    plan : Elimination
        Order of elimination.
    rows : int
        Count of rows.
    """

    def __init__(self, plan: Elimination, rows: int) -> None:
        self.plan = plan
        links = plan.start.size
        self.conductance: Array = np.empty((links, rows))
        self.constant: Array = np.empty((links, rows))
        self.change: Array = np.zeros((plan.nodes + 1, rows))
        self._ground: Array = np.empty((plan.nodes + 1, rows))
        self._excess: Array = np.empty((plan.nodes + 1, rows))
        self._share: Array = np.empty((plan.shares, rows))
        self._sum: Array = np.empty((plan.nodes, rows))
        self._work: Array = np.empty(rows)
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
        self._steps = [self._bound(step) for step in plan.steps]

    def _bound(self, step: Step) -> tuple[_Own, list[_Near], list[_Fill]]:
        mesh, share, node = self._mesh, self._share, step.node
        own = (self._ground[node], self._excess[node], self._sum[node], self.change[node])
        near = [
            (mesh[slot], share[number], self._ground[other], self._excess[other], self.change[other])
            for other, slot, number in zip(step.neighbours, step.slots, step.shares, strict=True)
        ]
        fills = [
            (mesh[fill.slot], mesh[fill.old] if fill.old >= 0 else None, share[fill.share], mesh[fill.conductance])
            for fill in step.fills
        ]
        return own, near, fills

    def forward(self, mixed: Array, hot: Array) -> None:
        """Eliminate the nodes one after another; ``mixed`` are the present flows of the mixers."""
        add, multiply, divide, work = np.add, np.multiply, np.divide, self._work
        self._gather(mixed, hot)
        for (ground, excess, total, _), near, fills in self._steps:
            add(ground, near[0][0] if near else LEAK, total)
            for mesh, *_ in near[1:]:
                add(total, mesh, total)
            for mesh, share, other_ground, other_excess, _ in near:
                divide(mesh, total, share)
                multiply(share, ground, work)
                add(other_ground, work, other_ground)
                multiply(share, excess, work)
                add(other_excess, work, other_excess)
            for slot, old, share, mesh in fills:
                if old is None:
                    multiply(share, mesh, slot)
                else:
                    multiply(share, mesh, work)
                    add(old, work, slot)

    def _gather(self, mixed: Array, hot: Array) -> None:
        """Sum up what the links and mixers take out of each node, and what conducts to given pressures."""
        add, subtract = np.add, np.subtract
        self._ground.fill(0.0)
        self._excess.fill(0.0)
        for row, conductance in self._grounds:
            add(row, conductance, row)
        for start, end, constant in self._flows:
            add(start, constant, start)
            subtract(end, constant, end)
        for (a, b, m), flow, share in zip(self.plan.mixers.tolist(), mixed, hot, strict=True):
            self._excess[a] += share * flow
            self._excess[b] += (1.0 - share) * flow
            self._excess[m] -= flow
        for first, second, slot in self._merges:
            add(first, second, slot)

    def backward(self) -> Array:
        """The change of pressure at every node [Pa]; zero at nodes of given pressure and in the open air."""
        multiply, subtract, work = np.multiply, np.subtract, self._work
        for (_, excess, total, change), near, _ in reversed(self._steps):
            np.divide(excess, total, work)
            if near:
                multiply(near[0][1], near[0][4], change)
                subtract(change, work, change)
            else:
                np.negative(work, change)
            for _, share, _, _, other in near[1:]:
                multiply(share, other, work)
                np.add(change, work, change)
        return self.change

    def mix(self, hot: Array, weights: Array, stiffness: Array, wanted: Array) -> Array:
        """The change of each mixer's flow [m³/s]; to be called between ``forward`` and ``backward``.

        Parameters
        ----------
        hot : array
            Hot share of each mixer, shape (mixers, rows) as all that follow.
        weights : array
            Weight of the hot side's and the cold side's pressure in the mixed one, shape (2, mixers, rows).
        stiffness : array
            Fall of the mixed pressure with the flow [Pa·s/m³].
        wanted : array
            Change wanted of the mixed pressure against the two sides [Pa].
        """
        pull = self._pull(hot)
        answer, rest = self._answer(pull)
        a, b, m = self.plan.mixers.T
        # row i of the system: how flow j changes the gap at mixer i
        matrix = (weights[0] * answer[:, a] + weights[1] * answer[:, b] - answer[:, m]).transpose(2, 1, 0)
        right = wanted - rest[m] + weights[0] * rest[a] + weights[1] * rest[b]
        each = np.arange(len(a))
        matrix[:, each, each] += np.maximum(stiffness.T, 1e2)
        flow = right / matrix[:, 0].T if len(a) == 1 else _solved(matrix, right.T[..., None])[..., 0].T
        for step in self.plan.wide:
            self._excess[step.node] += (pull[:, step.node] * flow).sum(axis=0)
        return flow

    def _pull(self, hot: Array) -> Array:
        """What one unit of each mixer's flow takes out of the nodes, carried through the elimination."""
        pull = np.zeros((len(hot), *self._ground.shape))
        for i, (a, b, m) in enumerate(self.plan.mixers.tolist()):
            pull[i, a], pull[i, b], pull[i, m] = hot[i], 1.0 - hot[i], -1.0
        for step in self.plan.wide:
            for other, number in zip(step.neighbours, step.shares, strict=True):
                pull[:, other] += self._share[number] * pull[:, step.node]
        return pull

    def _answer(self, pull: Array) -> tuple[Array, Array]:
        """Fall of the pressures with each mixer's flow, and their change at its present flow."""
        answer, rest = np.zeros_like(pull), np.zeros_like(self._ground)
        for step in reversed(self.plan.wide):
            node = step.node
            np.divide(pull[:, node], self._sum[node], out=answer[:, node])
            np.divide(-self._excess[node], self._sum[node], out=rest[node])
            for other, number in zip(step.neighbours, step.shares, strict=True):
                answer[:, node] += self._share[number] * answer[:, other]
                rest[node] += self._share[number] * rest[other]
        return answer, rest


def _solved(matrix: Array, right: Array) -> Array:
    """Solve small systems; two mixers on one dead side ask the same, so that a diagonal may need a touch more."""
    try:
        flow = np.linalg.solve(matrix, right)
    except np.linalg.LinAlgError:
        flow = np.linalg.solve(matrix + 1e-9 * np.abs(matrix) * np.eye(matrix.shape[-1]), right)
    return np.asarray(flow, dtype=np.float64)
