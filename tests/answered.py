"""Answers made by hand, for tests of what shows them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer, Question
from vanwater.answers.core.statement import Say
from vanwater.answers.core.table import Table
from vanwater.answers.questions import QUESTIONS


def answered(
    *,
    key: str,
    title: str,
    label: str = "",
    verdict: Say,
    tables: Sequence[Table] = (),
    numbers: Mapping[str, Number] | None = None,
    **more: Any,
) -> Answer:
    """An answer with the tables and numbers that are given."""

    def make_numbers() -> Mapping[str, Number]:
        return numbers or {}

    def make_tables() -> Sequence[Table]:
        return tables

    question = Question(key=key, title=title, label=label, answer=lambda _: Answer(verdict=verdict))
    return Answer(question=question, verdict=verdict, make_tables=make_tables, make_numbers=make_numbers, **more)


stay, outlets, simultaneous, mains, pump_starts, hot_water, frost, ratings = (
    QUESTIONS[key].ask
    for key in ("stay", "outlets", "simultaneous", "mains", "pump_starts", "hot_water", "frost", "ratings")
)
"""Questions, each as a function of a plan."""
