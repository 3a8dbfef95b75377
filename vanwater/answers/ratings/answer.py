"""Whether every hose, pipe, joint and piece stands the pressure and the warmth that can come to it, and mates."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.ratings.joints import joints_findings, joints_taken
from vanwater.answers.ratings.judged import Judged
from vanwater.answers.ratings.pieces import pieces_findings
from vanwater.answers.ratings.pipes import judged_pipes, pipes_findings
from vanwater.plan.model import Plan
from vanwater.system.design_pressure import Cause, design_pressures
from vanwater.system.pieces import pieces

__all__ = ["ratings", "ratings_findings"]


def ratings(plan: Plan) -> Answer:
    """What is to be said of ratings and joints.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Answer
        Not decided where nothing is known of any piece.
    """
    findings = worst_first((*ratings_findings(plan), *joints_findings(plan)))
    return Answer(
        verdict=_verdict(findings),
        decided=any(finding.verdict is not Verdict.NOT_DECIDED for finding in findings),
        findings=findings,
        assumptions=tuple(joints_taken(plan)),
    )


def ratings_findings(plan: Plan) -> Iterator[Finding]:
    """What is to be said of hoses, pipes and rated pieces against pressure and warmth.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        Of the stock sizes, then of joints, fittings, heaters and accumulators.
    """
    designs = design_pressures(plan)
    judged = judged_pipes(plan, designs)
    presses: dict[Cause, float] = {}
    for design in designs.values():
        presses[design.cause] = max(presses.get(design.cause, 0.0), design.pressure or 0.0)
    yield from pipes_findings(judged, len(designs) - len(judged), presses)
    yield from pieces_findings([Judged(piece, plan.us) for piece in pieces(plan, designs)], presses)


def _verdict(findings: tuple[Finding, ...]) -> Say:
    """The worst of it; what is weakest where all is fine."""
    if not findings:
        return say("Whether pieces and joints stand the pressure, and fit each other, is not decided.")
    worst = findings[0]
    alike = sum(finding.verdict is worst.verdict for finding in findings)
    if worst.verdict is Verdict.FINE or alike == 1:
        return worst.statement
    return say("{first} {more} like it.", first=worst.statement, more=Count(alike - 1, "more", "more"))
