"""How much of its water is ice when a run or a tank is blocked, and when its wall is in danger, along the rows."""

from __future__ import annotations

import numpy as np

from vanwater.plan.frost_tables import BurstRow, burst_of, bursts
from vanwater.plan.model import Plan
from vanwater.plan.tables import pipes
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.exposed import waste_runs

__all__ = ["BLOCK", "BURST", "block_share", "burst_share", "open_ended", "open_row", "run_row"]

BLOCK, BURST = "block", "burst"
"""Factors on the share that blocks, and on where between its ends the share lies that bursts: 0 its low end, 2 its high
one."""


def block_share(batch: Batch) -> Array:
    """Share of ice that blocks still water.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    array, shape (rows,)
        Share [-].
    """
    return np.minimum(batch.number("frost.ice_share") * batch.factor(BLOCK), 1.0)


def burst_share(batch: Batch, row: BurstRow) -> Array:
    """Share of ice at which a piece is in danger of bursting: so much more than blocks it.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    row : BurstRow
        What its wall stands.

    Returns
    -------
    array, shape (rows,)
        Share [-].
    """
    between = np.interp(
        batch.factor(BURST), (0.0, 1.0, 2.0), (row.more_ice.low, row.more_ice.likely, row.more_ice.high)
    )
    return np.minimum(block_share(batch) + between, 1.0)


def open_row() -> BurstRow:
    """What stands with air beside its water: a tank, a trap."""
    return bursts()["soft"]


def open_ended(plan: Plan, run: str) -> bool:
    """Whether a run has an open end when nobody draws: a waste run, or one behind a mixing tap.

    Parameters
    ----------
    plan : Plan
        The plan.
    run : str
        Its name.

    Returns
    -------
    bool
        A thermostatic valve shuts nothing off: behind it the outlet does.
    """
    begins = plan.mixers.get(plan.runs[run].start)
    return run in waste_runs(plan) or (begins is not None and begins.kind == "hand")


def run_row(batch: Batch, run: str) -> BurstRow:
    """What the wall of a run stands.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    run : str
        Its name.

    Returns
    -------
    BurstRow
        One with an open end has air beside its water. The plan's own word for every row.
    """
    part = batch.plan.runs[run]
    if open_ended(batch.plan, run):
        return open_row()
    return burst_of(pipes()[part.size].material if part.size is not None else part.material)
