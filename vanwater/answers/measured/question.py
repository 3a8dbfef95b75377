"""What was measured on the van, beside what is expected."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from vanwater.answers.core.question import Answer, Question
from vanwater.answers.measured.answer import MeasuredOnTheVan, measured
from vanwater.plan.model import Plan

__all__ = ["measured_beside"]


def measured_beside(others: Iterable[Question[Any]]) -> Question[MeasuredOnTheVan]:
    """The question whether the van that was built is as the others expect it.

    Parameters
    ----------
    others : iterable of Question
        Whose numbers may be measured; they are asked only where the plan holds a value that was measured.

    Returns
    -------
    Question
        Its record.
    """
    asked = tuple(others)

    def answer(plan: Plan) -> Answer:
        return measured(plan, [question.ask(plan) for question in asked] if plan.measured else ())

    return Question[MeasuredOnTheVan](
        key="measured",
        title="Measured on the van",
        label="Measured",
        answer=answer,
        controls=_corrected,
        brief=False,
    )


def _corrected(plan: Plan, answer: MeasuredOnTheVan) -> Iterable[str]:  # noqa: ARG001 - as all of its kind
    """What the plan would say otherwise by the values that were read."""
    return dict.fromkeys(reading.corrects for reading in answer.readings if reading.corrects)
