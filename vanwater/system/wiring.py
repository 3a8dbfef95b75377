"""What the cables of a plan may carry for long, along the rows."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vanwater.physics.ampacity import conductor_ampacity
from vanwater.plan.model import Plan
from vanwater.plan.wiring import Conductors, conductors
from vanwater.quantities import Array, Real
from vanwater.system.batch import Batch
from vanwater.system.power import cable_copper

__all__ = ["ampacity_of", "cable_ampacity", "cable_insulation", "conductors_of", "engine_space_of"]


def conductors_of(plan: Plan, name: str) -> Conductors:
    """The table by which a cable is judged: that of gauges where its size is told as one."""
    return conductors(plan.cables[name].awg is not None)


def cable_insulation(batch: Batch, name: str, table: Conductors) -> Array:
    """What a cable's insulation stands; the least that is commonly sold where the plan does not say it [K]."""
    return batch.number(f"cables.{name}.insulation", table.unsaid)


def engine_space_of(batch: Batch, name: str, table: Conductors, insulation: Array) -> Array:
    """Share of a cable's current that is left where it lies: all of it outside an engine space [-]."""
    if not batch.plan.cables[name].engine_space:
        return np.ones(len(insulation))
    return np.asarray(table.engine_space[_class(table, insulation)])


def ampacity_of(table: Conductors, section: Real, insulation: Array, left: Array) -> Array:
    """What conductors of a table may carry for long.

    Parameters
    ----------
    table : Conductors
        The table.
    section : float or array, shape (rows,)
        Cross-section of one conductor [m²].
    insulation : array, shape (rows,)
        What its insulation stands; the table's next lower one counts [K].
    left : array, shape (rows,)
        Share that is left where it lies [-].

    Returns
    -------
    array, shape (rows,)
        Current [A].
    """
    area = np.broadcast_to(np.asarray(section, dtype=np.float64), np.shape(insulation))
    each = np.stack([conductor_ampacity(area, table.sections, printed) for printed in table.currents])
    return np.asarray(left * np.take_along_axis(each, _class(table, insulation)[None], axis=0)[0])


def cable_ampacity(batch: Batch, name: str) -> Array:
    """What a cable of the plan may carry for long.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The cable.

    Returns
    -------
    array, shape (rows,)
        Current by size, insulation and where it lies [A].
    """
    table = conductors_of(batch.plan, name)
    insulation = cable_insulation(batch, name, table)
    left = engine_space_of(batch, name, table, insulation)
    return ampacity_of(table, cable_copper(batch, name), insulation, left)


def _class(table: Conductors, insulation: Array) -> npt.NDArray[np.intp]:
    """Which of the table's insulations counts: the hottest that is stood."""
    place = np.searchsorted(table.insulations, insulation + 1e-6, side="right") - 1
    return np.maximum(place, 0)
