"""What lies beside tanks and runs: outside air with its wind, unheated boxes, the heated room, along the rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.plan.winter import BESIDE, Beside
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["Case", "Codes", "Neighbours", "air_speed", "beside_codes", "neighbours", "wind_at"]

Codes = npt.NDArray[np.intp]
"""Places in ``BESIDE``: 0 outside, 1 box, 2 room."""


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """A state of the van in which transmittances are wanted.

    Parameters
    ----------
    inside, outside : array, shape (rows,)
        Temperature of the water and of the outside air [K].
    driving : bool
        Whether the air runs at the driving van's share of its speed, or at the wind of the parked one.
    heated : bool
        Whether room and boxes are kept warm; else they are as cold as the outside.
    """

    inside: Array
    outside: Array
    driving: bool = False
    heated: bool = True


@dataclass(frozen=True, slots=True, eq=False)
class Neighbours:
    """Temperatures beside a face by what lies there, in the order of ``BESIDE``: outside, box, room.

    Parameters
    ----------
    temperature : array, shape (3, rows)
        Temperature there [K].
    follows : array, shape (3, rows)
        How far it moves for each kelvin outside: 1, a half or 0 [-].
    """

    temperature: Array
    follows: Array

    def beside(self, codes: Codes) -> Array:
        """Temperature at each face of codes shaped (rows, faces) [K]."""
        return _at(self.temperature, codes)

    def following(self, codes: Codes) -> Array:
        """How far that moves for each kelvin outside [-]."""
        return _at(self.follows, codes)


def _at(values: Array, codes: Codes) -> Array:
    """Values shaped (3, rows) at codes shaped (rows, faces)."""
    picked: Array = values[codes, np.arange(len(codes))[:, np.newaxis]]
    return picked


def neighbours(batch: Batch, outside: Array) -> Neighbours:
    """Temperatures outside, in the boxes and in the room along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    outside : array, shape (rows,)
        Temperature of the outside air [K].

    Returns
    -------
    Neighbours
        A box of which nothing is said lies half way between room and outside.
    """
    return _around(*_kept(batch), outside)


def _kept(batch: Batch) -> tuple[Array, Array]:
    """Temperature of the room, and of the boxes where it is said."""
    return batch.number("frost.room"), batch.number("frost.box")


def _around(room: Array, box: Array, outside: Array) -> Neighbours:
    said = np.isfinite(box)
    follows = np.zeros((3, len(room)))
    follows[0], follows[1] = 1.0, np.where(said, 0.0, 0.5)
    return Neighbours(np.array([outside, np.where(said, box, 0.5 * (room + outside)), room]), follows)


def air_speed(batch: Batch, driving: bool) -> Array:
    """Speed of the outside air at tanks and runs.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    driving : bool
        Under the floor of the driving van, or around the parked one.

    Returns
    -------
    array, shape (rows,)
        Speed [m/s].
    """
    if not driving:
        return batch.number("site.wind") * batch.factor("wind")
    share = batch.number("frost.under_floor") * batch.factor("under floor")
    return batch.number("frost.road_speed") * np.minimum(share, 1.0)


def beside_codes(batch: Batch, planned: Beside | Codes, *addresses: str) -> Codes:
    """What lies beside a face or run along the rows, as places in ``BESIDE``.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    planned : str or array of int, shape (rows,)
        What the plan says, or what follows from its numbers.
    *addresses : str
        Where a row may say otherwise; the first one that does counts.

    Returns
    -------
    array of int, shape (rows,)
        Places in ``BESIDE``.
    """
    codes = np.full(len(batch), BESIDE.index(planned) if isinstance(planned, str) else planned, dtype=np.intp)
    for address in reversed(addresses):
        for place, said in batch.changes(address):
            if said:
                codes[place] = BESIDE.index(said)
    return codes


def wind_at(batch: Batch, codes: Codes, cases: Sequence[Case]) -> tuple[Array, Array]:
    """Temperature and speed of the air at each face or run in every case.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    codes : array of int, shape (rows, faces)
        What lies beside each.
    cases : sequence of Case
        States of the van.

    Returns
    -------
    tuple of array, shape (cases, rows, faces)
        Temperature [K] and speed [m/s]; the air in a box and in the room stands still.
    """
    outer = codes == BESIDE.index("outside")
    kept = _kept(batch)
    air = np.array(
        [
            _around(*kept, case.outside).beside(codes)
            if case.heated
            else np.broadcast_to(case.outside[:, np.newaxis], codes.shape)
            for case in cases
        ]
    )
    speeds = {driving: air_speed(batch, driving) for driving in {case.driving for case in cases}}
    return air, np.array([np.where(outer, speeds[case.driving][:, None], 0.0) for case in cases])
