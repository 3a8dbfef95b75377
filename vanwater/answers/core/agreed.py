"""What falls short and was agreed so with the customer: told as agreed, where that is for a customer to decide."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.harm import HARM, Harm, harm_of, place_of
from vanwater.answers.core.statement import say
from vanwater.plan.household import Agreed
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem, joined, shown

__all__ = ["settled"]


def settled(plan: Plan, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The findings, those that fail and were agreed told so, with the day and the words.

    Parameters
    ----------
    plan : Plan
        The plan, with what was agreed.
    findings : sequence of Finding
        Of one answer.

    Returns
    -------
    tuple of Finding
        Worst first.

    Raises
    ------
    PlanError
        When something was agreed that no signature heals: a danger to life, of injury or of damage.
    """
    problems = list(_refused(plan))
    if problems:
        raise PlanError(problems)
    agreed = {each.finding: each for each in plan.agreed.values() if each.situation == plan.situation}
    return worst_first(_settled(finding, agreed) for finding in findings)


def _settled(finding: Finding, agreed: Mapping[str, Agreed]) -> Finding:
    said = agreed.get(finding.key)
    if said is None or finding.verdict is not Verdict.FAILS:
        return finding
    told = say(
        "{finding} Agreed {day}{words}",
        finding=finding.statement,
        day=said.on,
        words=f": {said.words.removesuffix('.')}." if said.words else ".",
    )
    return replace(finding, verdict=Verdict.AGREED, statement=told)


def _refused(plan: Plan) -> Iterator[Problem]:
    for name, said in plan.agreed.items():
        address, harm = joined(("agreed", name, "finding")), harm_of(said.finding)
        if place_of(said.finding) >= len(HARM):
            told = f"There is no finding of the kind {shown(said.finding)}."
            yield Problem(address, told, 'the key of a finding, such as "stay.days"')
        elif harm < Harm.DOES_NOT_WORK:
            told = (
                f"{shown(said.finding)} cannot be agreed: it is about {harm.word}, and a signature heals nothing of it."
            )
            yield Problem(address, told, "a van that is changed until this fails no more")
