"""Every question that a plan can be asked, in the order in which it is told."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from vanwater.answers.core.finding import Verdict, worst_first
from vanwater.answers.core.gathered import together
from vanwater.answers.core.listing import FindingList, Numbers
from vanwater.answers.core.question import Answer, Question
from vanwater.answers.core.statement import Say, harmless
from vanwater.answers.core.table import Table
from vanwater.answers.frost.question import QUESTION as FROST
from vanwater.answers.hot_water.question import QUESTION as HOT_WATER
from vanwater.answers.mains.question import QUESTION as MAINS
from vanwater.answers.measured.question import measured_beside
from vanwater.answers.missing import Missing, missing, not_whole
from vanwater.answers.outlets.question import QUESTION as OUTLETS
from vanwater.answers.parts.question import QUESTION as PARTS
from vanwater.answers.power.question import QUESTION as POWER
from vanwater.answers.pump_starts.question import QUESTION as PUMP_STARTS
from vanwater.answers.ratings.question import QUESTION as RATINGS
from vanwater.answers.sanitising.question import QUESTION as SANITISING
from vanwater.answers.simultaneous.question import QUESTION as SIMULTANEOUS
from vanwater.answers.situations import side_by_side
from vanwater.answers.stay.question import QUESTION as STAY
from vanwater.answers.weight.question import QUESTION as WEIGHT
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

__all__ = ["QUESTIONS", "Answers", "answers_to"]

_OF_THE_PLAN = (
    STAY,
    OUTLETS,
    SIMULTANEOUS,
    MAINS,
    PUMP_STARTS,
    HOT_WATER,
    POWER,
    FROST,
    RATINGS,
    WEIGHT,
    SANITISING,
    PARTS,
)

QUESTIONS: Mapping[str, Question[Any]] = {
    question.key: question for question in (*_OF_THE_PLAN, measured_beside(_OF_THE_PLAN))
}
"""The questions by name; the first gives the headline."""


_PLAIN, _HTML = harmless("terminal"), harmless("html")


@dataclass(frozen=True, eq=False, repr=False)
class Answers(Mapping[str, Answer]):
    """All answers to one plan, by question: ``answers["stay"]``, ``answers.numbers["tank.grey.days"]``.

    Parameters
    ----------
    plan : Plan
        The plan that was asked.
    each : mapping of str to Answer
        By question; those about which the plan has nothing to say are not among them.
    """

    plan: Plan
    each: Mapping[str, Answer]

    def read_in(self, us: bool) -> Answers:
        """The answers for who reads another system of units: remedies name what is sold in it, and are worked out so.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.

        Returns
        -------
        Answers
            These, where the plan is in those units; else those to the same plan in them.
        """
        return self if self.plan.us is us else answers_to(self.plan.read_in(us))

    @property
    def headline(self) -> Say:
        """The sentence that a builder reads first."""
        return next(iter(self.each.values())).verdict

    @property
    def failing(self) -> bool:
        """Whether any finding of any answer fails; what fails in a situation alone is asked there."""
        return any(answer.failing for answer in self.each.values())

    @property
    def missing(self) -> tuple[Missing, ...]:
        """What keeps the plan from being whole, told above every finding; empty where it is whole."""
        return missing(self.plan)

    @cached_property
    def numbers(self) -> Numbers:
        """Every number of every answer by its key, in the order of the alphabet."""
        return together(answer.numbers for answer in self.each.values())

    @cached_property
    def situations(self) -> Mapping[str, Answers]:
        """The answers in each situation of the plan, by its name; empty where the plan names none."""
        return {name: answers_to(self.plan.in_situation(name), self.plan) for name in self.plan.situations}

    @property
    def side_by_side(self) -> Table | None:
        """The verdicts of the plan and of its situations; None where the plan names none."""
        return side_by_side(self.each, self.situations) if self.situations else None

    @property
    def findings(self) -> FindingList:
        """The findings of all answers, worst first."""
        return FindingList(worst_first(finding for answer in self.each.values() for finding in answer.findings))

    def __repr__(self) -> str:
        """One line an answer."""
        told = [f"{answer.label}: {answer.verdict.text(self.plan.us)}" for answer in self.each.values()]
        lacks = [not_whole(len(self.missing)).text(), *(lack.statement.text() for lack in self.missing)]
        above = lacks if self.missing else []
        return "\n".join([f"Answers to {_PLAIN(self.plan.van.name)}:", *(f"  {line}" for line in (*above, *told))])

    def _repr_html_(self) -> str:
        rows = "".join(
            f"<tr><th>{answer.label}</th><td>{answer.verdict.text(self.plan.us, _HTML)}</td>"
            f"<td>{sum(finding.verdict is Verdict.FAILS for finding in answer.findings) or ''}</td></tr>"
            for answer in self.each.values()
        )
        head = "<tr><th></th><th>answer</th><th>fails</th></tr>"
        lacks = " ".join(lack.statement.text(False, _HTML) for lack in self.missing)
        above = f"<p>{not_whole(len(self.missing)).text()} {lacks}</p>" if self.missing else ""
        try:
            beside = self.side_by_side
            situations = beside.html(self.plan.us) if beside is not None else ""
        except PlanError as error:  # a plan that was changed, and no longer fits its situations
            situations = f"<p>{_HTML(str(error))}</p>"
        return f"<p><b>{_HTML(self.plan.van.name)}</b></p>{above}<table>{head}{rows}</table>{situations}"

    def __getitem__(self, question: str) -> Answer:
        return self.each[question]

    def __iter__(self) -> Iterator[str]:
        return iter(self.each)

    def __len__(self) -> int:
        return len(self.each)


def answers_to(plan: Plan, written: Plan | None = None) -> Answers:
    """Ask a plan every question.

    Parameters
    ----------
    plan : Plan
        The plan.
    written : Plan, optional
        The plan as written, of which it is a situation: an answer that reads nothing that differs is that plan's own.

    Returns
    -------
    Answers
        One for each question that has something to say; what is not decided yet is said in its findings.
    """
    asked = {key: question.ask(plan, written) for key, question in QUESTIONS.items()}
    return Answers(plan, {key: answer for key, answer in asked.items() if not answer.silent})
