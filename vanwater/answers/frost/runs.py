"""One exposed run in the cold: how long its still water lasts, its wall counted."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.spread import spread
from vanwater.answers.core.statement import Range
from vanwater.answers.frost.cold import Cold, lasting_range
from vanwater.physics import cooling
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.winter import BESIDE
from vanwater.quantities import Array

__all__ = ["RunFrost", "run_frost"]


@dataclass(frozen=True, slots=True, eq=False)
class RunFrost:
    """One exposed run in the cold.

    Parameters
    ----------
    run, beside : str
        Its name, and where it lies.
    hours, hours_driving : Range
        Time until its still water reaches 0 °C, its wall counted.
    rows : array, shape (rows,)
        The parked hours along the rows [s].
    wall_share : float
        Heat that its wall holds, as a share of its water's [-].
    """

    run: str
    beside: str
    hours: Range
    hours_driving: Range
    rows: Array
    wall_share: float


def run_frost(cold: Cold, place: int) -> RunFrost:
    """An exposed run in the cold.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    place : int
        Its place among the plan's exposed runs.

    Returns
    -------
    RunFrost
        Numbers with their ranges.
    """
    run = cold.runs[place]
    outside = cold.around.beside(run.codes[:, None])[:, 0]
    rows = cooling.time_until(
        cold.start, FREEZING_POINT, outside, cold.conductance[:, :, place], run.water + run.wall
    )  # fmt: skip
    ranges = spread(rows.T, cold.pairs, 0.0)
    hours = [lasting_range(*ends) for ends in np.array([ranges.low, ranges.likely, ranges.high]).T.tolist()]
    return RunFrost(
        run.run,
        BESIDE[int(run.codes[0])],
        hours[0],
        hours[1],
        rows[0],
        float(run.wall[0] / run.water[0]),
    )
