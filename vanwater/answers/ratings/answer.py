"""Whether every hose, pipe, joint and piece stands the pressure and the warmth that can come to it, and mates."""

from __future__ import annotations

from vanwater.answers.core.cautions import ESTIMATE
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.ratings.joints import joints_findings
from vanwater.answers.ratings.ratings import ratings_findings
from vanwater.plan.model import Plan

__all__ = ["ratings"]


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
        cautions=(ESTIMATE,) if findings else (),
    )


def _verdict(findings: tuple[Finding, ...]) -> Say:
    """The worst of it; what is weakest where all is fine."""
    if not findings:
        return say("Whether the pieces stand what comes to them, and mate, is not decided.")
    worst = findings[0]
    alike = sum(finding.verdict is worst.verdict for finding in findings)
    if worst.verdict is Verdict.FINE or alike == 1:
        return worst.statement
    return say("{first} {more} like it.", first=worst.statement, more=Count(alike - 1, "more", "more"))
