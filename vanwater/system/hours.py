"""The hours of a day by the states in which they are spent, along the rows."""

from __future__ import annotations

import numpy as np

from vanwater.plan.day import FULL_DAY, STATES
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["OCCUPIED", "hours_of"]

OCCUPIED = ("parked", "shore")
"""States in which somebody is in the van and draws water."""


def hours_of(batch: Batch) -> Array:
    """Time that is spent in each state of a day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    array, shape (states, rows)
        In the order of ``STATES``, adds up to a day [s]; what no state is said for is parked, in a drained van whose
        day says no hours parked the heating is off then.
    """
    spent = np.array([batch.number(f"day.{state}") for state in STATES[1:]])
    left: Array = np.maximum(FULL_DAY - spent.sum(axis=0), 0.0)
    parked, laid_up = batch.plan.day.parked, batch.plan.water.drained
    if laid_up and parked is None:
        spent[STATES.index("unheated") - 1] += left
        left = np.zeros_like(left)
    return np.concatenate([left[None], spent])
