"""Which controls of a question are in sight, and which are folded."""

from __future__ import annotations

from vanwater.answers.core.question import Answer
from vanwater.panels.part_picks import picks
from vanwater.plan.model import Plan

__all__ = ["IN_SIGHT", "controls_for"]

IN_SIGHT = 7
"""How many controls are in sight; the others are folded."""


def controls_for(plan: Plan, answer: Answer) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Addresses of the controls for an answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : Answer
        What it says.

    Returns
    -------
    tuple of two tuples of str
        Those in sight, and those that are folded.
    """
    every = tuple(dict.fromkeys(answer.question.controls(plan, answer)))
    return every[:IN_SIGHT], (*every[IN_SIGHT:], *picks(plan, every))
