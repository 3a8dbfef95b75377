from __future__ import annotations

import pytest

from tests.examples import NAMES, example, example_answers
from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.key import key_text
from vanwater.answers.core.question import Answer
from vanwater.answers.questions import QUESTIONS, answers_to


@pytest.mark.parametrize("name", NAMES)
def test_every_question_is_answered_in_words_and_numbers(name: str) -> None:
    answers = example_answers(name)
    assert list(answers.each) == [key for key, question in QUESTIONS.items() if not question.ask(answers.plan).silent]
    assert answers.headline.text() == next(iter(answers.values())).verdict.text()
    for key, answer in answers.each.items():
        assert isinstance(answer, Answer)
        assert answer.key == key
        for us in (False, True):
            assert answer.verdict.text(us)
            for finding in answer.findings:
                assert finding.statement.text(us)
                assert finding.source or finding.verdict.word == "not decided", finding.key
        assert answer.findings == worst_first(answer.findings)
        assert len({finding.key for finding in answer.findings}) == len(answer.findings)
        for number, step in answer.numbers.items():
            assert step.lines(), number
            assert all(one.source for _, one in step.walk()), number
        for table in answer.tables:
            assert all(len(row) == len(table.columns) for row in table.rows)
    assert answers.failing == any(answer.failing for answer in answers.values())


def test_every_address_in_a_finding_leads_somewhere() -> None:
    for name in NAMES:
        plan = example(name)
        for answer in answers_to(plan).values():
            for finding in answer.findings:
                if finding.address:
                    plan.at(finding.address)


@pytest.mark.parametrize("name", NAMES)
def test_what_a_question_tells_at_a_glance_is_a_number_of_its_answer(name: str) -> None:
    told = {}
    for key, answer in example_answers(name).items():
        for number in answer.question.glance(answer):
            assert answer.numbers[key_text(number.key)].likely == number.likely
            told.setdefault(key, number)
    assert {"stay", "outlets", "power"} <= told.keys() <= {"stay", "outlets", "hot_water", "power", "frost", "weight"}
    if name == "family-winter":
        assert list(told) == ["stay", "outlets", "hot_water", "power", "frost", "weight"]
        charge, energy = (
            example_answers(name).numbers[f"battery.all_loads_{what}a_day"].likely for what in ("charge_", "")
        )
        assert charge * example(name).at("battery.volts") == pytest.approx(energy * 86400.0)
