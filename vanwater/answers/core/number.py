"""A number, made once: its key, its values along the rows, its range, its sum and its source.

What a table, a finding, a headline, a chart, the JSON, the document, a panel and ``--why`` show is one of these.
Its amount (row 0, the plan) and its range (over the rows of the unsure inputs) are views of it; its sum is put
together when it is first read.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.escaping import harmless
from vanwater.answers.core.key import Key, key_text
from vanwater.answers.core.pieces import Piece, Shown, Working
from vanwater.answers.core.spread import Influence, UnsureRows, influences, reciprocal, spread
from vanwater.answers.core.statement import Say
from vanwater.answers.core.unfold import Seen, Unfolded, unfolded
from vanwater.quantities import PRESSURE, PRESSURE_DIFFERENCE, TEMPERATURE, TEMPERATURE_DIFFERENCE, Array, Quantity

__all__ = ["PLAN_ONLY", "UNMOVED", "Number", "difference_of"]

PLAN_ONLY = "worked out for the plan as it is written"
"""Why a number has no range where no row varies an unsure input."""

UNMOVED = "no unsure input moves it"
"""Why a number has no range where the unsure inputs leave it alone."""

_IN_DIFFERENCE = 5
"""Digits of two numbers that are told in steps, where their difference is a sum that a reader follows."""

_AT_LIKELY = "told at the likely values of the unsure inputs"
_WHOLE = replace(TEMPERATURE_DIFFERENCE, steps={"K": (1.0, 1.0), "°F": (1.0, 1.0)})  # as temperatures are told
_DIFFERENCE = {TEMPERATURE: _WHOLE, PRESSURE: PRESSURE_DIFFERENCE}


def difference_of(quantity: Quantity) -> Quantity:
    """The quantity of a difference: 3 K more, never 3 °C more."""
    return _DIFFERENCE.get(quantity, quantity)


_VIEWS = frozenset({"range", "balanced", "amount", "shown", "influences"})
"""What is worked out of a number's key, pairs and digits, and kept."""


