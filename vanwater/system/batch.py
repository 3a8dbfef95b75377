"""A plan is a batch of one: rows along a leading axis.

Row 0 is the plan itself. The other rows are the same plan with an unsure input at its low or high end, with a
remedy taken, or (in a sweep) another design. One solve of all rows gives the answer, its range and what each
change would gain.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple, TypeVar

import numpy as np

from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay
from vanwater.quantities import Array

__all__ = ["PLAN_ROW", "Batch", "Row", "Unsure", "carries", "low_and_high", "row_of", "with_designs"]

V = TypeVar("V")


@dataclass(frozen=True, slots=True)
class Row:
    """What a row changes of the plan.

    Parameters
    ----------
    key : str
        Its name: "habits low", "remedy: wider hose".
    values : mapping of str to object
        Other values by address, numbers in SI.
    factors : mapping of str to float
        Factors on unsure inputs by their key.
    """

    key: str
    values: Mapping[str, Any] = field(default_factory=dict)
    factors: Mapping[str, float] = field(default_factory=dict)


_NUMBERS = (int, float, np.float64)

PLAN_ROW = Row("plan")


@dataclass(frozen=True, slots=True)
class Unsure:
    """An input that is not known well, and how far it may lie off.

    Parameters
    ----------
    key : str
        Name of the factor: "habits", "outlets", "pumps", "fittings", "bores".
    label : str
        What it is called in a sentence.
    low, high : float
        Factors at the ends of its range.
    measure : str
        What to measure to know it better.
    source : str
        Where the range comes from.
    """

    key: str
    label: str
    low: float
    high: float
    measure: str
    source: str


def low_and_high(unsure: Iterable[Unsure]) -> list[Row]:
    """Two rows for each unsure input: at its low and at its high end, the others as planned.

    Parameters
    ----------
    unsure : iterable of Unsure
        The inputs.

    Returns
    -------
    list of Row
        Low and high of the first, low and high of the second, and so on.
    """
    return [
        Row(f"{bounds.key} {end}", factors={bounds.key: factor})
        for bounds in unsure
        for end, factor in (("low", bounds.low), ("high", bounds.high))
    ]


_LISTED = re.compile(r"runs\.[^.]+\.fittings\..+|runs\.[^.]+\.slope|fittings\..+|pumps\.[^.]+\.curve\..+")
"""Numbers that belong to a list of pieces or points, or decide whether water stands in a run, which a row has in common
with its plan."""


def carries(plan: Plan, values: Mapping[str, Any]) -> bool:
    """Whether a row can carry other values; else they need a plan of their own.

    Parameters
    ----------
    plan : Plan
        The plan.
    values : mapping of str to object
        Other values by address, numbers in SI.

    Returns
    -------
    bool
        True where each is a number in the place of a number that is decided, belongs to no list of fittings or curve,
        and nothing comes to be or ceases to be: everything else changes the structure.

    Raises
    ------
    KeyError
        When the plan has no such place.
    """
    return all(not _LISTED.fullmatch(address) and _like(plan.at(address), value) for address, value in values.items())


def row_of(overlay: Overlay, base: Plan) -> Row | None:
    """An overlay as a row of a plan's batch.

    Parameters
    ----------
    overlay : Overlay
        Other values.
    base : Plan
        The plan that it is laid over.

    Returns
    -------
    Row or None
        Its numbers in SI; None where it changes the structure and needs a plan of its own.

    Raises
    ------
    PlanError
        When a value is not possible.
    """
    plan = overlay.plan(base)
    if any(value is None or isinstance(value, Mapping) for value in overlay.values.values()):
        return None
    values = {address: plan.at(address) for address in overlay.values}
    return Row(overlay.name, values) if carries(base, values) else None


def _like(now: object, value: object) -> bool:
    """Whether both are numbers, and both nothing or both something."""
    return type(now) in _NUMBERS and type(value) in _NUMBERS and (now == 0) == (value == 0)


def with_designs(plan: Plan, designs: Iterable[Row]) -> Plan:
    """A plan whose every batch carries other designs as its last rows, so that all that is asked of it is told of them.

    Parameters
    ----------
    plan : Plan
        The plan; it stays as it is, and row 0.
    designs : iterable of Row
        What each changes; :func:`carries` says what a row can.

    Returns
    -------
    Plan
        Its words are those of the plan itself.
    """
    rows, twin = tuple(designs), plan.twin()
    twin.once(_DESIGNS, lambda: rows)
    return twin


_DESIGNS, _DESIGNED = "designs", "changes of the designs"


class _Changes(NamedTuple):
    """What rows change, by address and by unsure input: the place of each row that does, with its value or factor."""

    values: Mapping[str, Sequence[tuple[int, Any]]]
    factors: Mapping[str, Sequence[tuple[int, float]]]

    @classmethod
    def of(cls, rows: Iterable[Row]) -> _Changes:
        """The changes of some rows, counted from the first of them."""
        values, factors = defaultdict(list), defaultdict(list)
        for place, row in enumerate(rows):
            for address, value in row.values.items():
                values[address].append((place, value))
            for key, factor in row.factors.items():
                factors[key].append((place, factor))
        return cls(values, factors)


class Batch:
    """A plan with its rows.

    Parameters
    ----------
    plan : Plan
        The plan; it is row 0, and the designs that it carries are the last rows.
    rows : iterable of Row
        Further rows.
    alone : bool
        Leave the plan's designs out: for what takes long to follow, or is drawn for the plan only.
    """

    def __init__(self, plan: Plan, rows: Iterable[Row] = (), *, alone: bool = False) -> None:
        self.plan = plan
        designs: tuple[Row, ...] = () if alone else plan.once(_DESIGNS, tuple)
        own = (PLAN_ROW, *rows)
        self.rows: Sequence[Row] = (*own, *designs)
        self.designs = range(len(own), len(self.rows))
        self._changes = _Changes.of(own)
        self._designed = plan.once(_DESIGNED, lambda: _Changes.of(designs)) if designs else _Changes({}, {})
        self._made: dict[str, Any] = {}
        self._numbers: dict[tuple[str, float | None], Array] = {}
        self._factors: dict[str, Array] = {}

    def __repr__(self) -> str:
        return f"Batch({self.plan!r}, rows={len(self)})"

    def __len__(self) -> int:
        return len(self.rows)

    def place(self, key: str) -> int:
        """The place of a row by its key.

        Raises
        ------
        KeyError
            When no row has that key.
        """
        return self._places[key]

    @cached_property
    def _places(self) -> Mapping[str, int]:
        return {row.key: place for place, row in enumerate(self.rows)}

    def changes(self, address: str) -> Sequence[tuple[int, Any]]:
        """The rows that change the value at an address, each with its place and the value there."""
        return self._along(self._changes.values.get(address, ()), self._designed.values.get(address, ()))

    def _along(self, own: Sequence[tuple[int, Any]], designed: Sequence[tuple[int, Any]]) -> Sequence[tuple[int, Any]]:
        return [*own, *((self.designs.start + place, value) for place, value in designed)] if designed else own

    def number(self, address: str, missing: float = np.nan) -> Array:
        """A number of the plan along the rows.

        Parameters
        ----------
        address : str
            Where it stands.
        missing : float
            What stands for a value that is not decided.

        Returns
        -------
        array, shape (rows,)
            Values in SI, read-only: the same array at every call.
        """
        key = (address, missing if missing == missing else None)
        column = self._numbers.get(key)
        if column is None:
            value = self.plan.at(address)
            column = np.empty(len(self.rows))
            column.fill(missing if value is None else value)
            for place, other in self.changes(address):
                column[place] = missing if other is None else float(other)
            column.setflags(write=False)
            self._numbers[key] = column
        return column

    def each(self, addresses: Sequence[str], make: Callable[..., float]) -> Array:
        """A number made of several values, some of them names or tables, along the rows.

        Parameters
        ----------
        addresses : sequence of str
            Where the values stand.
        make : callable
            Takes the values in that order, gives a number in SI. Rows without a change share one call.

        Returns
        -------
        array, shape (rows,)
            Values in SI.
        """
        planned = [self.plan.at(address) for address in addresses]
        column = np.empty(len(self.rows))
        column.fill(make(*planned))
        touched = {place for address in addresses for place, _ in self.changes(address)}
        for place in touched:
            row = self.rows[place]
            column[place] = make(
                *(row.values.get(address, value) for address, value in zip(addresses, planned, strict=True))
            )
        return column

    def once(self, key: str, make: Callable[[], V]) -> V:
        """Something made of this batch, made once.

        Parameters
        ----------
        key : str
            What it is, unlike any other.
        make : callable
            Makes it.

        Returns
        -------
        object
            The same object at every call.
        """
        if key not in self._made:
            self._made[key] = make()
        value: V = self._made[key]
        return value

    def factor(self, key: str) -> Array:
        """The factor on an unsure input along the rows.

        Parameters
        ----------
        key : str
            The input's key.

        Returns
        -------
        array, shape (rows,)
            1 where the row leaves it alone [-], read-only: the same array at every call.
        """
        column = self._factors.get(key)
        if column is None:
            column = np.ones(len(self.rows))
            for place, factor in self._along(self._changes.factors.get(key, ()), self._designed.factors.get(key, ())):
                column[place] = factor
            column.setflags(write=False)
            self._factors[key] = column
        return column
