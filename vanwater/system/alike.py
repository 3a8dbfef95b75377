"""Rows that are alike are followed once, and what was followed a moment ago, for a plan like this one, not again.

A day of a heater takes as long for one row as for hundreds, and most changes of a plan leave it alone: a longer grey
tank draws no other water. So what is followed over time is asked for by its inputs, and not by the plan.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from functools import lru_cache
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from vanwater.quantities import Array

__all__ = ["followed_once"]

V = TypeVar("V")

_KEPT = 16
"""Results that are kept, those that were asked for last."""


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
        What it gives for the rows that differ, not to be written to, and which of them each row is.
    """
    seen: dict[bytes, int] = {}
    back = [seen.setdefault(row.tobytes(), len(seen)) for row in np.ascontiguousarray(columns.T)]
    return _once(follow, len(columns), b"".join(seen), *what), np.array(back, dtype=np.intp)


@lru_cache(maxsize=_KEPT)
def _once(follow: Callable[..., Any], inputs: int, rows: bytes, *what: Hashable) -> Any:
    return follow(np.ascontiguousarray(np.frombuffer(rows).reshape(-1, inputs).T), *what)
