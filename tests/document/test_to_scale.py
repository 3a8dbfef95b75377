"""The drawing to scale in the document and on the workshop's sheet: as large as its scale asks, with its lists."""

from __future__ import annotations

import re

import pytest

from tests.examples import example_answers
from vanwater.answers.questions import answers_to
from vanwater.document.html import render
from vanwater.document.short import render_for
from vanwater.document.to_scale import to_scale
from vanwater.document.words import Words
from vanwater.plan.model import Plan

A4_WITHIN = 72.0 * (210.0 - 2 * 22.0) / 25.4
"""Points between the margins of a page of A4, the narrower of the two papers."""


@pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
def test_its_lists_stand_beside_it_and_it_fits_the_paper_at_its_scale(us: bool) -> None:
    asked, words = example_answers("long-stay-dry-toilet").read_in(us), Words(us)
    drawn = to_scale(asked, words)
    assert drawn is not None and drawn.without_place is not None
    width = re.search(r'style="width:([\d.]+)pt;max-width:100%', drawn.svg)
    assert width is not None and float(width[1]) <= A4_WITHIN
    tags = [row.slots[0].text for row in drawn.places.rows]
    assert {"1", "1F", "11D", "W1"} <= set(tags) and "What is drawn to scale" not in drawn.svg
    assert next(row.slots[4].text for row in drawn.without_place.rows) == "tanks.grey.length, width, height"
    assert not any(row.sums for row in drawn.places.rows)


def test_the_workshop_has_it_once_and_nobody_else() -> None:
    answers = example_answers("family-winter")
    assert render_for("workshop", answers).count('class="vw-to-scale"') == 1
    assert "vw-to-scale" not in render_for("customer", answers) + render(answers)


def test_a_plan_without_places_has_none() -> None:
    raw = {"van": {"name": "v"}, "household": {"people": 1}, "tanks": {"can": {"holds": "fresh", "capacity": "9 L"}}}
    assert "vw-to-scale" not in render_for("workshop", answers_to(Plan.of(raw, file=True)))
