"""The situations of a plan beside the plan as it is written: what they change in the answers."""

from __future__ import annotations

import math
from collections.abc import Mapping

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.answer import Caution, gravest_first
from vanwater.answers.core.finding import Finding, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table

__all__ = ["AS_WRITTEN", "SLIGHT", "cautions_there", "further", "otherwise", "side_by_side"]

AS_WRITTEN = "as written"
"""What the plan itself is called beside its situations."""

SLIGHT = 0.05
"""Share by which a number differs so little that it is not told again (common practice)."""


def otherwise(base: Mapping[str, Answer], there: Mapping[str, Answer], *, numbers: bool = False) -> tuple[Answer, ...]:
    """The answers of a situation whose verdict is another one.

    Parameters
    ----------
    base : mapping of str to Answer
        The answers to the plan as it is written, by question.
    there : mapping of str to Answer
        Those in the situation.
    numbers : bool
        Whether another number makes another verdict; without it only other words do.

    Returns
    -------
    tuple of Answer
        Of the questions whose verdict has a line of its own, in their order.
    """
    return tuple(
        answer
        for key, answer in there.items()
        if answer.question.brief
        and (key not in base or _said(base[key].verdict, numbers) != _said(answer.verdict, numbers))
    )


def further(base: Mapping[str, Answer], there: Mapping[str, Answer]) -> tuple[tuple[Finding, bool], ...]:
    """What fails in a situation, and each danger to be watched, unless the plan as it is written says the same.

    Parameters
    ----------
    base : mapping of str to Answer
        The answers to the plan as it is written, by question.
    there : mapping of str to Answer
        Those in the situation.

    Returns
    -------
    tuple of (Finding, bool)
        Worst first; each with whether it is new: it is not where the plan as it is written says it with other numbers.
    """
    told = {(finding.key, finding.verdict): finding for answer in base.values() for finding in answer.findings}
    urgent = worst_first(finding for answer in there.values() for finding in answer.findings if finding.urgent)
    pairs = ((finding, told.get((finding.key, finding.verdict))) for finding in urgent)
    return tuple(
        (finding, other is None)
        for finding, other in pairs
        if other is None or not _alike(other.statement, finding.statement)
    )


def cautions_there(base: Mapping[str, Answer], there: Mapping[str, Answer]) -> tuple[Caution, ...]:
    """The grave cautions that a situation raises and the plan as it is written does not.

    Parameters
    ----------
    base : mapping of str to Answer
        The answers to the plan as it is written, by question.
    there : mapping of str to Answer
        Those in the situation.

    Returns
    -------
    tuple of Caution
        The gravest first.
    """
    told = {caution.key for answer in base.values() for caution in answer.cautions}
    raised = gravest_first(caution for answer in there.values() for caution in answer.cautions)
    return tuple(caution for caution in raised if caution.grave and caution.key not in told)


def _said(told: Say, numbers: bool = True) -> str:
    return told.likely.text() if numbers else told.wording


def _alike(told: Say, there: Say) -> bool:
    """Whether two sentences say the same: the same words, with numbers that differ slightly at most."""
    pairs = list(zip(told.amounts, there.amounts, strict=False))
    slight = all(math.isclose(_shown(amount), _shown(other), rel_tol=SLIGHT) for amount, other in pairs)
    return _said(told) == _said(there) or (
        told.wording == there.wording and len(told.amounts) == len(there.amounts) and slight
    )


def _shown(told: Amount | Range) -> float:
    value = told.likely if isinstance(told, Range) else told.value
    return float(told.quantity.show(value))


def side_by_side(base: Mapping[str, Answer], each: Mapping[str, Mapping[str, Answer]]) -> Table:
    """The verdicts of a plan and of its situations as a table.

    Parameters
    ----------
    base : mapping of str to Answer
        The answers to the plan as it is written, by question.
    each : mapping of str to mapping of str to Answer
        Those of each situation, by its name.

    Returns
    -------
    Table
        One row a question, one column a situation.
    """
    columns = (base, *each.values())
    labels = {key: answer.label for answers in columns for key, answer in answers.items() if answer.question.brief}
    rows = tuple(
        (label, *(answers[key].verdict if key in answers else None for answers in columns))
        for key, label in labels.items()
    )
    heads = tuple(Column(head) for head in ("question", AS_WRITTEN, *each))
    return Table("situations", say("The same van in other situations."), heads, rows)
