"""The outside of something warm in colder air: how far it stands above the air once heat in and out agree."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from vanwater.quantities import Array

MOST_ROUNDS = 12
NEAR = 3e-5
"""How near the last sum must come to the one before, as a share of the skin's height above the air."""


def settled_film(
    difference: Array, resistance: Array, film: Callable[[Array], Array], usual: Array, near: float = NEAR
) -> Array:
    """The film at the skin's own temperature, found by repeating the sum, each step along the secant of the last two.

    ``difference`` is from water to air, ``film`` gives the film for a skin so far above the air, ``usual`` is a first
    guess of it; the skin stands ``difference / (1 + resistance · film)`` above the air.
    """
    excess = difference / (1.0 + resistance * usual)
    outer, settled = np.zeros_like(excess), np.zeros(excess.shape, dtype=np.bool_)
    last: tuple[Array, Array] | None = None
    for _ in range(MOST_ROUNDS):
        outer = np.where(settled, outer, film(excess))  # each for itself, whatever else is asked with it
        again = difference / (1.0 + resistance * outer)
        change = again - excess
        settled |= np.abs(change) <= near * np.abs(again)
        if np.all(settled):
            break
        ahead = np.ones_like(change)
        if last is not None:
            before, changed = last
            turn = change - changed
            sound = np.abs(turn) > 0.5 * np.abs(excess - before)
            ahead = np.where(sound, (before - excess) / np.where(sound, turn, 1.0), 1.0)
        last = excess, change
        excess = excess + ahead * change
    return outer
