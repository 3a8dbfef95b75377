"""What every number of the answers comes to, for many values of one or several addresses."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, as_completed
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import accumulate
from typing import TYPE_CHECKING, Any

import numpy as np
from rich.progress import Progress

from vanwater.answers.core.chart import Chart
from vanwater.answers.questions import QUESTIONS
from vanwater.options.designs import Axis, axes_of, rows_of
from vanwater.options.known import unknown_number
from vanwater.options.rows import Told, batched, worked_out, worked_out_elsewhere
from vanwater.options.sweep_chart import chart_of_sweep
from vanwater.plan.model import Plan
from vanwater.quantities import Array, Quantity

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Sweep", "sweep"]

CHUNK, LONG_CHUNK = 16, 1024
"""Rows that travel together: where any is a plan of its own, and where all are rows of one batch."""

PATIENCE = 1.0
"""Seconds after which a bar shows how far it is."""


@dataclass(frozen=True, slots=True, eq=False)
class Sweep(Mapping[str, Array]):
    """The numbers of a sweep by their keys: ``swept["tank.grey.days"]``.

    Parameters
    ----------
    plan : Plan
        The plan that was swept.
    axes : tuple of Axis
        Each address with its values.
    numbers : mapping of str to array
        One axis an address [SI]; nan where a row has no such number or failed.
    quantities : mapping of str to Quantity
        What each is a number of.
    failed : mapping of int to str
        Why a row has no numbers, by its place in the flat order, the last address turning fastest.
    """

    plan: Plan
    axes: tuple[Axis, ...]
    numbers: Mapping[str, Array] = field(repr=False)
    quantities: Mapping[str, Quantity] = field(repr=False)
    failed: Mapping[int, str] = field(repr=False)

    def __getitem__(self, key: str) -> Array:
        try:
            return self.numbers[key]
        except KeyError:
            raise KeyError(unknown_number(key, tuple(self.numbers))) from None

    def __iter__(self) -> Iterator[str]:
        return iter(self.numbers)

    def __len__(self) -> int:
        return len(self.numbers)

    def __repr__(self) -> str:
        over = ", ".join(f"{len(axis.values)} × {axis.address}" for axis in self.axes)
        return f"<sweep over {over}: {len(self)} numbers, {len(self.failed)} rows failed>"

    def chart(self, key: str, *, us: bool | None = None) -> Chart:
        """A number over the addresses that were swept; see :func:`vanwater.options.sweep_chart.chart_of_sweep`.

        ``vanwater.figures.plotly_figure`` makes a figure of plotly's own of it.

        Raises
        ------
        KeyError
            When it is no number of the sweep.
        ValueError
            When there is nothing to draw, or more than one chart can show.
        """
        numbers = self[key]
        return chart_of_sweep(self.axes, key, numbers, self.quantities[key], self.plan.us if us is None else us)

    def frame(self, *, si: bool = False, us: bool | None = None) -> pd.DataFrame:
        """All rows as a table, units in the heads: "tanks.fresh.length [m]", "tank.grey.days [days]".

        Parameters
        ----------
        si : bool
            SI units instead of those that the plan is shown in.
        us : bool, optional
            US units, or metric ones, instead of the plan's own.

        Returns
        -------
        pandas.DataFrame
            One row a design; the column "failed" says why one has no numbers, where any has none.

        Raises
        ------
        ImportError
            When pandas is not installed.
        """
        import pandas as pd

        us = self.plan.us if us is None else us
        rows = rows_of(self.axes)
        columns: dict[str, Any] = {}
        for axis in self.axes:
            values: Any = [row[axis.address] for row in rows]
            if axis.quantity is not None:
                values = np.array([np.nan if value is None else value for value in values], dtype=np.float64)
            _put(columns, axis.address, values, axis.quantity, si, us)
        for key, numbers in self.numbers.items():
            _put(columns, key, numbers.ravel(), self.quantities[key], si, us)
        if self.failed:
            columns["failed"] = [self.failed.get(row, "") for row in range(len(rows))]
        return pd.DataFrame(columns)


def _put(columns: dict[str, Any], name: str, values: Any, quantity: Quantity | None, si: bool, us: bool) -> None:
    if quantity is None:
        columns[name] = values
        return
    unit = quantity.si if si else quantity.unit(us)
    head = f"{name} [{unit}]" if unit not in ("", "1") else name
    columns[head] = values if si else quantity.show(values, us)


def sweep(
    plan: Plan,
    values: Mapping[str, Iterable[Any]],
    numbers: Iterable[str] | str | None = None,
    *,
    executor: Executor | None = None,
    progress: bool | None = None,
) -> Sweep:
    """Work the answers out for every value of an address, or for every pair of values of several.

    Parameters
    ----------
    plan : Plan
        The plan; it stays as it is.
    values : mapping of str to iterable
        By address. Numbers of a numpy array are SI; what else is given is read as the plan's file is: texts with
        their units, counts, names, whole parts as tables, None.
    numbers : str or iterable of str, optional
        Questions ("stay") or keys of numbers ("tank.grey.days") that are wanted; all questions without it. A question
        gives the numbers that lie along the rows; a limit, or what a change would gain, is told where its key is given.
    executor : Executor, optional
        Of :mod:`concurrent.futures`, or of another library that offers one: it works the rows out, in chunks.
    progress : bool, optional
        Whether a bar shows how far it is; without it, one that takes more than a second shows it.

    Returns
    -------
    Sweep
        The same, to the last digit, whatever works it out and in which order.

    Raises
    ------
    PlanError
        Before anything is worked out: an address that the plan lacks, a text that is no number, a unit that is
        missing, too many rows.
    KeyError
        When a wanted number is neither a question nor a number of the plan.
    """
    axes = axes_of(plan, values)
    questions, keys = _wanted(plan, [numbers] if isinstance(numbers, str) else numbers)
    rows = rows_of(axes)
    together = batched(plan, axes, questions, keys)
    size = LONG_CHUNK if together.keys() >= set(questions) else CHUNK
    chunks = [rows[first : first + size] for first in range(0, len(rows), size)]
    told: dict[int, Told] = {}
    with _bar(len(rows), progress) as moved:
        if executor is None:
            for place, chunk in enumerate(chunks):
                told[place] = worked_out(plan, chunk, questions, together, keys)
                moved(len(chunk))
        else:
            sent = {
                executor.submit(worked_out_elsewhere, plan.own, plan.own_shelf, chunk, questions, together, keys): place
                for place, chunk in enumerate(chunks)
            }
            for done in as_completed(sent):
                told[sent[done]] = done.result()
                moved(len(chunks[sent[done]]))
    return _gathered(plan, axes, [told[place] for place in sorted(told)], keys)


def _wanted(plan: Plan, names: Iterable[str] | None) -> tuple[tuple[str, ...], frozenset[str] | None]:
    """The questions to ask, and the keys to keep; None for all that lie along the rows."""
    if names is None:
        return tuple(QUESTIONS), None
    named = tuple(dict.fromkeys(names))
    asked = [name for name in named if name in QUESTIONS]
    if len(asked) == len(named):
        return tuple(key for key in QUESTIONS if key in asked), None
    each = {key: question.ask(plan).numbers for key, question in QUESTIONS.items()}
    keys = {key for question in asked for key, number in each[question].items() if number.along}
    known = tuple(key for several in each.values() for key in several)
    for name in named:
        if name in QUESTIONS:
            continue
        if name not in known:
            raise KeyError(unknown_number(name, (*QUESTIONS, *known)))
        asked.append(next(question for question, several in each.items() if name in several))
        keys.add(name)
    return tuple(key for key in QUESTIONS if key in asked), frozenset(keys)


def _gathered(plan: Plan, axes: tuple[Axis, ...], told: Sequence[Told], keys: frozenset[str] | None) -> Sweep:
    known = {key: quantity for chunk in reversed(told) for key, quantity in chunk.quantities.items()}
    quantities = {key: known[key] for key in sorted(known) if keys is None or key in keys}
    begins = accumulate((chunk.rows for chunk in told[:-1]), initial=0)
    failed = {begin + row: why for begin, chunk in zip(begins, told, strict=True) for row, why in chunk.failed.items()}
    shape = tuple(len(axis.values) for axis in axes)
    numbers = {key: np.concatenate([chunk.column(key) for chunk in told]).reshape(shape) for key in quantities}
    return Sweep(plan, axes, numbers, quantities, failed)


@contextmanager
def _bar(total: int, wanted: bool | None) -> Iterator[Callable[[int], None]]:
    """What is told after each chunk; it draws a bar where one is wanted or it takes long."""
    began, bar, done = time.monotonic(), Progress(transient=True), 0

    def moved(rows: int) -> None:
        nonlocal done
        done += rows
        late = time.monotonic() - began > PATIENCE and done < total
        if not bar.tasks and (wanted or (wanted is None and late)):
            bar.start()
            bar.add_task("rows", total=total)
        if bar.tasks:
            bar.update(bar.tasks[0].id, completed=done)

    try:
        yield moved
    finally:
        bar.stop()
