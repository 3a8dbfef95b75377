"""The numbers of other designs: as rows of one batch where the questions can be asked so, else each as a plan."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.questions import QUESTIONS
from vanwater.options.designs import Axis, Value
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.stock import Shelf
from vanwater.quantities import Quantity
from vanwater.system.batch import Row, carries, with_designs

__all__ = ["Told", "batched", "worked_out", "worked_out_elsewhere"]


@dataclass(frozen=True, slots=True, eq=False)
class Told:
    """The numbers of some rows by key, or why a row has none; and what they are numbers of."""

    rows: Sequence[dict[str, float] | str]
    quantities: Mapping[str, Quantity]


def batched(
    plan: Plan, axes: Sequence[Axis], questions: Iterable[str], keys: frozenset[str] | None
) -> Mapping[str, frozenset[str]]:
    """The questions that all rows can be asked as rows of one batch, each with the numbers that it then gives.

    Every value is a number that a row carries, and every corner of the grid is possible as a plan of its own. What a
    plan must keep to (a pick-up below the overflow, axles that bear the total) compares numbers that rise with what is
    swept; so where every corner is possible, all that lies between is.
    """
    corners = product(*({0: None, len(axis.values) - 1: None} for axis in axes))
    ends = [{axis.address: axis.values[place] for axis, place in zip(axes, corner, strict=True)} for corner in corners]
    try:
        if not all(_turned(axis.values) for axis in axes) or not all(carries(plan, end) for end in ends):
            return {}
        plans = [plan, *(plan.changed(end, si=True) for end in ends)]
    except (PlanError, KeyError):
        return {}
    shared = {name: _shared(name, plans, keys) for name in questions}
    return {name: told for name, told in shared.items() if told is not None}


def _shared(name: str, plans: Sequence[Plan], keys: frozenset[str] | None) -> frozenset[str] | None:
    """The numbers that the plan and every corner give, each with one value more where there is one design more.

    None where a number that is wanted by its key is not among them: then each row is asked for itself.
    """
    try:
        first, *others = (_numbers(name, plan, keys) for plan in plans)
        longer = _numbers(name, with_designs(plans[0], [Row("design")]), keys)
    except Exception:  # a row that breaks says so itself
        return None
    grow = {key for key, number in first.items() if number.along and longer[key].values.size > number.values.size}
    told = frozenset(grow.intersection(*others))
    wanted = first.keys() | {key for each in others for key in each}
    return told if keys is None or told >= wanted else None


def _turned(values: Sequence[Value]) -> bool:
    """Whether values are numbers that rise, or fall, from end to end: what lies between lies between."""
    if not all(isinstance(value, int | float) and not isinstance(value, bool) for value in values):
        return False
    steps = np.diff(np.asarray(values, dtype=np.float64))
    return bool(np.all(steps >= 0.0) or np.all(steps <= 0.0))


def worked_out_elsewhere(
    own: Mapping[str, Any],
    shelf: Shelf,
    rows: Sequence[Mapping[str, Value]],
    questions: tuple[str, ...],
    together: Mapping[str, frozenset[str]],
    keys: frozenset[str] | None,
) -> Told:
    """A chunk in another process, which the plan reaches as its tables."""
    return worked_out(Plan.of(own, shelf=shelf), rows, questions, together, keys)


def worked_out(
    plan: Plan,
    rows: Sequence[Mapping[str, Value]],
    questions: tuple[str, ...],
    together: Mapping[str, frozenset[str]],
    keys: frozenset[str] | None,
) -> Told:
    """Some rows: of one batch where the question can be asked so, else each as a plan of its own."""
    quantities: dict[str, Quantity] = {}
    alone = tuple(name for name in questions if name not in together)
    told = [_row(plan, row, alone, keys, quantities) if alone else {} for row in rows]
    many = with_designs(plan, [Row(f"design {place}", row) for place, row in enumerate(rows)])
    for name in questions:
        if name not in together:
            continue
        try:
            numbers = _numbers(name, many, together[name])
        except Exception:  # one row stands for all in a batch; alone, each says for itself what went wrong
            numbers = {}
            told = [
                _more(said, _row(plan, row, (name,), keys, quantities)) for said, row in zip(told, rows, strict=True)
            ]
        for key, number in numbers.items():
            quantities.setdefault(key, number.quantity)
            for said, value in zip(told, number.values[-len(rows) :].tolist(), strict=True):
                if isinstance(said, dict):
                    said[key] = value
    return Told(told, quantities)


def _more(said: dict[str, float] | str, also: dict[str, float] | str) -> dict[str, float] | str:
    return said if isinstance(said, str) else also if isinstance(also, str) else said | also


def _row(
    plan: Plan,
    row: Mapping[str, Value],
    questions: tuple[str, ...],
    keys: frozenset[str] | None,
    quantities: dict[str, Quantity],
) -> dict[str, float] | str:
    """The numbers of one row, or why there are none; whatever went wrong is the row's and not the sweep's."""
    try:
        own = plan.changed(row, si=True)
        numbers = {key: number for name in questions for key, number in _numbers(name, own, keys).items()}
        values = {key: number.likely for key, number in numbers.items()}
    except Exception as error:
        return str(error) or type(error).__name__
    quantities |= {key: number.quantity for key, number in numbers.items() if key not in quantities}
    return values


def _numbers(name: str, plan: Plan, keys: frozenset[str] | None) -> Mapping[str, Number]:
    """The numbers of a question that are wanted: those of the keys, else all that lie along the rows."""
    numbers = QUESTIONS[name].ask(plan).numbers.items()
    return {key: number for key, number in numbers if (number.along if keys is None else key in keys)}
