"""Numbers by their keys: which question has one, and what was meant by a key that is none."""

from __future__ import annotations

from collections.abc import Sequence

from vanwater.answers.core.number import Number
from vanwater.answers.questions import QUESTIONS
from vanwater.plan.address import nearest
from vanwater.plan.model import Plan
from vanwater.plan.problems import shown

__all__ = ["home_of", "unknown_number"]


def unknown_number(name: str, known: Sequence[str]) -> str:
    """What is wrong with a key that is none, with the nearest that is.

    Parameters
    ----------
    name : str
        What was asked for.
    known : sequence of str
        The keys that there are.

    Returns
    -------
    str
        A sentence or two.
    """
    kind = nearest(name.partition(".")[0], tuple({key.partition(".")[0]: key for key in known}))
    close = nearest(name, tuple(key for key in known if key.partition(".")[0] == kind))
    hint = f" Did you mean {shown(close)}?" if close else ""
    return f"There is no number {shown(name)}.{hint}"


def home_of(plan: Plan, key: str) -> tuple[str, Number]:
    """The question that a number belongs to, and the number: no question is asked beyond the first that has its range.

    Parameters
    ----------
    plan : Plan
        The plan.
    key : str
        The number's key.

    Returns
    -------
    tuple of (str, Number)
        Where several questions show it, the one that knows its range.

    Raises
    ------
    KeyError
        When the plan has no such number, with the nearest one.
    """
    homes: list[tuple[str, Number]] = []
    known: list[str] = []
    for name, question in QUESTIONS.items():
        numbers = question.ask(plan).numbers
        known += numbers
        if key in numbers:
            homes.append((name, numbers[key]))
            if numbers[key].range is not None:
                return homes[-1]
    if not homes:
        raise KeyError(unknown_number(key, known))
    return homes[0]
