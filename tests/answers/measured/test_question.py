from __future__ import annotations

from tests.examples import example
from vanwater.answers.core.question import Answer, Question
from vanwater.answers.core.statement import say
from vanwater.answers.measured.question import measured_beside
from vanwater.plan.model import Plan

asked: list[str] = []


def answer(plan: Plan) -> Answer:
    asked.append(plan.van.name)
    return Answer(verdict=say("So."))


def test_the_others_are_asked_once_and_only_where_something_was_measured() -> None:
    other: Question[Answer] = Question(key="other", title="Other", answer=answer)
    question = measured_beside([other])
    assert question.ask(example("weekend-cans")).silent and not asked
    said = {"number": "site.cold_water", "value": "12 °C", "on": "2025-03-14", "instrument": "probe"}
    plan = example("weekend-cans").changed({"measured.a": said})
    other.ask(plan)
    assert question.ask(plan).decided and len(asked) == 1


def test_its_sliders_turn_what_the_values_speak_of() -> None:
    said = {"number": "site.cold_water", "value": "12 °C", "on": "2025-03-14", "instrument": "probe"}
    plan = example("weekend-cans").changed({"measured.a": said})
    question = measured_beside([])
    assert list(question.controls(plan, question.ask(plan))) == ["site.cold_water"]
