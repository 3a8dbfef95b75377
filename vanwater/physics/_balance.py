"""The balance of one way, ready for solving: losses with their slopes, and the flow at which all agrees."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from vanwater.physics.friction_law import friction_terms
from vanwater.physics.network.mixing import port_loss
from vanwater.physics.pump import PumpCurve
from vanwater.quantities import Array

COMMON, HOT, COLD, SUCTION = 0, 1, 2, 3
"""Columns of the sums; the first three are the roles of a segment too."""

CLOSE = 1e-8
"""Residual at which a row is solved [Pa]: well above the rounding of sums of some bar."""

MOST_STEPS = 200

Bools = npt.NDArray[np.bool_]


class Losses(NamedTuple):
    """What a flow loses: each segment, the columns' sums, the whole way and its slope against the flow, the valve."""

    each: Array
    sums: Array
    total: Array
    slope: Array
    valve: Array | float = 0.0


class Valve(NamedTuple):
    """A thermostatic mixing valve, a value a row: constant of a wide open port, infinite for a tap; hot share."""

    port: Array
    hot: Array


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Runs:
    """Segments in the form ``loss = viscous f Re² + inertial Q²``; last axis along the segments."""

    viscous: Array
    inertial: Array
    per_flow: Array
    rough: Array
    share: Array
    columns: Array
    valve: Valve | None = None

    @classmethod
    def of(
        cls,
        bore: Array,
        length: Array,
        k: Array,
        roughness: Array,
        density: Array,
        viscosity: Array,
        share: Array,
        columns: Array,
        valve: Valve | None = None,
    ) -> Runs:
        """From bores, lengths, K, roughness and water; ``columns`` sorts segments by role."""
        wide = np.zeros(columns.shape[0])
        return cls(
            viscous=wide + length * viscosity**2 / (2.0 * density * bore**3),
            inertial=wide + k * density * (8.0 / np.pi**2) / bore**4,
            per_flow=wide + 4.0 * density / (np.pi * bore * viscosity),
            rough=wide + roughness / bore,
            share=wide + share,
            columns=columns,
            valve=valve,
        )

    @classmethod
    def side_by_side(cls, ways: Sequence[Runs]) -> Runs:
        """Several ways of the same rows along a new first axis; shorter ones end in segments that lose nothing."""
        longest = max(way.columns.shape[0] for way in ways)
        shape = (len(ways), *ways[0].viscous.shape[:-1], longest)
        viscous, inertial, per_flow, rough, share = (np.zeros(shape) for _ in range(5))
        columns = np.zeros((len(ways), longest, ways[0].columns.shape[1]))
        for place, way in enumerate(ways):
            count = way.columns.shape[0]
            viscous[place, ..., :count] = way.viscous
            inertial[place, ..., :count] = way.inertial
            per_flow[place, ..., :count] = way.per_flow
            rough[place, ..., :count] = way.rough
            share[place, ..., :count] = way.share
            columns[place, :count] = way.columns
        valve = None
        if any(way.valve is not None for way in ways):
            valve = Valve(np.full(shape[:-1], np.inf), np.zeros(shape[:-1]))
            for place, way in enumerate(ways):
                if way.valve is not None:
                    valve.port[place], valve.hot[place] = way.valve
        return cls(
            viscous=viscous,
            inertial=inertial,
            per_flow=per_flow,
            rough=rough,
            share=share,
            columns=columns,
            valve=valve,
        )

    def only(self, picked: Bools, valve: Valve | None = None) -> Runs:
        """The picked segments alone, with a thermostatic valve between them if it is given."""
        at = np.flatnonzero(picked)
        every = (self.viscous, self.inertial, self.per_flow, self.rough, self.share)
        viscous, inertial, per_flow, rough, share = (values[..., at] for values in every)
        return Runs(
            viscous=viscous,
            inertial=inertial,
            per_flow=per_flow,
            rough=rough,
            share=share,
            columns=self.columns[at],
            valve=valve,
        )

    def losses(self, flow: Array) -> Losses:
        """Losses at a flow; the governing leg counts, the other one is throttled to it."""
        carried = flow[..., None] * self.share
        reynolds = carried * self.per_flow
        terms = friction_terms(reynolds, np.broadcast_to(self.rough, reynolds.shape))
        kinetic = self.inertial * carried
        each = self.viscous * terms.drag * reynolds + kinetic * carried
        slopes = (self.viscous * self.per_flow * terms.slope + 2.0 * kinetic) * self.share
        sums, steep = each @ self.columns, slopes @ self.columns
        hot = sums[..., HOT] >= sums[..., COLD]
        leg = np.where(hot, sums[..., HOT], sums[..., COLD])
        slope = np.where(hot, steep[..., HOT], steep[..., COLD])
        if self.valve is None:
            return Losses(each, sums, sums[..., COMMON] + leg, steep[..., COMMON] + slope)
        valve, slope = self._through(self.valve, flow, sums, steep)
        return Losses(each, sums, sums[..., COMMON] + leg + valve, steep[..., COMMON] + slope, valve)

    @staticmethod
    def _through(valve: Valve, flow: Array, sums: Array, steep: Array) -> tuple[Array, Array]:
        """What a thermostatic valve takes of its governing side, and the slope of leg and valve against the flow."""
        flow, port, x = np.broadcast_arrays(flow, valve.port, valve.hot)
        hot = ((sums[..., HOT] >= sums[..., COLD]) & (x > 0.0)) | (x >= 1.0)
        leading, other = (
            np.where(hot, steep[..., side], steep[..., opposite]) for side, opposite in ((HOT, COLD), (COLD, HOT))
        )
        fall, slope = np.zeros_like(flow), leading.copy()
        active = (flow > 0.0) & np.isfinite(port)
        if active.any():
            gap = np.abs(sums[..., HOT] - sums[..., COLD])[active]
            fall[active], weight, rise = port_loss((flow / port)[active], np.where(hot, x, 1.0 - x)[active], gap)
            slope[active] = weight * leading[active] + (1.0 - weight) * other[active] + rise / port[active]
        return fall, slope


