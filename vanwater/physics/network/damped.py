"""The way that always arrives: damped Newton on the network's convex energy, for rows that Newton left open.

In a network of laws that rise with the flow the balance is the one minimum of a convex function (Cherry 1951,
Millar 1951: the content). Corners are softened into steep slopes, so that the function is smooth; along each
Newton direction the step ends where the slope of the function fades; then the corners are made sharp again.

A mixer's lower side leads, which has no such function. Its flow is found first with the mean of both sides, which
has one, and followed from there as the mean gives way to the lower side.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from vanwater.physics.network.laws import CLOSED
from vanwater.physics.network.newton import Newton
from vanwater.quantities import Array

__all__ = ["Damped"]

WALLS = (1e10, 1e12)
"""Slopes of the softened corners, one after the other [Pa·s/m³]; a wide open hose has some 1e8."""
LAST_WALLS = (1e14, 1e16, 1e18, 1e20, 1e21)
"""The same for rows that went round in circles to the end."""
FIRST_CLOSING = WALLS[-1]
ROAD = 1.0 + 0.5 * math.log10(CLOSED / FIRST_CLOSING)
"""Length of the way: one stretch for the mixers, then two decades of tightness a stretch."""
TRICKLES = (1e-3, 1e-6)
"""Shares of the gap below which a flow counts as none, tried in turn [-]."""
ENOUGH = 1e-7
"""Gap at which a descent ends [Pa]."""
MOST_STEPS = 80


class Damped(Newton):
    """A chunk of rows that is brought to balance whatever it takes."""

    wall = WALLS[0]
    carried = (*Newton.carried, "reached", "pace")

    def settle(self) -> None:
        """Find the minimum for ever steeper corners; mixers with the mean of their sides and half-sharp corners."""
        self._find_bounds()
        self.throttle: Array = np.zeros_like(self.mixed)
        self.blend = np.zeros_like(self.blend)
        self.reached = np.full(self.blend.size, 0.0)
        self.pace = np.ones(self.blend.size)
        self._descend(WALLS if len(self.hot) else WALLS + LAST_WALLS)

    def tighten(self) -> None:
        """Descend once more with corners so steep that nothing leaks that counts; mixers keep their throttle."""
        self._find_bounds()
        self.throttle = np.zeros_like(self.mixed)
        for _ in range(4):
            self.gaps()
            lower = self.mixing_gap
            self.blend = np.zeros_like(self.blend)
            self._find_mixing()
            self.throttle = self.mixing_gap - lower
            self._descend(LAST_WALLS)

    def _descend(self, walls: tuple[float, ...]) -> None:
        self.wall = walls[0]
        self._soft(self.flow, self.mixed)
        self._advance(balanced=False)
        for self.wall in walls:
            for _ in range(MOST_STEPS):
                worst = self._soft(self.flow, self.mixed)
                if np.all(worst < (ENOUGH if self.wall >= LAST_WALLS[0] else 1e4 * ENOUGH)):
                    break
                self._advance(balanced=True)
                self.steps += 1
        self._clip()

    def _find_bounds(self) -> None:
        laws, links = self.laws, self.plan.links
        self.low: Array = np.full(self.flow.shape, -np.inf)
        self.high: Array = np.full(self.flow.shape, np.inf)
        self.low[self.one_way] = 0.0
        self.low[links:] = 0.0
        self.high[links:] = np.where(laws.dry, 0.0, laws.limit)
        self.low[: laws.runs][laws.shut] = 0.0
        self.high[: laws.runs][laws.shut] = 0.0

    def follow(self, turn: int, tolerance: float) -> npt.NDArray[np.bool_]:
        """One stage on the way back to sharp corners and leading sides; rows that have arrived.

        On the first stretch the mean of a mixer's sides gives way to the lower one, then shut pieces grow tight. Each
        row takes strides that it can follow: one that fails is tried again, shorter, from where the row stood.
        """
        aim = np.minimum(self.reached + self.pace, ROAD)
        self.blend = np.minimum(aim, 1.0)
        self.closing = FIRST_CLOSING * 100.0 ** np.maximum(aim - 1.0, 0.0)
        self.trickle = TRICKLES[turn % 2]
        good = self._polish(tolerance, ease=turn % 3)
        self.reached = np.where(good, aim, self.reached)
        self.pace = np.where(good, 2.0 * self.pace, 0.4 * self.pace)
        return self.reached >= ROAD

    def gaps(self) -> Array:
        """How far each row is from balance with sharp corners [Pa]."""
        self.blend, self.closing = np.ones_like(self.blend), np.full_like(self.closing, CLOSED)
        self.trickle = TRICKLES[-1]
        return self.evaluate()

    def _polish(self, tolerance: float, ease: int) -> npt.NDArray[np.bool_]:
        """Plain Newton; rows that arrive are kept as they are, the others go back to where they were."""
        good = np.zeros(self.reached.size, dtype=bool)
        kept = (self.flow.copy(), self.pressure.copy(), self.mixed.copy())
        for turn in range(25):
            worst = self.evaluate()
            if turn > 0:
                fresh = (worst < tolerance) & self.whole() & ~good
                for mine, keep in zip((self.flow, self.pressure, self.mixed), kept, strict=True):
                    np.copyto(keep, mine, where=fresh)
                good |= fresh
            if good.all():
                break
            before = (self.flow.copy(), self.pressure.copy(), self.mixed.copy())
            self.step()
            self.steps += 1
            if turn < 6 * ease:  # half steps break a row out of going round in circles
                for mine, was in zip((self.flow, self.pressure, self.mixed), before, strict=True):
                    mine += was
                    mine *= 0.5
        self.flow, self.pressure, self.mixed = kept
        return good

    def _soft(self, flow: Array, mixed: Array) -> Array:
        """Gaps and lines at these flows with the corners softened; the worst gap of each row [Pa]."""
        inside = np.clip(flow, self.low, self.high)
        beyond = flow - inside
        self.laws.evaluate(inside, self.loss, self.slope)
        self.loss += self.wall * beyond
        self.slope[beyond != 0.0] = self.wall
        self._find_gap()
        # a flow beyond its limit cannot be told closer than its own rounding
        worst: Array = (np.abs(self.gap) - 4e-16 * self.wall * np.abs(inside) * (beyond != 0.0)).max(axis=0)
        if len(self.hot):
            now, self.mixed = self.mixed, np.maximum(mixed, 0.0)
            self._find_mixing()
            self.mixed = now
            below = np.minimum(mixed, 0.0)
            self.mixing_gap = self.mixing_gap - self.throttle - self.wall * below
            self.stiffness = self.wall * (below < 0.0)
            worst = np.maximum(worst, np.abs(self.mixing_gap).max(axis=0))
        return worst

    def _advance(self, balanced: bool) -> None:
        """One Newton step along the lines of the last ``_soft``, as far as it descends."""
        flow, mixed = self.flow, self.mixed
        self._ease_outlets()
        before = self.gap.copy(), self.mixing_gap.copy() if len(self.hot) else self.mixed
        target = self._target()
        way = target[0] - flow, target[1] - mixed
        if not balanced:
            self.flow, self.mixed = target
            return
        start = -(way[0] * before[0]).sum(axis=0) - (way[1] * before[1]).sum(axis=0)
        length = self._search(way, np.abs(start))
        self.flow = flow + length * way[0]
        self.mixed = mixed + length * way[1]

    def _ease_outlets(self) -> None:
        """Draw outlets to their flow at the present pressure: √p has no slope at rest."""
        laws, links = self.laws, self.plan.links
        inside = (self.flow[links:] >= 0.0) & (self.flow[links:] <= self.high[links:])
        level = np.maximum(self.pressure[self.plan.start[links:]], 0.0)
        chord = np.sqrt(level * laws.inverse) + laws.inverse * np.maximum(self.flow[links:], 0.0)
        self.slope[links:] = np.where(inside, np.maximum(chord, self.slope[links:]), self.slope[links:])

    def _target(self) -> tuple[Array, Array]:
        """Flows of the linear network, in balance at every node."""
        linear, plan = self.linear, self.plan
        np.divide(1.0, self.slope, out=linear.conductance)
        np.multiply(linear.conductance, self.gap, out=linear.constant)
        linear.constant += self.flow
        linear.forward(self.mixed)
        mixed = self.mixed
        if len(self.hot):
            mixed = mixed + linear.mix(self.weights, self.stiffness, self.mixing_gap)
        change = linear.backward()
        self.pressure += change
        return linear.constant + linear.conductance * (change[plan.start] - change[plan.end]), mixed

    def _search(self, way: tuple[Array, Array], steep: Array) -> Array:
        """Share of the step at which the slope of the energy has faded to a third, by false position."""
        rows = steep.size
        low, high = np.zeros(rows), np.ones(rows)
        below, above = -steep, self._climb(way, high)
        length, done = np.ones(rows), above <= 0.5 * steep
        for turn in range(40):
            if done.all():
                break
            span = high - low
            rise = np.where(above > below, above - below, 1.0)
            guess = low - below / rise * span if turn % 3 else low + 0.5 * span
            guess = np.where(done, length, np.clip(guess, low + 1e-3 * span, high - 1e-3 * span))
            climb = self._climb(way, guess)
            up = climb > 0.0
            high, above = np.where(up, guess, high), np.where(up, climb, above)
            low, below = np.where(up, low, guess), np.where(up, below, climb)
            length = guess
            done |= np.abs(climb) <= 0.3 * steep
        return np.where(done, length, np.where(low > 0.0, low, high))

    def _climb(self, way: tuple[Array, Array], share: Array) -> Array:
        """Slope of the energy along the way at a share of it [W]."""
        self._soft(self.flow + share * way[0], self.mixed + share * way[1])
        climb: Array = -(way[0] * self.gap).sum(axis=0)
        if len(self.hot):
            climb = climb - (way[1] * self.mixing_gap).sum(axis=0)
        return climb
