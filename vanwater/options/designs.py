"""The values of a sweep: read and checked before anything is computed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence, Sized
from dataclasses import dataclass, replace
from itertools import islice, product
from typing import Any

import numpy as np

from vanwater.plan.address import note
from vanwater.plan.change import as_written, misplaced
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem, shown
from vanwater.quantities import Quantity, QuantityError, errors_in

__all__ = ["MOST_ROWS", "Axis", "Value", "axes_of", "rows_of"]

MOST_ROWS = 1_000_000
"""Rows that one sweep may have."""

Value = str | int | float | bool | None | Mapping[str, Any]
"""A value as the plan's file would hold it; a float is SI."""


@dataclass(frozen=True, slots=True, eq=False)
class Axis:
    """One address of a sweep with its values.

    Parameters
    ----------
    address : str
        Where in the plan.
    quantity : Quantity or None
        What its numbers are; None for names, counts and parts.
    values : sequence
        One a row along this axis; numbers of a quantity in SI.
    """

    address: str
    quantity: Quantity | None
    values: Sequence[Value]


def axes_of(plan: Plan, values: Mapping[str, Iterable[Any]]) -> tuple[Axis, ...]:
    """The values of a sweep by address, each read.

    Parameters
    ----------
    plan : Plan
        The plan.
    values : mapping of str to iterable
        By address. Numbers of a numpy array are SI; what else is given is read as the plan's file is: texts with
        their units, counts, names, tables, None.

    Returns
    -------
    tuple of Axis
        In the order given.

    Raises
    ------
    PlanError
        When the plan has no such place, a text is no number, a unit is missing or there are too many rows: every
        problem in one go. A value that is readable but not possible is left for its row to tell.
    """
    if not values:
        raise PlanError([Problem("", "Nothing is swept.", 'values by address, as in {"tanks.fresh.length": [...]}')])
    given = {address: _listed(several) for address, several in values.items()}
    rows = math.prod(len(several) for several in given.values())
    if rows > MOST_ROWS:
        raise PlanError([Problem(", ".join(given), f"{_rows(given)} are too many.", f"at most {MOST_ROWS} rows")])
    filled, problems, axes = plan.filled(), [], []
    for address, several in given.items():
        lost = misplaced(type(plan), filled, address, several[0] if len(several) else "")
        if lost is not None:
            problems.append(lost)
        elif not len(several):
            problems.append(Problem(address, "There is no value to go through.", "at least one value"))
        else:
            axes.append(_axis(plan, address, several, problems))
    if problems:
        raise PlanError(problems)
    return tuple(axes)


def rows_of(axes: Sequence[Axis]) -> list[dict[str, Value]]:
    """The rows of a sweep, the values of the last address turning fastest."""
    return [
        {axis.address: value for axis, value in zip(axes, values, strict=True)}
        for values in product(*(axis.values for axis in axes))
    ]


def _listed(several: Any) -> Any:
    """The values in a list, no more of an endless iterator than tell that they are too many."""
    if isinstance(several, str | Mapping) or not isinstance(several, Iterable):
        return [several]
    if isinstance(several, Sized) and len(several) > MOST_ROWS:
        return range(len(several))
    return several.ravel() if isinstance(several, np.ndarray) else list(islice(several, MOST_ROWS + 1))


def _rows(given: Mapping[str, Sequence[Any]]) -> str:
    several = [len(values) for values in given.values()]
    total = f"{math.prod(several)} rows"
    return total if len(several) < 2 else f"{total} ({' × '.join(map(str, several))})"


def _axis(plan: Plan, address: str, several: Sequence[Any], problems: list[Problem]) -> Axis:
    try:
        known = note(type(plan), address)
    except KeyError:  # a whole part, or a point of a curve
        return Axis(address, None, list(several))
    if isinstance(several, np.ndarray) and several.dtype.kind in "iuf":
        if known.quantity is None:
            return Axis(address, None, several.tolist())
        return Axis(address, known.quantity, several.astype(np.float64).tolist())
    read = []
    for value in several:
        try:
            with errors_in(plan.us):
                read.append(_read(value, known.quantity))
        except QuantityError as error:
            problems.append(Problem(address, error.message, error.expected, error.slip))
        if known.whole is not None and isinstance(value, str):
            problems.append(Problem(address, f"{shown(value)} is not a whole number.", "a whole number"))
    return Axis(address, known.quantity, read)


def _read(value: Any, quantity: Quantity | None) -> Value:
    """A value as the file would hold it, a quantity in SI whether it is believable or not."""
    if quantity is None or value is None:
        return as_written(value)  # type: ignore[no-any-return]
    return replace(quantity, low=-math.inf, high=math.inf).read(value)