@dataclass(frozen=True, eq=False, repr=False)
class Number:
    """A number with its key, range and sum.

    Parameters
    ----------
    name : str
        What it is called in its sum: "days of the grey tank".
    quantity : Quantity
        What it is a number of.
    values : array
        The numbers of all rows in SI, row 0 the plan's; nan where it is not decided, inf where it never ends.
    working : Working or callable
        What it was made of, or what puts that together when it is first read.
    key : tuple of str
        The thing and its quantity; empty for what only stands within a sum.
    pairs : sequence of UnsureRows
        The rows in which the unsure inputs are varied.
    bracket : tuple of two floats, optional
        The ends of its range where those come from two models instead of unsure rows.
    exact : str
        Why there is no range, where that is known better than "for the plan as it is written".
    rates : array, optional
        Its inverse along the rows [1/SI], of which the range is made then: of a time, the share of a store that goes a
        second, below zero where the store gains.
    least, most : float
        Beyond these no end of the range is told.
    digits : int
        Significant digits that are shown.
    words : Say, optional
        How it is told where it is no single number.
    none : str
        What it means where the low end of its range is none.
    """

    name: str
    quantity: Quantity
    values: Array = field(repr=False)
    working: Working | Callable[[], Working] = field(repr=False)
    key: Key = ()
    pairs: Sequence[UnsureRows] = field(default=(), repr=False)
    bracket: tuple[float, float] | None = None
    exact: str = ""
    rates: Array | None = field(default=None, repr=False)
    least: float = -math.inf
    most: float = math.inf
    digits: int = 3
    words: Say | None = None
    none: str = ""

    @cached_property
    def likely(self) -> float:
        """The plan's own value, row 0 [SI]."""
        return float(self.values.flat[0]) if self.values.size else math.nan

    @property
    def value(self) -> float:
        """The same, as people who write Python ask for it."""
        return self.likely

    @property
    def along(self) -> bool:
        """Whether it is worked out for every row: no limit, and no difference between two of them."""
        return self.values.ndim == 1

    @cached_property
    def made_of(self) -> Working:
        """What it was made of."""
        return self.working() if callable(self.working) else self.working

    @property
    def unit(self) -> str:
        """Its SI unit; "1" where it has none."""
        return self.quantity.si

    def sum(self, us: bool = False) -> Unfolded:
        """The sum as an indented tree that prints and shows in a notebook; US units instead of metric ones if asked."""
        return Unfolded("\n".join(self.lines(us)))

    @cached_property
    def range(self) -> tuple[float, float] | None:
        """The ends between which it is expected [SI], or None where it has none; see :attr:`unranged`."""
        if self.bracket is not None:
            low, high = self.bracket
            if not math.isnan(low + high):
                low, high = min(low, high, self.likely), max(low, high, self.likely)
        elif self.pairs and self.values.ndim == 1:
            if self.rates is None:
                ends = spread(self.values, self.pairs, self.least)
            else:
                ends = reciprocal(self.rates, self.pairs)
            low, high = float(ends.low), float(ends.high)
            if low == high == float(ends.likely):
                return None
        else:
            return None
        return min(max(low, self.least), self.likely), max(min(high, self.most), self.likely)

    @cached_property
    def balanced(self) -> bool:
        """Whether it may as well never end: the range of its rates has zero within."""
        if self.rates is None or not self.pairs:
            return False
        ends = spread(self.rates, self.pairs)
        return bool(ends.low <= 0.0 < ends.high)

    @property
    def unranged(self) -> str:
        """Why it has no range; empty where it has one."""
        if self.range is not None:
            return ""
        return self.exact or (UNMOVED if self.pairs else PLAN_ONLY)

    @cached_property
    def amount(self) -> Amount:
        """Its likely value, told without its range."""
        return Amount(self.likely, self.quantity, self.digits, self)

    @cached_property
    def shown(self) -> Amount | Range:
        """Its likely value with its range, where it has one."""
        if self.range is None:
            return self.amount
        return Range(self.range[0], self.likely, self.range[1], self.quantity, self.digits, self, self.none)

    def keyed(
        self,
        *key: str,
        pairs: Sequence[UnsureRows] = (),
        bracket: tuple[float, float] | None = None,
        exact: str = "",
        rates: Array | None = None,
        least: float = -math.inf,
        digits: int | None = None,
        none: str = "",
    ) -> Number:
        """The same number under a key, with what its range is made of; see :class:`Number`."""
        twin = object.__new__(Number)  # as replace() would, at a fifth of the time: answers make hundreds
        twin.__dict__.update(self.__dict__)
        for view in _VIEWS & twin.__dict__.keys():
            del twin.__dict__[view]
        digits = self.digits if digits is None else digits
        twin.__dict__.update(
            key=key, pairs=pairs, bracket=bracket, exact=exact, rates=rates, least=least, digits=digits, none=none
        )
        return twin

    def rounded(self, digits: int, quantity: Quantity | None = None) -> Amount:
        """Its likely value alone, told with so many significant digits, if wanted in the unit of a like quantity."""
        return Amount(self.likely, quantity or self.quantity, digits, self)

    @property
    def negated(self) -> Amount:
        """The same with the other sign, for words that turn it round: "10 kg off the axle"."""
        return Amount(-self.likely, self.quantity, self.digits, self)

    @property
    def result(self) -> Shown:
        """How it is told in its sum."""
        return self.words if self.words is not None else self.shown

    @cached_property
    def influences(self) -> tuple[Influence, ...]:
        """What moves it, the unsure input that it hangs on most first."""
        return influences(self.values, self.pairs) if self.pairs and self.values.ndim == 1 else ()

    def gain(self, row: int, name: str) -> Number:
        """What another row brings against the plan.

        Parameters
        ----------
        row : int
            The row with the change.
        name : str
            The change, for its key.

        Returns
        -------
        Number
            The difference; the same at the likely values of every unsure input.
        """
        at = float(self.values[row])
        quantity = difference_of(self.quantity)
        digits = _IN_DIFFERENCE if quantity.steps else 3
        both = (Amount(value, quantity, digits) for value in (at, -self.likely))
        pieces = tuple(Piece(name, value) for name, value in zip(("with the change", "as planned"), both, strict=True))
        return Number(
            f"{self.name}, gained by {name}",
            quantity,
            np.asarray(at - self.likely),
            Working("What the change brings, everything else as planned.", given=pieces, source="difference"),
            (*self.key, "gain", name) if self.key else (),
            digits=2,
            exact=_AT_LIKELY,
        )

    def then(self, row: int, name: str) -> Number:
        """What it is in another row, with the change of that name and everything else as planned."""
        return Number(
            f"{self.name}, with {name}",
            self.quantity,
            np.asarray(self.values[row]),
            Working("The same with the change.", given=(Piece("as planned", self),), source="another row solved along"),
            (*self.key, "with", name) if self.key else (),
            digits=self.digits,
            exact=_AT_LIKELY,
        )

    def less(self, other: Number) -> Amount:
        """How much more it is than the same number of another plan, to two digits."""
        return Amount(self.likely - other.likely, difference_of(self.quantity), 2, self)

    @property
    def meaning(self) -> str:
        """What was computed, in one sentence."""
        return self.made_of.meaning

    @property
    def formula(self) -> str:
        """The formula in one line."""
        return self.made_of.formula

    @property
    def given(self) -> Sequence[Piece]:
        """What was put in."""
        return self.made_of.given

    @property
    def facts(self) -> tuple[Piece, ...]:
        """What else belongs beside it."""
        return self.made_of.facts

    @property
    def source(self) -> str:
        """Where the formula comes from."""
        return self.made_of.source

    @property
    def note(self) -> str:
        """Range of validity and assumptions."""
        return self.made_of.note

    def text(self, us: bool = False) -> str:
        """Likely value and range, such as "3.4 days (2.6 to 4.3)"."""
        return self.shown.text(us)

    def __eq__(self, other: object) -> bool:
        """Whether it is the same thing's number with the same values."""
        if not isinstance(other, Number):
            return NotImplemented
        same = (self.key, self.name, self.quantity) == (other.key, other.name, other.quantity)
        return same and np.array_equal(self.values, other.values, equal_nan=True)

    def __hash__(self) -> int:
        return hash((self.key, self.name))

    def __repr__(self) -> str:
        return f"<{key_text(self.key) or self.name} = {self.result.text()}>"

    def walk(self) -> Iterator[tuple[int, Number]]:
        """Every number of its sum once, with its depth, itself first."""
        seen: set[int] = set()
        waiting = [(0, self)]
        while waiting:
            depth, number = waiting.pop()
            if id(number) in seen:
                continue
            seen.add(id(number))
            yield depth, number
            inner = [piece.value for piece in (*number.given, *number.facts) if isinstance(piece.value, Number)]
            waiting += [(depth + 1, deeper) for deeper in reversed(inner)]

    def lines(
        self, us: bool = False, escape: Callable[[str], str] | None = None, depth: int | None = None,
        seen: Seen | None = None, under: str = "",
    ) -> list[str]:  # fmt: skip
        """The sum as an indented tree.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.
        escape : callable, optional
            What makes a plan's own text harmless where the lines are shown.
        depth : int, optional
            How many levels are unfolded; all without it.
        seen : dict, optional
            What the sums above it have told, which this one adds to.
        under : str
            The heading that it stands under, for sums below it.

        Returns
        -------
        list of str
            The lines, two spaces of indent a level.
        """
        return list(unfolded(self, us, escape or harmless("terminal"), depth, seen, under=under))
