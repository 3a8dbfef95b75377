"""Plans side by side as tables: their numbers, their findings, what was changed."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.difference import is_sure
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.options.headline import STAY
from vanwater.options.turned import Turned
from vanwater.plan.address import note
from vanwater.plan.model import Plan
from vanwater.quantities import NO_BREAK, TEMPERATURE

__all__ = ["Line", "changes_table", "differing", "in_words", "name_of", "numbers_table", "turned_table"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Line:
    """One number of all plans.

    Parameters
    ----------
    key : str
        Its key.
    base : Number or None
        That of the plan; None where the plan has none.
    each : tuple of Number or None
        Those of the variants that are plans, in their order.
    differences : tuple of Number or None
        How much more each variant has; None where one of the two has none.
    headline : bool
        Whether it is told in any case.
    """

    key: str
    base: Number | None
    each: tuple[Number | None, ...]
    differences: tuple[Number | None, ...]
    headline: bool = False

    @property
    def number(self) -> Number:
        """The first of them that there is."""
        return next(number for number in (self.base, *self.each) if number is not None)

    @property
    def sure(self) -> tuple[bool, ...]:
        """Of each variant, whether its difference is beyond what the unsure inputs can take away."""
        return tuple(told is not None and is_sure(told) for told in self.differences)


_TURNS = {"comes": "is new", "worse": "gets worse", "better": "gets better", "goes": "is gone"}
_WHOLE = "a whole part"


def differing(number: Number | None, base: Number | None, us: bool) -> bool:
    """Whether a reader sees two numbers differ, or one of them is missing.

    Parameters
    ----------
    number, base : Number or None
        That of the variant and that of the plan.
    us : bool
        Whether US units are shown.

    Returns
    -------
    bool
        False for what differs by less than its last digit that is told.
    """
    if number is None or base is None:
        return number is not base
    if number.likely == base.likely or (math.isnan(number.likely) and math.isnan(base.likely)):
        return False
    return number.amount.text(us) != base.amount.text(us)


def numbers_table(
    plan: Plan,
    names: Sequence[str],
    lines: Sequence[Line],
    ends: Sequence[Say],
    notes: Sequence[Say],
    *,
    ranged: bool = True,
) -> Table:
    """Numbers side by side, one line each, with the difference of each variant.

    Parameters
    ----------
    plan : Plan
        The plan, for the words of its own values.
    names : sequence of str
        Of the plan and of the variants that are plans.
    lines : sequence of Line
        The numbers.
    ends : sequence of Say
        What ends the stay in each plan; told below the days.
    notes : sequence of Say
        What belongs under it.
    ranged : bool
        Whether the numbers have their ranges beside them; the differences have them in any case.

    Returns
    -------
    Table
        Without the columns of differences where no variant is a plan.
    """
    first, *others = names
    columns = [Column("what"), Column(first)]
    for name in others:
        columns += [Column(name), Column(f"{name}: difference" if len(others) > 1 else "difference")]
    rows: list[tuple[Cell, ...]] = []
    for line in lines:
        cells: list[Cell] = [name_of(plan, line.number), _cell(line.base, ranged)]
        for number, more in zip(line.each, line.differences, strict=True):
            cells += [_cell(number, ranged), _difference(more, plan.us)]
        rows.append(tuple(cells))
        if line.key == STAY:
            rows.append(_ends(ends))
    return Table(
        "compared",
        say("The numbers side by side; a difference that what is not known well can take away may be none."),
        tuple(columns),
        tuple(rows),
        _note(notes),
    )


def turned_table(turned: Sequence[Turned]) -> Table:
    """Findings that come, go, get worse or better.

    Parameters
    ----------
    turned : sequence of Turned
        Of all variants.

    Returns
    -------
    Table
        One row a finding.
    """
    return Table(
        "turned",
        say("What is told of the variants and not of the plan, and what is no longer told."),
        (Column("variant"), Column("what becomes of it"), Column("verdict"), Column("finding")),
        tuple((each.variant, _TURNS[each.turn], each.finding.verdict.word, each.finding.statement) for each in turned),
    )


def changes_table(plan: Plan, name: str, values: Mapping[str, Mapping[str, Any]]) -> Table:
    """What each variant changes, beside what the plan says there.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        What it is called.
    values : mapping of str to mapping
        The values of each variant, by address.

    Returns
    -------
    Table
        One row an address.
    """
    addresses = dict.fromkeys(address for changed in values.values() for address in changed)
    rows = tuple(
        (
            address,
            in_words(plan, address, _planned(plan, address)),
            *(in_words(plan, address, changed[address]) if address in changed else "" for changed in values.values()),
        )
        for address in addresses
    )
    heads = tuple(Column(head) for head in ("address", name, *values))
    return Table("changes", say("What the variants change; all else is as the plan says."), heads, rows)


def in_words(plan: Plan, address: str, value: Any) -> str:
    """A value of a plan as one would write it.

    Parameters
    ----------
    plan : Plan
        The plan, whose units are told.
    address : str
        Where it stands.
    value : object
        As the plan or as its file holds it.

    Returns
    -------
    str
        "none" where it is not said; a whole part by the stock that it is.
    """
    if value is None:
        return "none"
    if isinstance(value, Mapping):
        return str(value.get("stock", _WHOLE))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return f"a list of {len(value)}"
    if isinstance(value, str | int | float):
        try:
            quantity = note(type(plan), address).quantity
        except KeyError:
            quantity = None
        if quantity is None:
            return str(value)
        si = quantity.read(value) if isinstance(value, str) else value
        return quantity.text(si, plan.us).replace(NO_BREAK, " ")
    return getattr(value, "stock", None) or _WHOLE


def name_of(plan: Plan, number: Number) -> str:
    """What a number is called: a value of the plan by what its field means, all else by its own name."""
    address = ".".join(number.key)
    if number.name != address:
        return number.name
    try:
        said = note(type(plan), address).said(plan.us)
    except KeyError:
        return number.name
    return f"{number.key[1]}: {said}" if len(number.key) > 2 else said


def _planned(plan: Plan, address: str) -> Any:
    try:
        return plan.at(address)
    except KeyError:
        return None


def _cell(number: Number | None, ranged: bool) -> Cell:
    if number is None or math.isnan(number.likely):
        return None
    if number.likely == -math.inf and number.quantity is TEMPERATURE:
        return say("any cold")
    return number.shown if ranged else number.amount


def _difference(more: Number | None, us: bool) -> Cell:
    """With its sign, and whether it may be none."""
    if more is None or math.isnan(more.likely):
        return None
    if more.likely == 0.0:
        return say("none")
    if math.isinf(more.likely):
        return say("without limit")
    sign = "+" if more.likely > 0 else ""
    told = more.amount.text(us).partition(NO_BREAK)[0]
    if not any(digit in "123456789" for digit in told):
        return say("hardly any")
    return say(f"{sign}{{more}}" if is_sure(more) else f"{sign}{{more}}, may be none", more=more)


def _ends(ends: Sequence[Say]) -> tuple[Cell, ...]:
    first, *others = ends
    cells: list[Cell] = [say("what ends the stay"), first]
    for end in others:
        cells += [end, say("the same" if end.text() == first.text() else "another end")]
    return tuple(cells)


def _note(notes: Sequence[Say]) -> Say | None:
    return say(" ".join(f"{{n{place}}}" for place in range(len(notes))), **_named(notes)) if notes else None


def _named(notes: Sequence[Say]) -> dict[str, Say]:
    return dict(_numbered(notes))


def _numbered(notes: Sequence[Say]) -> Iterator[tuple[str, Say]]:
    for place, each in enumerate(notes):
        yield f"n{place}", each
