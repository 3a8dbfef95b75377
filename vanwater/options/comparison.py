"""A plan and its variants side by side: what each number comes to, how they differ, whether that is sure."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from vanwater.answers.core.chart import Chart
from vanwater.answers.core.difference import difference
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, harmless, say
from vanwater.answers.core.table import Table
from vanwater.answers.questions import Answers
from vanwater.options.headline import headline_keys, what_ends
from vanwater.options.known import unknown_number
from vanwater.options.prices import PRICE, price_of, unpriced
from vanwater.options.turned import Turned, turned
from vanwater.options.variants_chart import bars_of, drawn_together
from vanwater.options.variants_table import Line, changes_table, differing, numbers_table, turned_table

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Comparison", "Variant"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Variant:
    """Another plan beside the plan.

    Parameters
    ----------
    name : str
        What it is called.
    values : mapping of str to object
        What it changes, by address.
    answers : Answers or None
        The answers to it; None where it cannot be a plan.
    problem : str
        Why it cannot be one; empty where it is.
    """

    name: str
    values: Mapping[str, Any] = field(default_factory=dict)
    answers: Answers | None = None
    problem: str = ""


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Comparison:
    """A plan and its variants side by side; see :func:`vanwater.options.variants.compare`.

    Parameters
    ----------
    base : Answers
        The answers to the plan.
    name : str
        What the plan is called.
    variants : tuple of Variant
        As they were given.
    keys : tuple of str or None
        The numbers that are told beside those of the headline; None for all that differ.
    """

    base: Answers
    name: str
    variants: tuple[Variant, ...]
    keys: tuple[str, ...] | None = None

    @property
    def possible(self) -> Mapping[str, Answers]:
        """The answers to the variants that can be plans, by name."""
        return {each.name: each.answers for each in self.variants if each.answers is not None}

    @property
    def impossible(self) -> Mapping[str, str]:
        """Why the others cannot, by name."""
        return {each.name: each.problem for each in self.variants if each.answers is None}

    @property
    def known(self) -> tuple[str, ...]:
        """The keys of all numbers of all plans."""
        return tuple(dict.fromkeys(key for answers in (self.base, *self.possible.values()) for key in answers.numbers))

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """The headline, then every further number that differs, in the order of the questions."""
        every = (self.base, *self.possible.values())
        first = dict.fromkeys(key for answers in every for key in headline_keys(answers))
        wanted = _along(every) if self.keys is None else self.keys
        told = [self._line(key, True) for key in (*first, PRICE)]
        told += [self._line(key, self.keys is not None) for key in wanted if key not in first]
        return tuple(line for line in told if line is not None)

    def __getitem__(self, key: str) -> Line:
        """The line of any number, whether it differs or not."""
        line = self._line(key, headline=True)
        if line is None:
            raise KeyError(unknown_number(key, self.known))
        return line

    @cached_property
    def turned(self) -> tuple[Turned, ...]:
        """The findings that come, go, get worse or better, variant by variant, the worst first."""
        return tuple(told for name, answers in self.possible.items() for told in turned(name, self.base, answers))

    @property
    def table(self) -> Table:
        """The headline and all that differs."""
        return self._table(self.lines)

    @property
    def headline(self) -> Table:
        """The headline alone."""
        return self._table([line for line in self.lines if line.headline])

    def likely(self, *, everything: bool = False) -> Table:
        """The headline, or all that differs, with the ranges of the differences alone: for narrow places."""
        return self._table([line for line in self.lines if everything or line.headline], ranged=False)

    @property
    def findings(self) -> Table:
        """The findings that come, go, get worse or better."""
        return turned_table(self.turned)

    @property
    def changes(self) -> Table:
        """What each variant changes, beside what the plan says there."""
        return changes_table(self.base.plan, self.name, {each.name: each.values for each in self.variants})

    @property
    def notes(self) -> tuple[Say, ...]:
        """What belongs under the numbers: variants that are no plans, and why money is not told."""
        return tuple(self._notes())

    def frame(self, *, si: bool = False, us: bool | None = None) -> pd.DataFrame:
        """The numbers as a data frame, one row each.

        Parameters
        ----------
        si : bool
            SI units instead of those that the plan is shown in.
        us : bool, optional
            US units, or metric ones, instead of the plan's own.

        Returns
        -------
        pandas.DataFrame
            By key: what it is, its unit, its value in each plan; for each variant the difference, its low and high end,
            and whether it is sure.

        Raises
        ------
        ImportError
            When pandas is not installed.
        """
        import pandas as pd

        us = self.base.plan.us if us is None else us
        rows = [self._row(line, si, us) for line in self.lines]
        return pd.DataFrame(rows, index=[line.key for line in self.lines])

    def chart(self, question: str = "stay", key: str = "") -> Chart | None:
        """A chart of an answer with all plans drawn into it.

        Parameters
        ----------
        question : str
            The question: "stay", "outlets".
        key : str
            The chart; the first that can be drawn without it.

        Returns
        -------
        Chart or None
            None where none of the plans has such a chart.
        """
        plans = {self.name: self.base, **self.possible}
        told = {name: answers[question] for name, answers in plans.items() if question in answers}
        title = next((answer.title for answer in told.values()), "")
        return drawn_together(title, {name: answer.chart(key) for name, answer in told.items()})

    def bars(self, key: str) -> Chart:
        """One number of all plans as bars with their ranges.

        Raises
        ------
        KeyError
            When no plan has such a number, or it is not decided in any.
        """
        line = self[key]
        return bars_of(line.number, {self.name: line.base, **dict(zip(self.possible, line.each, strict=True))})

    def _line(self, key: str, headline: bool) -> Line | None:
        base, *each = (_number(answers, key) for answers in (self.base, *self.possible.values()))
        if base is None and all(number is None for number in each):
            return None
        if not headline and not any(differing(number, base, self.base.plan.us) for number in each):
            return None
        differences = [
            difference(number, base, name) if number is not None and base is not None else None
            for name, number in zip(self.possible, each, strict=True)
        ]
        if key == PRICE:
            differences = [
                None if unpriced(self.base.plan, answers.plan) else told
                for answers, told in zip(self.possible.values(), differences, strict=True)
            ]
        return Line(key=key, base=base, each=tuple(each), differences=tuple(differences), headline=headline)

    def _table(self, lines: Sequence[Line], *, ranged: bool = True) -> Table:
        plans = {self.name: self.base, **self.possible}
        ends = tuple(what_ends(answers) for answers in plans.values())
        return numbers_table(self.base.plan, tuple(plans), lines, ends, self.notes, ranged=ranged)

    def _row(self, line: Line, si: bool, us: bool) -> dict[str, Any]:
        quantity = line.number.quantity
        told: dict[str, Any] = {"what": line.number.name, "unit": quantity.si if si else quantity.unit(us)}

        def value(number: Number | None, end: int | None = None) -> float:
            if number is None:
                return math.nan
            at = number.likely if end is None or number.range is None else number.range[end]
            return at if si else float(number.quantity.show(at, us))

        told[self.name] = value(line.base)
        for name, number in zip(self.possible, line.each, strict=True):
            told[name] = value(number)
        for name, more, sure in zip(self.possible, line.differences, line.sure, strict=True):
            told |= {f"{name}, difference": value(more), f"{name}, low": value(more, 0)}
            told |= {f"{name}, high": value(more, 1), f"{name}, sure": sure}
        return told

    def _notes(self) -> Iterator[Say]:
        for name, problem in self.impossible.items():
            yield say("{variant} cannot be built so: {why}", variant=name, why=problem)
        plans = (self.base.plan, *(answers.plan for answers in self.possible.values()))
        if all(price_of(plan) is None for plan in plans):
            yield say("Money is left out: no part of the plans names a price.")
            return
        for name, answers in self.possible.items():
            lost = unpriced(self.base.plan, answers.plan)
            if lost:
                yield say(
                    "What {variant} costs more or less is not known: no price is named for {parts}.",
                    variant=name,
                    parts=lost,
                )

    def __repr__(self) -> str:
        plain = harmless("terminal")
        return f"<{plain(self.name)} beside {', '.join(plain(each.name) for each in self.variants)}>"

    def _repr_html_(self) -> str:
        us = self.base.plan.us
        return "".join(table.html(us) for table in (self.headline, self.findings) if table.rows)


def _number(answers: Answers, key: str) -> Number | None:
    return price_of(answers.plan) if key == PRICE else answers.numbers.get(key)


def _along(every: Sequence[Answers]) -> tuple[str, ...]:
    """The numbers that are worked out along the rows, in the order in which the questions tell them."""
    return tuple(
        dict.fromkeys(
            key
            for answers in every
            for answer in answers.values()
            for key, number in answer.numbers.items()
            if number.along
        )
    )
