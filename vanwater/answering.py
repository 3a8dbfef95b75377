"""A plan's file with the answers to it, and every problem at its line of the file."""

from __future__ import annotations

import dataclasses

from vanwater.answers.measured.answer import MeasuredOnTheVan
from vanwater.answers.questions import Answers, answers_to
from vanwater.plan.file import PlanFile, read
from vanwater.plan.problems import PlanError
from vanwater.terminal.refusal import RefusedError

__all__ = ["answered"]


def answered(path: str, situation: str | None = None) -> tuple[PlanFile, Answers]:
    """Read a plan's file and ask it every question.

    Parameters
    ----------
    path : str
        The file.
    situation : str, optional
        The plan in one of its situations.

    Returns
    -------
    tuple
        The file with its plan, and the answers.

    Raises
    ------
    PlanError
        With every problem; also where something was agreed or measured that the plan does not have.
    RefusedError
        When the plan has no such situation.
    """
    file = read(path)
    if situation is not None:
        try:
            file = dataclasses.replace(file, plan=file.plan.in_situation(situation))
        except KeyError as unknown:
            raise RefusedError(unknown.args[0]) from None
    try:
        answers = answers_to(file.plan)
        _all_known(answers)
    except PlanError as error:
        raise file.located(error) from None
    return file, answers


def _all_known(answers: Answers) -> None:
    """See that each value that was measured, in any situation, is of a number that the van has there."""
    plan = answers.plan
    named = {each.situation for each in plan.measured.values()} | {each.situation for each in plan.agreed.values()}
    there = answers.situations.values() if any(named) else ()
    problems = [
        each.problem
        for asked in (answers, *there)
        for answer in asked.values()
        if isinstance(answer, MeasuredOnTheVan)
        for each in answer.unknown
    ]
    if problems:
        raise PlanError(problems)
