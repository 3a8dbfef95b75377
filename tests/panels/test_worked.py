from __future__ import annotations

import json

import pytest

from vanwater.answers.questions import QUESTIONS
from vanwater.panels.markup import agreement
from vanwater.panels.worked import Worked, compared, worked_van
from vanwater.plan.tables import resource
from vanwater.quantities import TEMPERATURE

VANS = json.loads(resource("data", "validation", "worked_vans.json").read_text(encoding="utf-8"))["scenarios"]


FLAT_FACES = {("S1", "frost"): ["lowest cold that the pad holds, parked"]}
"""Where the hand's sum leaves out what a foamed tank's edges lose, 0.2 K more than its tolerance: with them added, as
the tests of the worked vans' frost do, it agrees."""


@pytest.mark.parametrize("question", [key for key, question in QUESTIONS.items() if question.worked])
@pytest.mark.parametrize("van", VANS, ids=[van["id"] for van in VANS])
def test_what_was_worked_by_hand_agrees_with_the_answer(van: dict[str, object], question: str) -> None:
    rows = compared(van, question)
    assert len(rows) >= {"stay": 2, "weight": 4, "pump_starts": 4}.get(question, 5)
    apart = [row.what for row in rows if not row.agrees]
    assert apart == FLAT_FACES.get((van["id"], question), []), rows
    text = repr(worked_van(str(van["id"]), question))
    assert text.count(agreement(True)) == len(rows) - len(apart)


def test_the_table_says_both_numbers_and_whether_they_agree() -> None:
    text = repr(worked_van("S3"))
    assert "days, urine container" in text
    assert text.count(agreement(True)) == 3
    assert "worked by hand" in worked_van("S3").html


def test_numbers_too_far_apart_are_not_said_to_agree() -> None:
    assert Worked("x", 100.0, 104.0, 0.04).agrees
    assert not Worked("x", 100.0, 105.0, 0.04).agrees
    assert Worked("x", 250.0, 252.9, 3.0, TEMPERATURE, share=False).agrees
    assert not Worked("x", 250.0, 253.1, 3.0, TEMPERATURE, share=False).agrees
    assert Worked("x", 1.0, 2.0, 0.0, above=3.0).agrees
    assert not Worked("x", 1.0, 3.1, 0.0, above=3.0).agrees


def test_two_ends_are_told_as_two() -> None:
    text = repr(worked_van("S1", "frost"))
    assert "12.1\N{NO-BREAK SPACE}min to 29\N{NO-BREAK SPACE}min" in text
    assert "3\N{NO-BREAK SPACE}K" in text


def test_a_van_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(KeyError, match="S1, S3"):
        worked_van("S9")


def test_every_number_is_one_that_a_hand_worked_out() -> None:
    known = {one["quantity"] for van in VANS for one in van["expected"]}
    for key, question in QUESTIONS.items():
        assert set(question.worked) <= known, key


def test_a_bracket_of_two_numbers_has_two() -> None:
    worked = {words: compared for question in QUESTIONS.values() for words, compared in question.worked.items()}
    assert [words for words, compared in worked.items() if len(compared) == 2] == [
        "litres at shower temperature from one charge, element off: must lie between"
    ]
