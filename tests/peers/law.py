"""EPANET 2.2's own laws for vanwater's solver, so that what is left between the two is arithmetic alone.

The factor of friction is 64/Re to 2000, a cubic (Dunlop, 1991) from there to 4000, Swamee and Jain (1976) above. The
cubic takes its slope and end from Re 4000. The formula printed in Rossman (2000), EPANET 2 Users Manual, appendix D,
writes Re in that place, and lies up to 4e-4 in flow away from the program; this one lies within 3e-5 of it.
"""

from __future__ import annotations

import math

import numpy as np

from vanwater.physics.friction_law import FrictionTerms

FEET = 9.80665 / 0.3048
"""Standard gravity [ft/s²]; EPANET rounds it to 32.2 in the friction, and 8/(π² g) to 0.02517 in the local losses."""

FRICTION = FEET / 32.2
LOCAL = 0.02517 / (8.0 / (math.pi**2 * FEET))


def epanet_law(re: np.ndarray, wall: np.ndarray) -> FrictionTerms:
    """EPANET's f Re and its slope, scaled to its rounded gravity."""
    y2 = wall / 3.7 + 5.74 / 4000.0**0.9
    y3 = -2.0 / math.log(10.0) * np.log(y2)
    fa = y3**-2.0
    fb = fa * (2.0 - 3.6 / math.log(10.0) * 5.74 / 4000.0**0.9 / (y2 * y3))
    r = re / 2000.0
    x1, x2, x3, x4 = 7 * fa - fb, 0.128 - 17 * fa + 2.5 * fb, -0.128 + 13 * fa - 2 * fb, 0.032 - 3 * fa + 0.5 * fb
    dunlop = x1 + r * (x2 + r * (x3 + r * x4))
    swamee_jain = 0.25 / np.log10(wall / 3.7 + 5.74 / np.maximum(re, 4000.0) ** 0.9) ** 2
    drag = np.where(re < 2000.0, 64.0, re * np.where(re < 4000.0, dunlop, swamee_jain))
    slope = np.where(re < 2000.0, 64.0, 1.8 * drag)  # near enough: it only steers Newton
    return FrictionTerms(FRICTION * drag, FRICTION * slope)
