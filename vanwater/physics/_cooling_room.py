"""Water beside air that decays toward the outside: its temperature, and when it is at 0 °C and how long it freezes."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.physics._lump import Lump
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import Array, Real

_MOST = 200
"""Steps of a search for a time, and doublings of its upper end; some ten are taken."""

_NEAR = 4e-15
"""Share of a time by which its last two steps may differ."""


def surroundings(
    start: Real, beside: Real, outside: Real, conductance: Real, lump: Lump, time_constant: Real
) -> tuple[Array, Array, Array, Array, Array]:
    """Start, what is beside it and the outside [K], and how fast water and room decay [1/s]."""
    first, cold = np.asarray(start, dtype=np.float64), np.asarray(outside, dtype=np.float64)
    not_negative("start, above 0 °C", first - FREEZING_POINT)
    not_negative("beside - outside", np.asarray(beside, dtype=np.float64) - cold)
    rate = above_zero("conductance", conductance) / lump.liquid
    return first, np.asarray(beside, dtype=np.float64), cold, rate, 1.0 / above_zero("time_constant", time_constant)


def temperature(first: Array, seconds: Array, warm: Array, cold: Array, rate: Array, decay: Array) -> Array:
    apart = np.abs(rate - decay) * seconds
    slowed = np.where(apart > 1e-12, -np.expm1(-apart) / np.where(apart > 1e-12, apart, 1.0), 1.0)
    driven = rate * seconds * np.exp(-np.minimum(rate, decay) * seconds) * slowed
    return cold + (first - cold) * np.exp(-rate * seconds) + (warm - cold) * driven


def until_freezing(first: Array, warm: Array, cold: Array, rate: Array, decay: Array) -> Array:
    """Time from which on the water is at 0 °C or below it.

    It warms at first where what is beside it is warmer, and from its peak on only falls, since the air falls before
    it: one passage, found by steps of Newton within ends that close in. Each element stops for itself.
    """
    first, warm, cold, rate, decay = (np.array(x) for x in np.broadcast_arrays(first, warm, cold, rate, decay))
    freezes = (cold < FREEZING_POINT) & ((first > FREEZING_POINT) | (warm > FREEZING_POINT))
    high = 1.0 / rate + 1.0 / decay
    for _ in range(_MOST):
        above = freezes & (temperature(first, high, warm, cold, rate, decay) > FREEZING_POINT)
        if not above.any():
            break
        high = np.where(above, 2.0 * high, high)
    low, at, busy = np.zeros_like(high), high.copy(), freezes.copy()
    for _ in range(_MOST):
        over = temperature(first, at, warm, cold, rate, decay) - FREEZING_POINT
        low, high = np.where(busy & (over > 0), at, low), np.where(busy & (over <= 0), at, high)
        slope = rate * (cold + (warm - cold) * np.exp(-decay * at) - over - FREEZING_POINT)
        with np.errstate(divide="ignore", invalid="ignore"):
            newton = at - over / slope
        to = np.where((slope < 0) & (newton > low) & (newton < high), newton, 0.5 * (low + high))
        to = np.where(over == 0, at, to)
        busy &= np.abs(to - at) > _NEAR * at
        at = np.where(busy, to, at)
        if not busy.any():
            break
    return np.where(freezes, at, np.where(cold < FREEZING_POINT, 0.0, np.inf))


def while_freezing(heat: Array, still: Array) -> Array:
    """The y with y − b (1 − exp(−y)) = h, by Newton from above, where it is bent upward: it never leaves that side."""
    heat, still = (np.array(x) for x in np.broadcast_arrays(heat, still))
    at = heat + still
    for _ in range(_MOST):
        to = at - (at + still * np.expm1(-at) - heat) / (1.0 - still * np.exp(-at))
        if not (np.abs(to - at) > _NEAR * np.abs(at)).any():
            break
        at = np.where(np.abs(to - at) > _NEAR * np.abs(at), to, at)
    return at
