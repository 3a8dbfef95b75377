"""Checks shared by the modules of the accumulator: what a gas can be."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.quantities import Array, Real


def gas_state(
    volume: Real, precharge: Real, pressure: Real, atmosphere: Real, exponent: Real
) -> tuple[Array, Array, Array, Array]:
    """Volume, absolute pre-charge, absolute pressure and exponent, checked."""
    size = not_negative("volume", volume)
    n = np.asarray(exponent, dtype=np.float64)
    if np.any((n < 1.0) | (n > 1.67)):
        raise ValueError("exponent: expected 1 (slow, isothermal) to 1.67; air at its fastest has 1.4.")
    air = above_zero("atmosphere", atmosphere)
    return (
        size,
        above_zero("precharge with the atmosphere", np.asarray(precharge, dtype=np.float64) + air),
        above_zero("pressure with the atmosphere", np.asarray(pressure, dtype=np.float64) + air),
        n,
    )
