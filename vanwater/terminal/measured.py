"""What was measured of a number, beside its sum."""

from __future__ import annotations

from typing import TYPE_CHECKING

from vanwater.answers.core.statement import say
from vanwater.answers.measured.answer import MeasuredOnTheVan
from vanwater.terminal.screen import Screen

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["beside"]


def beside(key: str, answers: Answers, screen: Screen) -> list[str]:
    """What was measured of a number.

    Parameters
    ----------
    key : str
        The number's key, or an address of the plan.
    answers : Answers
        All answers to the plan.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        Nothing where it was not measured.
    """
    asked = answers.get("measured")
    lines: list[str] = []
    for each in asked.readings if isinstance(asked, MeasuredOnTheVan) else ():
        if each.key.replace('"', "") != key.replace('"', ""):
            continue
        told = say("{told}, with {instrument}", told=each.told, instrument=each.said.instrument)
        if each.band is not None:
            told = say("{told}; {side} the band, {band}", told=told, side=each.side or "within", band=each.band.told)
        lines += ["", *screen.paragraph(say("On the van: {told}. It moves no sum.", told=told))]
    return lines
