"""Every question that a plan can be asked, in the order in which it is told."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from vanwater.answers.core.answer import Answer
from vanwater.answers.core.statement import Say
from vanwater.answers.frost.question import frost
from vanwater.answers.hot_water.question import hot_water
from vanwater.answers.outlets.question import supply
from vanwater.answers.pump_starts.question import accumulator
from vanwater.answers.stay.question import autonomy
from vanwater.answers.weight.question import weight
from vanwater.plan.model import Plan

__all__ = ["QUESTIONS", "Answers", "answers_to"]

QUESTIONS: Mapping[str, Callable[[Plan], Answer]] = {
    "autonomy": autonomy,
    "supply": supply,
    "accumulator": accumulator,
    "hot_water": hot_water,
    "frost": frost,
    "weight": weight,
}
"""The questions by name; the first gives the headline."""


@dataclass(frozen=True, slots=True)
class Answers:
    """All answers to one plan.

    Parameters
    ----------
    plan : Plan
        The plan that was asked.
    each : mapping of str to Answer
        By question.
    """

    plan: Plan
    each: Mapping[str, Answer]

    @property
    def headline(self) -> Say:
        """The sentence that a builder reads first."""
        return next(iter(self.each.values())).verdict

    @property
    def failing(self) -> bool:
        """Whether any finding of any answer fails."""
        return any(answer.failing for answer in self.each.values())

    def __iter__(self) -> Iterator[Answer]:
        return iter(self.each.values())


def answers_to(plan: Plan) -> Answers:
    """Ask a plan every question.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Answers
        One for each question; what is not decided yet is said in its findings.
    """
    return Answers(plan, {name: question(plan) for name, question in QUESTIONS.items()})
