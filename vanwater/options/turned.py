"""Findings that come, go, get worse or better between a plan and another one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.questions import Answers

__all__ = ["Turn", "Turned", "turned"]

Turn: TypeAlias = Literal["comes", "worse", "better", "goes"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turned:
    """A finding that is not the same in another plan.

    Parameters
    ----------
    variant : str
        The other plan.
    turn : {"comes", "worse", "better", "goes"}
        What becomes of it there.
    finding : Finding
        As it is told there; of one that goes, as it is told of the plan.
    """

    variant: str
    turn: Turn
    finding: Finding

    @property
    def worse(self) -> bool:
        """Whether the other plan is the worse for it."""
        return self.turn in ("comes", "worse")


def turned(variant: str, base: Answers, other: Answers) -> tuple[Turned, ...]:
    """The findings that differ between a plan and another one.

    Parameters
    ----------
    variant : str
        What the other plan is called.
    base, other : Answers
        The answers to both.

    Returns
    -------
    tuple of Turned
        What comes or gets worse before what gets better or goes; the gravest of each first.
    """
    here, there = _by_key(base), _by_key(other)
    told: dict[int, Turned] = {}
    for key in {**here, **there}:
        before, after = here.get(key), there.get(key)
        turn = _turn(before, after)
        finding = before if turn == "goes" else after
        if turn is not None and finding is not None:
            told[id(finding)] = Turned(variant=variant, turn=turn, finding=finding)
    order = [told[id(finding)] for finding in worst_first(each.finding for each in told.values())]
    return tuple(sorted(order, key=lambda each: not each.worse))


def _by_key(answers: Answers) -> Mapping[tuple[str, str], Finding]:
    """What is not fine, by question and key; of two with one key the graver."""
    told: dict[tuple[str, str], Finding] = {}
    for question, answer in answers.items():
        for finding in answer.findings:
            other = told.get((question, finding.key))
            if finding.verdict is not Verdict.FINE and (other is None or _rank(other) < _rank(finding)):
                told[question, finding.key] = finding
    return told


def _rank(finding: Finding | None) -> int:
    return 0 if finding is None else finding.verdict.rank


def _turn(before: Finding | None, after: Finding | None) -> Turn | None:
    if _rank(before) == _rank(after):
        return None
    if before is None or after is None:
        return "comes" if before is None else "goes"
    return "worse" if _rank(after) > _rank(before) else "better"
