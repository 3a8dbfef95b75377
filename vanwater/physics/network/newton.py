"""Newton's method on the whole network, a chunk of rows at once.

The state is a flow a link and a pressure a node. Each step replaces every law by a straight line at the present
flow and solves the linear network. What can only flow one way, or no more than a limit, is a corner of the law:
there the link is blocked as long as the pressures push it into the corner.
"""

from __future__ import annotations

from typing import Self

import numpy as np
import numpy.typing as npt

from vanwater.physics.network.laws import CLOSED, SOFTEST, FrictionLaw, Laws
from vanwater.physics.network.linear import Linear
from vanwater.physics.network.mixing import mixed_pressure
from vanwater.physics.network.structure import Network
from vanwater.quantities import Array

__all__ = ["Newton"]

OPENS = 1e-7
"""Pressure that opens a shut check valve [Pa]: above rounding, far below what any tap notices."""
TRICKLE = 1e-6
"""Loss against the gap below which a flow counts as none when a corner is judged [-]."""
AT_REST = 1e12
"""Slope of a corner that nothing pushes either way [Pa·s/m³]: it passes the pressure on, but hardly a flow."""
LEAST_MIXED = 1e-7
"""Flow from which a mixer sets out [m³/s]: a thermostatic one has no line at rest."""
BEYOND = 1e8
"""Bound of pressures on the way [Pa]; a row that is driven there is not yet near its balance."""
FLOOD = 1.0
"""Bound of flows on the way [m³/s]."""


