"""The change order: what becomes of a plan, in words, figures, parts and drawings, on one or two pages."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from markupsafe import Markup

from vanwater.answers.core.escaping import plain
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.parts.change import parts_changed
from vanwater.answers.questions import Answers
from vanwater.answers.signed import signed
from vanwater.document.html import page_of
from vanwater.document.plumbing import Plumbing, plumbing
from vanwater.document.sheets import Sheet, laid_out
from vanwater.document.words import Words, dated
from vanwater.options.comparison import Comparison, Variant
from vanwater.options.turned import Turned
from vanwater.options.variants import compare_plans
from vanwater.options.variants_table import in_words
from vanwater.plan.address import note
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem

__all__ = ["ChangeOrder", "change_between", "render_change"]

_TWO = Problem("", "A change order is made of two plans.", "the plan, and the one that it becomes")

MOST = 30
"""Values that are named; with more it is another van and no change of one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeOrder:
    """What stands on the page.

    Parameters
    ----------
    date : str
        The day in words.
    now, then : str
        What the two plans are called.
    signed : tuple of (str, Say)
        Which of the two plans has a signed revision, and whether it has changed since.
    days : tuple of Say
        How long one can stay out: now, and then.
    changes : Sheet
        What the plans say differently.
    left : int
        How many more values differ.
    figures : Sheet
        The numbers of both.
    turned : tuple of Turned
        Findings that come, go, get worse or better.
    parts : tuple of Sheet
        What is added and dropped.
    drawings : tuple of (str, Plumbing)
        That of the second plan, before it that of the first where pieces are gone; changed pieces are marked.
    """

    date: str
    now: str
    then: str
    signed: tuple[tuple[str, Say], ...]
    days: tuple[Say, ...]
    changes: Sheet
    left: int
    figures: Sheet
    turned: tuple[Turned, ...]
    parts: tuple[Sheet, ...]
    drawings: tuple[tuple[str, Plumbing], ...]


def render_change(comparison: Comparison, *, date: dt.date | None = None) -> str:
    """Write the change order from a plan to another one.

    Parameters
    ----------
    comparison : Comparison
        Of a plan, in whose units it is told, with one other plan.
    date : datetime.date, optional
        The day on the paper; today without it.

    Returns
    -------
    str
        The whole page.

    Raises
    ------
    PlanError
        When it is not one other plan, or the other can be no plan.
    """
    base = comparison.base
    words = Words(base.plan.us)
    other = comparison.variants[0].answers if len(comparison.variants) == 1 else None
    if other is None:
        raise PlanError([_TWO])
    contents = _order(comparison, comparison.variants[0], other, words, date or dt.date.today())
    return page_of("change.html", base.plan, words, book=contents)


def change_between(file: PlanFile, others: Sequence[PlanFile], *, us: bool, date: dt.date | None = None) -> str:
    """The change order from a plan's file to another one.

    Parameters
    ----------
    file : PlanFile
        The first.
    others : sequence of PlanFile
        The other one, alone.
    us : bool
        US units instead of metric ones.
    date : datetime.date, optional
        The day on the paper; today without it.

    Returns
    -------
    str
        The whole page.

    Raises
    ------
    PlanError
        When it is not one other plan.
    """
    if len(others) != 1:
        raise PlanError([_TWO])
    names = [each.path.stem for each in (file, others[0])]
    now, then = names if names[0] != names[1] else (str(each.path) for each in (file, others[0]))
    comparison = compare_plans(now, file.plan.read_in(us), {then: others[0].plan}, keys=())
    return render_change(comparison, date=date)


def _order(comparison: Comparison, variant: Variant, other: Answers, words: Words, date: dt.date) -> ChangeOrder:
    base = comparison.base
    rows = tuple(_rows(base.plan, other.plan, variant.values))
    heads = (Column("piece"), Column("what"), Column("now"), Column("then"))
    tables = [Table("changes", say("What the plans say differently."), heads, rows[:MOST]), comparison.likely()]
    changes, figures, *parts = (laid_out(table, words) for table in (*tables, *parts_changed(base.plan, other.plan)))
    return ChangeOrder(
        date=dated(date, words.us),
        now=comparison.name,
        then=variant.name,
        signed=tuple(
            (name, told)
            for name, plan in ((comparison.name, base.plan), (variant.name, other.plan))
            if (told := signed(plan)) is not None
        ),
        days=(base.headline, other.headline),
        changes=changes,
        left=max(len(rows) - MOST, 0),
        figures=figures,
        turned=comparison.turned,
        parts=tuple(sheet for sheet in parts if sheet.rows),
        drawings=tuple(_drawn(comparison, variant, other, words)),
    )


def _rows(plan: Plan, other: Plan, values: Mapping[str, Any]) -> Iterable[tuple[str, str, str, str]]:
    """A row a value that changes: the piece, what it is, now and then."""
    for address in values:
        table, _, rest = address.partition(".")
        name, _, field = rest.partition(".")
        before, after = (_at(each, address) for each in (plan, other))
        if name and not field and not isinstance(_at(plan, table) or _at(other, table), Mapping):
            name, field = table, name  # a table that stands once
        if field:
            what = _meaning(plan, address, field)
            yield name, what, in_words(plan, address, before), in_words(plan, address, after)
        else:
            told = ["there" if each is not None else "none" for each in (before, after)]
            yield name or table, f"the whole of it ({table})" if name else "the whole of it", told[0], told[1]


def _meaning(plan: Plan, address: str, field: str) -> str:
    try:
        return note(type(plan), address).said(plan.us)
    except KeyError:
        return field.replace(".", " ")


def _at(plan: Plan, address: str) -> Any:
    try:
        return plan.at(address)
    except KeyError:
        return None


def _drawn(comparison: Comparison, variant: Variant, other: Answers, words: Words) -> Iterator[tuple[str, Plumbing]]:
    """The drawing of what it becomes; before it the one of what is, where that shows pieces that will be gone."""
    both = [plumbing(each, words) for each in (comparison.base, other)]
    here, there = (set() if each is None else set(_KEY.findall(str(each.svg))) for each in both)
    for name, shown, told in ((comparison.name, both[0], here - there), (variant.name, both[1], True)):
        if shown is not None and told:
            yield name, replace(shown, svg=_marked(shown.svg, variant.values))


_KEY = re.compile(r'data-key="([^"]*)"')


def _marked(svg: Markup, values: Mapping[str, Any]) -> Markup:
    """A drawing whose changed pieces and runs have a class of their own."""
    text = str(svg)
    for key in dict.fromkeys(above for address in values for above in _above(address)):
        for kind in ("vw-run", "vw-piece"):
            plainly = f'class="{kind}" data-key="{plain(key, "html")}"'
            text = text.replace(plainly, plainly.replace(f'"{kind}"', f'"{kind} changed"'))
    return Markup(text)


def _above(address: str) -> Iterable[str]:
    """An address and those of the pieces that it belongs to."""
    names = address.split(".")
    return (".".join(names[:count]) for count in range(len(names), 1, -1))
