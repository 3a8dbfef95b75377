"""The smallest size that is sold of a part and meets a wish, with the next smaller one that does not."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import stated
from vanwater.answers.questions import QUESTIONS
from vanwater.options.asked import Said, said_of
from vanwater.options.ladder import Ladder, ladder
from vanwater.options.wish import Wish, default_wish, wish_of
from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Smallest", "Tried", "smallest"]

_ALIKE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tried:
    """A size that was asked for.

    Parameters
    ----------
    name : str
        What one asks for in the shop.
    measure : float
        What makes it larger than another [SI].
    values : mapping of str to object
        The plan's values with it, by address, as the file would hold them.
    number : Number or None
        What the number comes to; None where it is not decided, or there is no such plan.
    met : bool
        Whether it meets the wish.
    problem : str
        Why there is no such plan.
    """

    name: str
    measure: float
    values: Mapping[str, Any]
    number: Number | None
    met: bool
    problem: str = ""

    @property
    def value(self) -> float:
        """What the number comes to [SI]; nan where it is not known."""
        return math.nan if self.number is None else self.number.likely


@dataclass(frozen=True, slots=True, kw_only=True, eq=False, repr=False)
class Smallest:
    """What was found; see :func:`smallest`.

    Parameters
    ----------
    plan : Plan
        The plan.
    part : Ladder
        The part with the sizes that are sold.
    wish : Wish
        What is wished.
    tried : tuple of Tried
        Every size, the smallest first.
    """

    plan: Plan
    part: Ladder
    wish: Wish
    tried: tuple[Tried, ...]

    @property
    def size(self) -> Tried | None:
        """The smallest that meets the wish; None where nothing sold meets it."""
        return next((each for each in self.tried if each.met), None)

    @property
    def smaller(self) -> Tried | None:
        """The next smaller, which was asked too and does not meet it; None where there is none."""
        if self.size is None:
            return None
        place = self.tried.index(self.size)
        return self.tried[place - 1] if place else None

    @property
    def best(self) -> Tried | None:
        """What comes nearest to the wish; None where no size gives a number."""
        known = [each for each in self.tried if not math.isnan(each.value)]
        if not known:
            return None
        return (max if self.wish.bound == "at least" else min)(known, key=lambda each: each.value)

    @property
    def monotone(self) -> bool:
        """Whether a larger size never takes the number back."""
        values = [each.value for each in self.tried if not math.isnan(each.value)]
        steps = [0.0 if after == before else after - before for before, after in pairwise(values)]
        slack = _ALIKE * max((abs(value) for value in values if math.isfinite(value)), default=0.0)
        return all(step >= -slack for step in steps) or all(step <= slack for step in steps)

    @property
    def lost_again(self) -> tuple[str, ...]:
        """Larger sizes that do not meet what the smallest one meets."""
        if self.size is None:
            return ()
        return tuple(each.name for each in self.tried[self.tried.index(self.size) :] if not each.met)

    @property
    def overlay(self) -> Overlay | None:
        """The smallest as other values for the plan."""
        return None if self.size is None else Overlay(self.size.name, self.size.values)

    @property
    def sentence(self) -> Say:
        """What was found, in words."""
        first, rest = self._first(), self._rest()
        return first if rest is None else say("{first} {rest}", first=first, rest=rest)

    @property
    def table(self) -> Table:
        """Every size that was asked, with what it gives."""
        rows = tuple((each.name, *self._cells(each)) for each in self.tried)
        heads = (Column("size"), Column(self.wish.number.name), Column("meets it"))
        return Table("smallest", self.sentence, heads, rows)

    def frame(self, *, si: bool = False, us: bool | None = None) -> pd.DataFrame:
        """Every size that was asked as a data frame.

        Parameters
        ----------
        si : bool
            SI units instead of those that the plan is shown in.
        us : bool, optional
            US units, or metric ones, instead of the plan's own.

        Returns
        -------
        pandas.DataFrame
            By size: what makes it larger, the number, whether it meets the wish, why there is no such plan.

        Raises
        ------
        ImportError
            When pandas is not installed.
        """
        import pandas as pd

        us = self.plan.us if us is None else us
        columns: dict[str, list[Any]] = {}
        for head, quantity, values in (
            ("size", self.part.quantity, [each.measure for each in self.tried]),
            (self.wish.key, self.wish.number.quantity, [each.value for each in self.tried]),
        ):
            unit = quantity.si if si else quantity.unit(us)
            of = f"{head} [{unit}]" if unit not in ("", "1") else head
            columns[of] = values if si else [float(quantity.show(value, us)) for value in values]
        columns["meets it"] = [each.met for each in self.tried]
        columns["problem"] = [each.problem for each in self.tried]
        return pd.DataFrame(columns, index=[each.name for each in self.tried])

    def _first(self) -> Say:
        part, wish, what = self.part.name, self.wish.told, self.wish.number.name
        if self.size is not None and self.size.number is not None:
            told = "{size} is the smallest for {part} that does: {what} {number}, wished is {wish}."
            return say(told, size=self.size.name, part=part, what=what, number=self.size.number, wish=wish)
        best = self.best
        if best is None or best.number is None:
            return say(
                "No size that is sold for {part} gives any {what}; wished is {wish}.", part=part, what=what, wish=wish
            )
        told = "Nothing that is sold for {part} does: {what} is wished as {wish}; the best, {best}, gives {number}."
        return say(told, part=part, what=what, wish=wish, best=best.name, number=best.number)

    def _rest(self) -> Say | None:
        if self.size is None:
            return None
        parts = []
        if self.smaller is None:
            parts.append(say("No smaller one is sold."))
        elif self.smaller.number is None:
            parts.append(say("With {smaller} there is no such plan.", smaller=self.smaller.name))
        else:
            parts.append(say("{smaller} gives {number}.", smaller=self.smaller.name, number=self.smaller.number))
        if self.lost_again:
            parts.append(say("Larger is not always better here: not with {lost}.", lost=self.lost_again))
        elif not self.monotone:
            parts.append(say("Larger is not always better here; every size was asked."))
        return parts[0] if len(parts) == 1 else say("{first} {second}", first=parts[0], second=parts[1])

    def _cells(self, each: Tried) -> tuple[Cell, Cell]:
        if each.number is None:
            return (say("no such plan") if each.problem else None), "no"
        return each.number.shown, "yes" if each.met else "no"

    def __repr__(self) -> str:
        return f"<{self.sentence.text(self.plan.us)}>"

    def _repr_html_(self) -> str:
        return self.table.html(self.plan.us)


def smallest(plan: Plan, address: str, wish: str | None = None) -> Smallest:
    """The smallest size of a part that is sold and meets a wish.

    Parameters
    ----------
    plan : Plan
        The plan.
    address : str
        The part, "tanks.grey", or the foam on it, "tanks.grey.foam"; see :func:`vanwater.options.ladder.ladder`.
    wish : str, optional
        A number's key with a bound: "stay.days >= 3 days"; without it, what the plan itself wishes of the part.

    Returns
    -------
    Smallest
        Every size that is sold was asked, so that nothing hangs on larger ones being better. The smallest that meets
        the wish and the next smaller one are plans of their own, with their ranges.

    Raises
    ------
    PlanError
        When the plan has no such part, the wish cannot be read, or none is said.
    KeyError
        When the wish's number is none of the plan, with the nearest one.
    """
    part = ladder(plan, address)
    wanted = default_wish(plan, address) if wish is None else wish_of(plan, wish)
    said = said_of(plan, wanted.question, wanted.key, [size.values for size in part.sizes])
    tried = [
        Tried(
            name=size.name,
            measure=size.measure,
            values=size.values,
            number=_number(wanted, size.name, each),
            met=wanted.met(each.value),
            problem=each.problem,
        )
        for size, each in zip(part.sizes, said, strict=True)
    ]
    told = Smallest(plan=plan, part=part, wish=wanted, tried=tuple(tried))
    for each in (told.size, told.smaller):
        if each is not None and not each.problem:
            tried[tried.index(each)] = _own(plan, wanted, each)
    return Smallest(plan=plan, part=part, wish=wanted, tried=tuple(tried))


def _number(wish: Wish, size: str, said: Said) -> Number | None:
    """What the number comes to with a size."""
    if math.isnan(said.value):
        return None
    return stated(
        f"{wish.number.name}, with {size}",
        said.value,
        wish.number.quantity,
        "The same with that size, everything else as planned.",
        facts=[("as planned", wish.number)],
        source="solved alike with that size",
    ).keyed(*wish.number.key, "with", size, exact="told at the likely values of the unsure inputs")


def _own(plan: Plan, wish: Wish, each: Tried) -> Tried:
    """A size as a plan of its own, with the range of its number."""
    number = QUESTIONS[wish.question].ask(plan.changed(each.values)).numbers.get(wish.key)
    met = number is not None and wish.met(number.likely)
    return Tried(name=each.name, measure=each.measure, values=each.values, number=number, met=met)