class Newton:
    """Flows and pressures of a chunk of rows on their way to balance.

    Parameters
    ----------
    network : Network
        The structure.
    arrays : dict of str to array
        Checked numbers, shaped (1 or rows, pieces).
    rows : int
        Count of rows.
    friction : callable
        Friction law.
    """

    steps = 0
    carried: tuple[str, ...] = ("flow", "pressure", "mixed", "square")
    """What a row takes along into a smaller chunk."""

    def __init__(self, network: Network, arrays: dict[str, Array], rows: int, friction: FrictionLaw) -> None:
        self.network, self.arrays, self.friction = network, arrays, friction
        plan = self.plan = network.elimination
        self.laws = Laws(network, arrays, rows, friction)
        self.linear = Linear(plan, rows, self.laws.hot)
        self.one_way = np.flatnonzero([piece.check_valve for piece in network.between])
        self.hot, self.cold, self.mix = plan.mixers.T
        self.any_shut = bool(self.laws.shut.any())
        links = plan.start.size
        self.flow, self.loss, self.slope, self.gap, self._work = (np.zeros((links, rows)) for _ in range(5))
        self.pressure: Array = np.zeros((plan.nodes + 1, rows))
        self.pressure[plan.fixed] = self.laws.given
        self.mixed: Array = np.zeros((len(self.hot), rows))
        self.blend: Array = np.ones(rows)
        self.closing: Array = np.full(rows, CLOSED)
        self.trickle = TRICKLE
        self.square: Array = np.zeros((self.one_way.size, rows))
        self.stopped: npt.NDArray[np.bool_] = self.laws.dry

    def start(self) -> None:
        """First guess, and one step from there: what the outlets might draw, led through the runs to the source."""
        if self.network.draws:
            self._lead()
        else:
            self._straight()
        self._shut()
        self._find_gap()
        self._find_mixing()
        self.step()

    def _lead(self) -> None:
        """Every run with what the outlets behind it draw."""
        laws, plan = self.laws, self.plan
        taps = np.minimum(laws.constant * np.sqrt(laws.at_outlets()), laws.limit)
        need = np.zeros_like(self.pressure)
        for node, tap in zip(plan.start[plan.links :].tolist(), taps, strict=True):
            need[node] += tap
        for draw in self.network.draws:
            got = need[draw.node]
            if draw.link >= 0:
                self.flow[draw.link] = got
                need[draw.start] += got
            else:
                self.mixed[draw.mixer] = np.maximum(got, LEAST_MIXED)
                hot, cold, _ = plan.mixers[draw.mixer]
                need[hot] += laws.hot[draw.mixer] * got
                need[cold] += (1.0 - laws.hot[draw.mixer]) * got
        self.flow[plan.links :] = taps
        laws.evaluate(self.flow, self.loss, self.slope)
        self.square = laws.turbulent(self.one_way)

    def _straight(self) -> None:
        """Outlets under a third of the pressure at hand, every run a straight line through what all of them draw."""
        laws, links = self.laws, self.plan.links
        taps = np.minimum(laws.constant * np.sqrt(0.3 * laws.drive()), laws.limit)
        total = np.maximum(taps.sum(axis=0), 1e-6)
        if laws.pumps:
            total = np.minimum(total, np.maximum(laws.pump_last.max(axis=0), 1e-6))
        self.flow[:links] = total
        self.flow[links:] = taps
        self.mixed[...] = 0.3 * total
        laws.evaluate(self.flow, self.loss, self.slope)
        runs = slice(0, laws.runs)
        np.divide(self.loss[runs], total, out=self.slope[runs])
        np.maximum(self.slope[runs], SOFTEST, out=self.slope[runs])
        np.multiply(self.slope[runs], total, out=self.loss[runs])
        self.slope[links:] *= 0.5
        self.square = self.slope[self.one_way] / total
        self.square[self.one_way >= laws.runs] = 0.0

    def evaluate(self) -> Array:
        """Lines of all laws at the present flows; how far each row is from balance [Pa]."""
        laws = self.laws
        laws.evaluate(self.flow, self.loss, self.slope)
        self._find_gap()
        wrong = np.abs(self.gap, out=self._work)
        self._block_one_way(wrong)
        self._block_outlets(wrong)
        if self.any_shut:
            self._shut()
            wrong[: laws.runs][laws.shut] = 0.0
        if laws.pumps:  # a steep curve cannot be met closer than its flow can be told apart
            pumps = slice(laws.runs, self.plan.links)
            wrong[pumps] -= np.minimum(wrong[pumps], 1e-15 * self.slope[pumps] * self.flow[pumps])
        worst: Array = wrong.max(axis=0)
        self._find_mixing()
        if len(self.hot):
            worst = np.maximum(worst, np.where(self.held, 0.0, np.abs(self.mixing_gap)).max(axis=0))
        return worst

    def whole(self) -> npt.NDArray[np.bool_]:
        """Rows whose flows add up at every node: one billionth of the row's flow is missed, or a drop in a year."""
        most = np.abs(self.flow).max(axis=0)
        missed = self.imbalance()[0]
        small: npt.NDArray[np.bool_] = missed <= (np.maximum(3e-10 * most, 3e-16) + 1e6 / self.closing)
        return small

    def imbalance(self) -> tuple[Array, Array]:
        """Greatest sum of flows at the nodes of each row, and what each given node draws [m³/s]."""
        plan, out = self.plan, np.zeros_like(self.pressure)
        for flow, start, end in zip(self.flow, plan.start.tolist(), plan.end.tolist(), strict=True):
            out[start] += flow
            out[end] -= flow
        for flow, share, (hot, cold, mixed) in zip(self.mixed, self.laws.hot, plan.mixers.tolist(), strict=True):
            out[hot] += share * flow
            out[cold] += (1.0 - share) * flow
            out[mixed] -= flow
        drawn = out[plan.fixed]
        out[plan.fixed] = 0.0
        return np.abs(out[:-1]).max(axis=0), drawn

    def step(self) -> None:
        """Solve the linear network and go there."""
        linear, plan = self.linear, self.plan
        conductance, constant = linear.conductance, linear.constant
        np.divide(1.0, self.slope, out=conductance)
        conductance[plan.links :] *= ~self.stopped
        np.multiply(conductance, self.gap, out=constant)
        constant += self.flow
        linear.forward(self.mixed)
        if len(self.hot):
            self.mixed = self.mixed + linear.mix(self.weights, self.stiffness, self.mixing_gap)
        change = linear.backward()
        self.pressure += change
        np.clip(self.pressure, -BEYOND, BEYOND, out=self.pressure)
        flow = self.gap  # its numbers are used up: the memory serves the new flows
        np.take(change, plan.start, axis=0, out=flow)
        flow -= np.take(change, plan.end, axis=0, out=self._work)
        flow *= conductance
        flow += constant
        self.flow, self.gap = flow, self.flow
        self._clip()

    def _find_gap(self) -> None:
        """Pressure at hand across each link beyond its loss [Pa]."""
        plan = self.plan
        np.take(self.pressure, plan.start, axis=0, out=self.gap)
        self.gap -= np.take(self.pressure, plan.end, axis=0, out=self._work)
        self.gap[: plan.links] += self.laws.lift
        self.gap -= self.loss

    def _find_mixing(self) -> None:
        if not len(self.hot):
            return
        p, laws, kind = self.pressure, self.laws, np.array([m.thermostatic for m in self.network.mixers])
        wanted, weights, stiffness = mixed_pressure(p[self.hot], p[self.cold], self.mixed, laws.hot, laws.port, kind)
        even = 1.0 - self.blend
        if np.any(even):
            share = np.stack([laws.hot, 1.0 - laws.hot])
            sides = p[self.hot] * share[0] + p[self.cold] * share[1]
            wanted = self.blend * wanted + even * sides
            weights, stiffness = self.blend * weights + even * share, self.blend * stiffness
        self.mixing_gap = wanted - p[self.mix]
        self.held = (self.mixed <= 0.0) & (self.mixing_gap < -OPENS)
        self.weights, self.stiffness = weights, np.where(self.held, self.closing, stiffness)

    def _block_one_way(self, wrong: Array) -> None:
        at = self.one_way
        if not at.size:
            return
        gap, flow, slope = self.gap[at], self.flow[at], self.slope[at]
        still = flow <= 0.0
        trickle = flow * slope <= self.trickle * np.abs(gap)
        closed = still & (gap < -OPENS)
        opening = trickle & (gap > OPENS)
        if opening.any():  # the line from rest to where the pressure at hand would carry it
            slope = np.where(opening, np.maximum(slope, np.sqrt(np.maximum(gap, 0.0) * self.square)), slope)
        slope = np.where((trickle | still) & ~opening, np.maximum(slope, AT_REST), slope)
        slope = np.where(closed, self.closing, slope)
        self.slope[at] = slope
        wrong[at] = np.where(closed, 0.0, wrong[at])

    def _block_outlets(self, wrong: Array) -> None:
        laws, links = self.laws, self.plan.links
        flow, gap, slope = self.flow[links:], self.gap[links:], self.slope[links:]
        still = flow <= 0.0
        rest = (flow * slope <= self.trickle * np.abs(gap)) & (gap < -OPENS) | still & (gap <= OPENS)
        self.stopped = (still & (gap < -OPENS)) | ((flow >= laws.limit) & (gap > OPENS)) | laws.dry
        # √p has no slope at rest: the line runs from the present flow to the flow at the present pressure
        np.maximum(self.pressure[self.plan.start[links:]], 0.0, out=slope)
        slope *= laws.inverse
        np.sqrt(slope, out=slope)
        slope += laws.inverse * flow
        np.maximum(slope, SOFTEST, out=slope)
        slope[rest] = AT_REST
        wrong[links:] *= ~self.stopped

    def _shut(self) -> None:
        if self.any_shut:
            runs, shut = self.laws.runs, self.laws.shut
            self.slope[:runs] = np.where(shut, self.closing, self.slope[:runs])
            self.flow[:runs][shut] = 0.0
            self.loss[:runs][shut] = 0.0

    def _clip(self) -> None:
        """Put flows beyond a corner into it."""
        links, runs = self.plan.links, self.laws.runs
        np.clip(self.flow, -FLOOD, FLOOD, out=self.flow)
        np.clip(self.flow[links:], 0.0, self.laws.limit, out=self.flow[links:])
        if self.one_way.size:
            self.flow[self.one_way] = np.maximum(self.flow[self.one_way], 0.0)
        if self.any_shut:
            self.flow[:runs][self.laws.shut] = 0.0
        if len(self.hot):
            self.mixed = np.maximum(self.mixed, 0.0)

    def taken(self, rows: npt.NDArray[np.intp]) -> Self:
        """The same state for some of the rows only."""
        arrays = {name: array if len(array) == 1 else array[rows] for name, array in self.arrays.items()}
        new = type(self)(self.network, arrays, rows.size, self.friction)
        for name in self.carried:
            setattr(new, name, np.ascontiguousarray(getattr(self, name)[..., rows]))
        new.steps = self.steps
        return new
