"""What is typed after ``--why``: a number's key, a part of one, words, or an address of the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from vanwater.plan.file import PlanFile
from vanwater.terminal import address, measured, unfold
from vanwater.terminal.screen import Screen
from vanwater.terminal.wanted import matching

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["why"]


def why(wanted: str, file: PlanFile, answers: Answers, screen: Screen) -> list[str]:
    """A number unfolded to its sum, or what the plan says at an address, and what was measured of it.

    Parameters
    ----------
    wanted : str
        What was typed; without a word every key is listed.
    file : PlanFile
        The plan with the text it was read from.
    answers : Answers
        All answers to it.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The lines.

    Raises
    ------
    RefusedError
        When it means no number and no address, or several.
    """
    if not wanted.strip():
        return unfold.keys(answers, screen)
    numbers = unfold.numbers_of(answers)
    if wanted not in numbers and address.stands(file.plan, wanted):
        return [*address.explained(wanted, file, answers, screen), *measured.beside(wanted, answers, screen)]
    judged = unfold.judged_by(answers)
    meant = matching(wanted, {key: number.name for key, number in numbers.items()})
    meant = meant or matching(wanted, {key: finding.statement.text() for key, finding in judged.items()})
    if len(meant) != 1:
        raise unfold.unknown(wanted, meant, (*numbers, *judged, *address.addresses(file.plan)))
    (key,) = meant
    told = unfold.unfolded(key, numbers[key], screen) if key in numbers else unfold.found(judged[key], screen)
    return [*told, *measured.beside(key, answers, screen)]
