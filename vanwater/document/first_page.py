"""The first page: the answer, what ends a stay, what to know first, the few numbers that matter."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from vanwater.answers.core.finding import Finding, worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range, Say
from vanwater.document.words import Shows
from vanwater.quantities import STAY

__all__ = ["KeyNumber", "key_numbers", "to_know"]

MOST, STORES = 6, 4
"""How many key numbers stand on the first page, and how many of them are stores."""


@dataclass(frozen=True, slots=True)
class KeyNumber:
    """A number in large type with its name.

    Parameters
    ----------
    name : str or Say
        What it is.
    value : Amount or Range
        The number.
    remark : str
        A word or two below it.
    about : Say, optional
        What it is a number of, together with its neighbours.
    """

    name: Shows
    value: Amount | Range
    remark: str = ""
    about: Say | None = None


def key_numbers(answers: Sequence[Answer]) -> tuple[KeyNumber, ...]:
    """The few numbers of the first page.

    Parameters
    ----------
    answers : sequence of Answer
        In the order in which they are told.

    Returns
    -------
    tuple of KeyNumber
        How long each store lasts, the one that ends the stay first, then the numbers of the other verdicts.
    """
    if not answers:
        return ()
    stores = list(_stores(answers[0]))[:STORES]
    brief = [answer for answer in answers[1 if stores else 0 :] if answer.question.brief]
    named = [number for answer in brief for number in _of_verdict(answer)]
    return (*stores, *named[: MOST - len(stores)])


def to_know(answers: Sequence[Answer], least: int = 3) -> tuple[tuple[Answer, Finding], ...]:
    """What a reader must know first.

    Parameters
    ----------
    answers : sequence of Answer
        In the order in which they are told.
    least : int
        How many things where fewer are urgent.

    Returns
    -------
    tuple of (Answer, Finding)
        All that fails and every danger to be watched, worst first; those alike in the order of the answers.
    """
    answer_of = {id(finding): answer for answer in answers for finding in answer.findings}
    ranked = worst_first(finding for answer in answers for finding in answer.findings)
    urgent = [place for place, finding in enumerate(ranked) if finding.urgent]
    count = max([least, *(place + 1 for place in urgent)])
    return tuple((answer_of[id(finding)], finding) for finding in ranked[:count])


def _stores(answer: Answer) -> Iterator[KeyNumber]:
    """Rows of the first table that says how long something lasts."""
    for table in answer.tables:
        place = next((place for place, column in enumerate(table.columns) if column.quantity is STAY), None)
        if place is None:
            continue
        for number, row in enumerate(table.rows):
            lasts, name = row[place], row[0]
            if isinstance(lasts, Amount | Range) and isinstance(name, str | Say):
                first = number == 0 and math.isfinite(_likely(lasts))
                yield KeyNumber(name, lasts, "ends the stay" if first else "", table.caption)
        return


def _of_verdict(answer: Answer) -> Iterator[KeyNumber]:
    if answer.decided:
        for told in answer.verdict.amounts[:1]:  # as the verdict tells it, no finer
            if told.number is not None and not _put_in(told.number):
                yield KeyNumber(told.number.name, told)


def _put_in(number: Number) -> bool:
    """Whether a number is the plan's or taken by habit: nobody needs to be told it as an answer."""
    return not number.formula and number.source in ("the plan", "common practice")


def _likely(value: Amount | Range) -> float:
    return value.likely if isinstance(value, Range) else value.value
