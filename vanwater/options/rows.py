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
from vanwater.quantities import Array, Quantity
from vanwater.system.batch import Row, carries, with_designs

__all__ = ["Told", "batched", "worked_out", "worked_out_elsewhere"]


@dataclass(frozen=True, slots=True, eq=False)
class Told:
    """The numbers of some rows by key, nan where a row has none; what they are numbers of, and why rows have none."""

    rows: int
    values: Mapping[str, Array]
    quantities: Mapping[str, Quantity]
    failed: Mapping[int, str]

    def column(self, key: str) -> Array:
        """The values of one number."""
        return self.values.get(key, np.full(self.rows, np.nan))


def batched(
    plan: Plan, axes: Sequence[Axis], questions: Iterable[str], keys: frozenset[str] | None
) -> Mapping[str, Mapping[str, int]]:
    """The questions that all rows can be asked as rows of one batch, each with the numbers that it may then give.

    By their keys, with how many values each has for the plan alone: one that lies along the designs has more.

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


def _shared(name: str, plans: Sequence[Plan], keys: frozenset[str] | None) -> Mapping[str, int] | None:
    """The numbers that the plan and every corner give, each with how many values it has for the plan.

    None where a number that is wanted by its key is not among them, or stays as long with one design more: then each
    row is asked for itself.
    """
    try:
        first, *others = (_numbers(name, plan, keys) for plan in plans)
        told = {key: number.values.size for key, number in first.items() if number.along}
        told = {key: size for key, size in told.items() if all(key in each for each in others)}
        if keys is not None:
            if any(each.keys() - told.keys() for each in (first, *others)):
                return None
            longer = _numbers(name, with_designs(plans[0], [Row("design")]), keys)
            if any(longer[key].values.size <= size for key, size in told.items()):
                return None
    except Exception:  # a row that breaks says so itself
        return None
    return told


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
    together: Mapping[str, Mapping[str, int]],
    keys: frozenset[str] | None,
) -> Told:
    """A chunk in another process, which the plan reaches as its tables."""
    return worked_out(Plan.of(own, shelf=shelf), rows, questions, together, keys)


def worked_out(
    plan: Plan,
    rows: Sequence[Mapping[str, Value]],
    questions: tuple[str, ...],
    together: Mapping[str, Mapping[str, int]],
    keys: frozenset[str] | None,
) -> Told:
    """Some rows: of one batch where the question can be asked so, else each as a plan of its own."""
    values: dict[str, Array] = {}
    quantities: dict[str, Quantity] = {}
    alone = [name for name in questions if name not in together]
    many = with_designs(plan, [Row(f"design {place}", row) for place, row in enumerate(rows)])
    for name in questions:
        if name not in together:
            continue
        try:
            asked = _numbers(name, many, frozenset(together[name]))
            numbers = {key: number for key, number in asked.items() if number.values.size > together[name][key]}
            likely = {key: number.values[-len(rows) :] for key, number in numbers.items()}
        except Exception:  # one row stands for all in a batch; alone, each says for itself what went wrong
            alone.append(name)
            continue
        values |= likely
        quantities |= {key: number.quantity for key, number in numbers.items() if key not in quantities}
    failed: dict[int, str] = {}
    for place, row in enumerate(rows) if alone else ():
        try:
            own = plan.changed(row, si=True)
            numbers = {key: number for name in alone for key, number in _numbers(name, own, keys).items()}
            said = {key: number.likely for key, number in numbers.items()}
        except Exception as error:  # whatever went wrong is the row's and not the sweep's
            failed[place] = str(error) or type(error).__name__
            continue
        for key, value in said.items():
            values.setdefault(key, np.full(len(rows), np.nan))[place] = value
        quantities |= {key: number.quantity for key, number in numbers.items() if key not in quantities}
    lost = np.isin(np.arange(len(rows)), list(failed))
    return Told(len(rows), {key: np.where(lost, np.nan, each) for key, each in values.items()}, quantities, failed)


def _numbers(name: str, plan: Plan, keys: frozenset[str] | None) -> Mapping[str, Number]:
    """The numbers of a question that are wanted: those of the keys, else all that lie along the rows."""
    numbers = QUESTIONS[name].ask(plan).numbers.items()
    return {key: number for key, number in numbers if (number.along if keys is None else key in keys)}
