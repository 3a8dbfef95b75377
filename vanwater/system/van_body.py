"""The van's body along the rows: how fast its room cools without heat, and what then lies beside tanks and runs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics.van_body import body_time_constant, room_air_after
from vanwater.plan.frost_tables import BodyRow, bodies
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.surroundings import Neighbours

__all__ = ["AIR", "BODY", "SIZE", "VanBody", "body_row", "cooled", "van_body"]

BODY, AIR = "body", "air"
"""Factors on the time constant, and on the share by which the air falls at once."""

SIZE = "medium"
"""Size of a body of which nothing is said."""


@dataclass(frozen=True, slots=True, eq=False)
class VanBody:
    """How a van's room cools; each shaped (rows,).

    Parameters
    ----------
    time_constant : array
        Time in which the difference to the outside falls to 37 % [s].
    fall : array
        Share of the difference by which the air falls at once [-].
    """

    time_constant: Array
    fall: Array


def body_row(plan: Plan) -> BodyRow:
    """What the table of bodies says of the van's size."""
    return bodies()[plan.body.size or SIZE]


def van_body(batch: Batch) -> VanBody:
    """The van's body along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    VanBody
        Its time constant by two readings, else as it is said, else by its size.
    """
    by_size = batch.each(("body.size",), lambda size: bodies()[size or SIZE].time_constant.likely)
    said = batch.number("body.time_constant")
    constant = np.where(np.isfinite(said), said, by_size)
    if batch.plan.body.measured is not None:
        read = (batch.number(f"body.measured.{reading}") for reading in ("first", "later", "after", "outside"))
        constant = body_time_constant(*read)
    fall = batch.each(("body.size",), lambda size: bodies()[size or SIZE].falls.likely)
    return VanBody(constant * batch.factor(BODY), fall * batch.factor(AIR))


def cooled(body: VanBody, heated: Neighbours, outside: Array) -> Neighbours:
    """What lies beside tanks and runs once the heating is off and the air has fallen; it then decays to the outside.

    Parameters
    ----------
    body : VanBody
        The van's body.
    heated : Neighbours
        What lay beside them while the van was heated.
    outside : array, shape (rows,)
        Temperature of the outside air [K].

    Returns
    -------
    Neighbours
        Boxes fall as the room does, by the same share of what they are warmer than outside.
    """
    warm = np.maximum(heated.temperature, outside)
    fallen = room_air_after(warm, outside, 0.0, body.time_constant, body.fall)
    return Neighbours(fallen, np.ones_like(fallen))