class Balance(NamedTuple):
    """``pump rise + head = losses + (Q/k)²``; without a pump no rise, without an outlet nothing behind the runs."""

    runs: Runs
    head: Array
    pump: PumpCurve | None = None
    outlet_constant: Array | None = None

    def excess(self, flow: Array) -> tuple[Array, Array]:
        """Pressure left over at a flow, and its slope against the flow: it always falls."""
        lost = self.runs.losses(flow)
        excess, slope = self.head - lost.total, -lost.slope
        if self.outlet_constant is not None:
            back = flow / self.outlet_constant
            excess, slope = excess - back * back, slope - 2.0 * back / self.outlet_constant
        if self.pump is not None:
            rise, steep = self.pump.rise_and_slope(flow)
            excess, slope = excess + rise, slope + steep
        return excess, slope

    def bracket(self) -> tuple[Array, Bools]:
        """A flow that is surely enough, and whether there is any flow at all."""
        at_rest = self.head if self.pump is None else self.head + self.pump.rise_and_slope(np.zeros(()))[0]
        most = np.full(np.broadcast_shapes(np.shape(at_rest), self.runs.viscous.shape[:-1]), np.inf)
        if self.outlet_constant is not None:
            most = np.minimum(most, self.outlet_constant * np.sqrt(np.maximum(at_rest, 0.0)))
        if self.pump is not None:
            most = np.minimum(most, self.pump.flow_at(-self.head))
        most = np.broadcast_to(most, np.broadcast_shapes(most.shape, self.runs.share.shape[:-1]))
        reaches = np.broadcast_to(at_rest > 0.0, most.shape)
        return np.where(reaches, np.maximum(most, 0.0), 0.0), reaches

    def solve(self) -> tuple[Array, Bools]:
        """The one flow at which nothing is left over, and whether water flows at all.

        Newton's steps from above, kept in a bracket; where a step leaves it or gains less than half, the
        bracket is halved instead, so that every row ends.
        """
        high, reaches = self.bracket()
        low, flow, before = np.zeros_like(high), high, np.full_like(high, np.inf)
        for _ in range(MOST_STEPS):
            excess, slope = self.excess(flow)
            wrong = np.abs(excess)
            unsolved = reaches & (wrong > CLOSE)
            if not unsolved.any():
                break
            short = excess > 0.0
            low, high = np.where(short, flow, low), np.where(short, high, flow)
            step = flow - excess / np.where(slope < 0.0, slope, -np.inf)
            sound = (step > low) & (step < high) & (wrong < 0.5 * before)
            moved = np.where(sound, step, 0.5 * (low + high))
            inside = unsolved & (moved > low) & (moved < high)
            if not inside.any():
                break
            flow, before = np.where(inside, moved, flow), wrong
        return flow, reaches
