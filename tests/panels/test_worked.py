from __future__ import annotations

import json

import pytest

from vanwater.panels.worked import Worked, compared, worked_van
from vanwater.plan.tables import resource

VANS = json.loads(resource("data", "validation", "worked_vans.json").read_text(encoding="utf-8"))["scenarios"]


@pytest.mark.parametrize("van", VANS, ids=[van["id"] for van in VANS])
def test_days_worked_by_hand_agree_with_the_answer(van: dict[str, object]) -> None:
    rows = compared(van)
    assert len(rows) >= 2
    assert all(row.agrees for row in rows), rows


def test_the_table_says_both_numbers_and_whether_they_agree() -> None:
    text = repr(worked_van("S3"))
    assert "days, urine container" in text
    assert text.count("✓ agrees") == 3
    assert "worked by hand" in worked_van("S3").html


def test_numbers_too_far_apart_are_not_said_to_agree() -> None:
    assert Worked("x", 100.0, 104.0, 0.04).agrees
    assert not Worked("x", 100.0, 105.0, 0.04).agrees


def test_a_van_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(KeyError, match="S1, S3"):
        worked_van("S9")
