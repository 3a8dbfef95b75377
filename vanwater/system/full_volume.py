"""What a tank holds, full and standing level, along the rows."""

from __future__ import annotations

import numpy as np

from vanwater.plan.tanks import SIDES, content
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["full_volume"]


def full_volume(batch: Batch, name: str) -> Array:
    """Content of a tank at its overflow, standing level as on the road, all equal ones together.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The tank.

    Returns
    -------
    array, shape (rows,)
        At most its capacity, where that is said too [m³].
    """
    at, tank = f"tanks.{name}", batch.plan.tanks[name]
    count, capacity = batch.number(f"{at}.count"), batch.number(f"{at}.capacity")
    if tank.inside_height is None:
        return count * capacity
    top = batch.number(f"{at}.diameter" if tank.shape == "lying cylinder" else f"{at}.height")
    overflow = batch.number(f"{at}.overflow")
    level = np.where(np.isnan(overflow), top, overflow)
    sides = {side: batch.number(f"{at}.{side}") for side in SIDES[tank.shape]}
    return count * np.fmin(content(tank.shape, level, sides), capacity)
