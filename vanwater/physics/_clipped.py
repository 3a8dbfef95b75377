"""The mean of a clipped plane over a rectangle: what a tilted box holds."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Real

FLAT = 1e-15
"""A fall along a side that is no fall [m]."""


def mean_depth(deepest: Array, fall_x: Array, fall_y: Array) -> Array:
    """Mean over a rectangle of a depth that falls straight to both sides from its deepest corner, zero at least.

    Across y the mean is exact in closed form; along x it is then quadratic in three pieces, which Simpson's
    rule takes exactly. No difference of large numbers: right for tilts of a hair's breadth too.
    """
    tilted = fall_x > FLAT
    if not tilted.any() and not (fall_y > FLAT).any():
        return np.maximum(deepest, 0.0) + np.zeros_like(fall_x + fall_y)
    step = np.where(tilted, fall_x, 1.0)
    wet = np.where(tilted, np.clip((deepest - fall_y) / step, 0.0, 1.0), 1.0)
    dry = np.where(tilted, np.clip(deepest / step, 0.0, 1.0), 1.0)
    total = np.zeros_like(wet + deepest)
    for start, end in ((np.zeros_like(wet), wet), (wet, dry)):
        middle = 0.5 * (start + end)
        ends = _strip(deepest - fall_x * start, fall_y) + _strip(deepest - fall_x * end, fall_y)
        total = total + (end - start) * (ends + 4.0 * _strip(deepest - fall_x * middle, fall_y)) / 6.0
    return total


def _strip(depth: Array, fall: Array) -> Array:
    """Mean depth across a strip that falls from its deep side, zero at least."""
    part = np.maximum(depth, 0.0) ** 2 / (2.0 * np.where(fall > FLAT, fall, 1.0))
    return np.where(depth >= fall, np.maximum(depth - 0.5 * fall, 0.0), part)


def slopes(pitch: Real, roll: Real) -> tuple[Array, Array]:
    """What the surface falls for each metre along and across the van."""
    along, across = np.sin(np.asarray(pitch, dtype=np.float64)), np.sin(np.asarray(roll, dtype=np.float64))
    upright = 1.0 - along**2 - across**2
    if np.any(upright <= 0.0):
        raise ValueError(f"pitch: {pitch} rad and roll: {roll} rad tip the tank beyond the vertical.")
    return along / np.sqrt(upright), across / np.sqrt(upright)
