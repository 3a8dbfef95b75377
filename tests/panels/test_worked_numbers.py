from __future__ import annotations

import json

from vanwater.answers.questions import QUESTIONS
from vanwater.panels.worked_numbers import ASKED, NUMBERS
from vanwater.plan.tables import resource

VANS = json.loads(resource("data", "validation", "worked_vans.json").read_text(encoding="utf-8"))["scenarios"]


def test_every_number_is_one_that_a_hand_worked_out() -> None:
    known = {one["quantity"] for van in VANS for one in van["expected"]}
    told = {key: question.worked for key, question in QUESTIONS.items() if question.worked}
    for question, numbers in {**NUMBERS, **told}.items():
        assert numbers
        assert set(numbers) <= known, question


def test_every_question_with_numbers_can_be_asked() -> None:
    assert set(NUMBERS) == set(ASKED)
    assert set(NUMBERS) <= set(QUESTIONS)


def test_a_bracket_of_two_numbers_has_two() -> None:
    worked = {words: compared for question in QUESTIONS.values() for words, compared in question.worked.items()}
    assert [words for words, compared in worked.items() if len(compared) == 2] == [
        "litres at shower temperature from one charge, element off: must lie between"
    ]
