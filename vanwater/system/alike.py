"""Rows that are alike are followed once, and what was followed a moment ago, for a plan like this one, not again.

A day of a heater takes as long for one row as for hundreds, and most changes of a plan leave it alone: a longer grey
tank draws no other water. So what is followed over time is asked for by its inputs, and not by the plan.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Hashable, Mapping
from typing import Any, NamedTuple, TypeVar

import numpy as np
import numpy.typing as npt

from vanwater.quantities import Array

__all__ = ["followed_once"]

V = TypeVar("V")

_KEPT = 16
"""Results that are kept, the last ones."""


def followed_once(follow: Callable[..., V], columns: Array, *what: Hashable) -> tuple[V, npt.NDArray[np.intp]]:
    """Follow the rows that differ, or take what came of the same rows before.

    Parameters
    ----------
    follow : callable
        A function of a module that hangs on its arguments alone: the columns, which it must leave as they are, and
        what else it was given. Each row must come out the same whatever rows stand beside it.
    columns : array, shape (inputs, rows)
        All numbers that the rows may differ in.
    *what : hashable
        What they have in common.

    Returns
    -------
    tuple of object and array, shape (rows,)
        What it gives for the rows that differ, maybe beside others, not to be written to, and which of it each row is.
    """
    asked = [row.tobytes() for row in np.ascontiguousarray(columns.T)]
    kept = next((kept for kept in tuple(_kept) if kept.what == (follow, what) and kept.rows.keys() >= {*asked}), None)
    if kept is None:
        rows = {row: place for place, row in enumerate(dict.fromkeys(asked))}
        unlike = np.frombuffer(b"".join(rows)).reshape(-1, len(columns))
        kept = _Followed((follow, what), rows, follow(np.ascontiguousarray(unlike.T), *what))
        _kept.appendleft(kept)
    return kept.value, np.array([kept.rows[row] for row in asked], dtype=np.intp)


class _Followed(NamedTuple):
    """What was followed, with what all rows had in common; each row's place; what came of it."""

    what: Hashable
    rows: Mapping[bytes, int]
    value: Any


_kept: deque[_Followed] = deque(maxlen=_KEPT)
