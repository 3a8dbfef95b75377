"""Water beside air that decays toward the outside: its temperature, when it is at 0 °C, how long it then freezes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.physics._lump import Lump
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import Array, Real

_MOST = 200
"""Steps of a search for a time, and doublings of its upper end; some ten are taken."""

_NEAR = 4e-15
"""Share of a time by which its last two steps may differ."""


@dataclass(frozen=True, slots=True)
class Course:
    """The course of one or many lumps of water.

    Parameters
    ----------
    first, warm, cold : array
        Temperature of the water at the start, of what is beside it then, and of the outside [K].
    rate, decay : array
        How fast the water follows what is beside it, and how fast that decays [1/s].
    """

    first: Array
    warm: Array
    cold: Array
    rate: Array
    decay: Array

    @classmethod
    def of(cls, start: Real, beside: Real, outside: Real, conductance: Real, lump: Lump, time_constant: Real) -> Course:
        """By the arguments of the physics, refused where they cannot be."""
        first, warm, cold = (np.asarray(x, dtype=np.float64) for x in (start, beside, outside))
        not_negative("start, above 0 °C", first - FREEZING_POINT)
        not_negative("beside - outside", warm - cold)
        rate = above_zero("conductance", conductance) / lump.liquid
        return cls(first, warm, cold, rate, 1.0 / above_zero("time_constant", time_constant))

    def temperature(self, seconds: Array) -> Array:
        """Temperature of the water after a time, without freezing."""
        apart = np.abs(self.rate - self.decay) * seconds
        slowed = np.where(apart > 1e-12, -np.expm1(-apart) / np.where(apart > 1e-12, apart, 1.0), 1.0)
        driven = self.rate * seconds * np.exp(-np.minimum(self.rate, self.decay) * seconds) * slowed
        return self.cold + (self.first - self.cold) * np.exp(-self.rate * seconds) + (self.warm - self.cold) * driven

    def beside(self, seconds: Array) -> Array:
        """How much warmer than outside what is beside it still is after a time."""
        return (self.warm - self.cold) * np.exp(-self.decay * seconds)

    def until_freezing(self) -> Array:
        """Time from which on the water is at 0 °C or below it; infinite where the outside is no frost.

        It warms at first where what is beside it is warmer, and from its peak on only falls, since the air falls before
        it: one passage, found by steps of Newton within ends that close in. Each element stops for itself.
        """
        frost = self.cold < FREEZING_POINT
        freezes = frost & ((self.first > FREEZING_POINT) | (self.warm > FREEZING_POINT))
        constants = 1.0 / self.rate + 1.0 / self.decay
        high = np.broadcast_to(constants, np.broadcast_shapes(freezes.shape, constants.shape))
        for _ in range(_MOST):
            above = freezes & (self.temperature(high) > FREEZING_POINT)
            if not above.any():
                break
            high = np.where(above, 2.0 * high, high)
        low, at, busy = np.zeros(high.shape), high, np.broadcast_to(freezes, high.shape)
        for _ in range(_MOST):
            over = self.temperature(at) - FREEZING_POINT
            low, high = np.where(busy & (over > 0), at, low), np.where(busy & (over <= 0), at, high)
            slope = self.rate * (self.cold + self.beside(at) - over - FREEZING_POINT)
            with np.errstate(divide="ignore", invalid="ignore"):
                newton = at - over / slope
            to = np.where((slope < 0) & (newton > low) & (newton < high), newton, 0.5 * (low + high))
            to = np.where(over == 0, at, to)
            busy = busy & (np.abs(to - at) > _NEAR * at)
            at = np.where(busy, to, at)
            if not busy.any():
                break
        return np.where(freezes, at, np.where(frost, 0.0, np.inf))


def while_freezing(heat: Array, still: Array) -> Array:
    """The y with y − b (1 − exp(−y)) = h, by Newton from above, where it is bent upward: it never leaves that side."""
    at = heat + still
    for _ in range(_MOST):
        to = at - (at + still * np.expm1(-at) - heat) / (1.0 - still * np.exp(-at))
        busy = np.abs(to - at) > _NEAR * np.abs(at)
        if not busy.any():
            break
        at = np.where(busy, to, at)
    return at
