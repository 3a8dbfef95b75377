"""The short papers made of one plan: what the customer takes along, what the workshop builds and measures by.

The file with every sum is :mod:`vanwater.document.html`. All three show the same numbers: they read the same answers.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from vanwater.answers.core.answer import Caution, gravest_first
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.statement import Count, Range, Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.missing import missing, not_whole
from vanwater.answers.questions import Answers
from vanwater.document.chosen import Choice, choices
from vanwater.document.first_page import KeyNumber, key_numbers, to_know
from vanwater.document.handover import Handover, handover
from vanwater.document.html import Paper, page_of
from vanwater.document.measured import OnTheVan, on_the_van
from vanwater.document.plan_listing import differing
from vanwater.document.plumbing import Plumbing, plumbing
from vanwater.document.sheets import Sheet, laid_out
from vanwater.document.to_scale import ToScale, to_scale
from vanwater.document.words import Words, dated
from vanwater.quantities import ALTITUDE, STAY, TEMPERATURE

__all__ = ["READERS", "Reader", "Short", "render_for"]

Reader: TypeAlias = Literal["customer", "workshop"]

READERS: tuple[Reader, ...] = ("customer", "workshop")
"""Whom a short paper is for."""


_JUDGED = (
    ("{value} away", "household.days_wanted", STAY),
    ("places up to {value} high", "site.highest", ALTITUDE),
    ("warmth up to {value}", "site.warmest", TEMPERATURE),
    ("cold down to {value}", "frost.design_cold", TEMPERATURE),
)
"""For what a van is judged, with the addresses where the plan says it."""


@dataclass(frozen=True, slots=True)
class Situation:
    """The van at another time of the year.

    Parameters
    ----------
    name : str
        As the plan calls it.
    verdict : Say
        How long one can stay out.
    values : tuple
        What differs there, as the plan's listing shows it.
    """

    name: str
    verdict: Say
    values: tuple[object, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Short:
    """What stands in a short paper.

    Parameters
    ----------
    date : str
        The day in words.
    verdicts : tuple of Say
        What the van does, a sentence a question.
    key_numbers : tuple of KeyNumber
        The few numbers in large type.
    situations : tuple of Situation
        How long one can stay out at other times.
    plumbing : Plumbing or None
        The drawing with its lists.
    to_scale : ToScale or None
        The van to scale, for the workshop.
    open : tuple of Finding
        What fails, and each danger that is to be watched.
    missing : Say or None
        That the plan is not whole.
    handed : Handover
        Living with it, faults, settings, what is not to be forgotten.
    measured : OnTheVan
        What is to be measured, and what was.
    holes : tuple of Say
        For what a hole is cut.
    tables : tuple of Sheet
        The workshop's lists: what to order, what to cut, how high it sits.
    cables : Sheet or None
        The cables that the plan names.
    cautions : tuple of Caution
        The gravest first, each once.
    range : tuple of Say
        What it was judged for.
    meaning : Say
        How a number with two ends is read, by the first that has them; and what the stay's own ends are.
    choices : tuple of Choice
        What was chosen, why, and what could have been built otherwise.
    """

    date: str
    verdicts: tuple[Say, ...]
    key_numbers: tuple[KeyNumber, ...]
    situations: tuple[Situation, ...]
    plumbing: Plumbing | None
    to_scale: ToScale | None
    open: tuple[Finding, ...]
    missing: Say | None
    handed: Handover
    measured: OnTheVan
    holes: tuple[Say, ...]
    tables: tuple[Sheet, ...]
    cables: Sheet | None
    cautions: tuple[Caution, ...]
    range: tuple[Say, ...]
    meaning: Say
    choices: tuple[Choice, ...]


def render_for(
    reader: Reader, answers: Answers, *, us: bool | None = None, date: dt.date | None = None, paper: Paper | None = None
) -> str:
    """Write a short paper of a plan.

    Parameters
    ----------
    reader : {"customer", "workshop"}
        Whom it is for.
    answers : Answers
        A plan and its answers.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    date : datetime.date, optional
        The day on the paper; today without it.
    paper : {"A4", "letter"}, optional
        The sheet that it is printed on; letter for US units, A4 else.

    Returns
    -------
    str
        The whole page.
    """
    words = Words(answers.plan.us if us is None else us)
    answers = answers.read_in(words.us)
    contents = _short(answers, words, date or dt.date.today(), others=reader == "customer")
    last = "customer_last.html" if reader == "customer" else ""
    return page_of(f"{reader}.html", answers.plan, words, paper=paper, last=last, book=contents)


def _short(asked: Answers, words: Words, date: dt.date, *, others: bool) -> Short:
    answers = tuple(asked.each.values())
    lacking = missing(asked.plan)
    parts = asked.each.get("parts")
    power = asked.each.get("power")
    handed = handover(asked.plan, answers)
    cables = [table for table in (power.tables if power is not None else ()) if table.key == "cables"]
    return Short(
        date=dated(date, words.us),
        verdicts=tuple(answer.verdict for answer in answers if answer.question.brief and answer.decided),
        key_numbers=key_numbers(answers),
        situations=tuple(
            Situation(name, next(iter(there.values())).verdict, tuple(differing(asked.plan, name)))
            for name, there in asked.situations.items()
        ),
        plumbing=plumbing(asked, words),
        to_scale=None if others else to_scale(asked, words),
        open=tuple(finding for _, finding in to_know(answers, 0)),
        missing=not_whole(len(lacking)) if lacking else None,
        handed=handed,
        measured=on_the_van(handed.measures, answers),
        holes=handed.remember.get("Holes to cut", ()),
        tables=tuple(laid_out(table, words) for table in (parts.tables if parts is not None else ())),
        cables=next((laid_out(table, words) for table in cables), None),
        cautions=gravest_first(caution for answer in answers for caution in answer.cautions),
        range=tuple(_range(asked)),
        meaning=_meaning(key_numbers(answers), answers[0].verdict if answers else None),
        choices=choices(asked, handed.gives) if others else (),
    )


def _meaning(numbers: Sequence[KeyNumber], headline: Say | None) -> Say:
    """How a number with two ends is read: by the first of the page, so that no number stands here for nothing."""
    first = next((each.value for each in numbers if isinstance(each.value, Range) and each.value.parts()[1]), None)
    if first is None:
        return say("All numbers are estimates.")
    stay = next(iter(headline.amounts), None) if headline is not None else None
    same = not isinstance(stay, Range) or stay.quantity is not STAY or stay.parts() == first.parts()
    return say(
        "“{number}” means: the first is likely, the two in brackets are what to expect at least and at most.{stay}",
        number=first,
        stay=say("" if same else " The stay ends with whichever store is first, so its own range above lies lower."),
    )


def _range(asked: Answers) -> Iterator[Say]:
    """For what it was judged: people, days, height, warmth and cold."""
    plan = asked.plan
    yield say("{people}", people=Count(plan.household.people, "person", "people"))
    for told, address, quantity in _JUDGED:
        value = planned(plan, address, quantity)
        days_of_none = plan.water.drained and quantity is STAY
        if math.isfinite(value.value) and not days_of_none:
            yield say(told, value=value.amount)
