"""The parts of a plan as lines."""

from __future__ import annotations

from vanwater.answers.parts.question import QUESTION
from vanwater.plan.model import Plan
from vanwater.terminal.overview import question
from vanwater.terminal.screen import Screen

__all__ = ["parts_lines"]


def parts_lines(plan: Plan, screen: Screen) -> list[str]:
    """What to order and what to cut, as lines.

    Parameters
    ----------
    plan : Plan
        The plan, in the units that are read.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The first says how much there is.
    """
    return question(QUESTION.ask(plan), screen)
