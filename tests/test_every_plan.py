"""Plans of every shape go through every answer, the terminal, JSON and the document: no exception, no NaN."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.pumped import KINDS, on_the_mains, pumped
from tests.strategies import plans
from tests.terminal.made import piped
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.document.html import render
from vanwater.plan.model import Plan
from vanwater.terminal.json_form import json_text
from vanwater.terminal.overview import MOST_LINES, everything, overview


def _refused(word: str) -> float:
    raise AssertionError(f"{word} is no JSON")


@WHOLE_PLANS
@given(plans())
def test_every_plan_is_answered_and_told(raw: dict[str, Any]) -> None:
    answers = answers_to(Plan.of(raw, file=True))
    assert list(answers.each) == [key for key in QUESTIONS if key in answers.each]
    assert all(question.ask(answers.plan).silent is (key not in answers.each) for key, question in QUESTIONS.items())
    for answer in answers.values():
        assert answer.verdict.text()
        for step in answer.numbers.values():
            assert step.lines()
    screen = piped(us=answers.plan.us)
    assert overview(answers, screen)
    assert all("nan" not in line.lower().split() for line in everything(answers, screen))
    assert json.loads(json_text(answers, "1", "utf-8"), parse_constant=_refused)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("van", [pumped, on_the_mains], ids=["off-grid", "on the mains"])
def test_every_kind_of_pump_is_told_everywhere(kind: str, van: Callable[[str], dict[str, Any]]) -> None:
    answers = answers_to(Plan.of(van(kind), file=True))
    assert len(overview(answers, piped(us=False))) <= MOST_LINES
    assert everything(answers, piped(us=True))
    assert json.loads(json_text(answers, "1", "utf-8"), parse_constant=_refused)
    drawn = (KINDS.index(kind) % 2 == 0) is (van is pumped)  # of each kind one van with its charts
    assert kind in render(answers, date=dt.date(2026, 5, 1), charts=None if drawn else {})


@WHOLE_PLANS
@given(plans())
def test_every_plan_makes_a_document(raw: dict[str, Any]) -> None:
    answers = answers_to(Plan.of(raw, file=True))
    page = render(answers, date=dt.date(2026, 5, 1))
    assert page.startswith("<!")
    assert page.rstrip().endswith("</html>")
