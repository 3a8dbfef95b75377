from __future__ import annotations

import pytest

from tests.examples import PLANS, example
from vanwater.answers.questions import QUESTIONS
from vanwater.answers.situations import AS_WRITTEN
from vanwater.panels.situations import Situations
from vanwater.panels.static_page import Page
from vanwater.plan.file import read
from vanwater.plan.model import Plan

FAMILY = read(PLANS / "family-winter.toml")


def test_the_panel_is_that_of_the_situation_that_is_chosen() -> None:
    shown = Situations(FAMILY, "stay")
    assert shown.chooser.options == (AS_WRITTEN, "ski week", "autumn half-term", "summer lake", "laid up")
    assert shown.panel.writing.file is not None
    for name in FAMILY.plan.situations:
        shown.chooser.value = name
        own = QUESTIONS["stay"].ask(FAMILY.plan.in_situation(name))
        assert shown.panel.answer is not None
        assert shown.panel.answer.verdict.text() == own.verdict.text()
        assert shown.widget.children[1].children == (shown.panel.widget,)
        assert shown.panel.writing.file is None  # only the plan as it is written is written back
    shown.chooser.value = AS_WRITTEN
    assert shown.panel.plan == FAMILY.plan


def test_a_slider_moved_in_one_situation_stays_there() -> None:
    shown = Situations(FAMILY, "stay")
    shown.chooser.value = "summer lake"
    first = next(iter(shown.panel.controls.values()))
    first.slider.value = first.slider.max  # type: ignore[attr-defined]
    moved = shown.panel.plan
    shown.chooser.value = AS_WRITTEN
    assert shown.panel.plan == FAMILY.plan
    shown.chooser.value = "summer lake"
    assert shown.panel.plan == moved != FAMILY.plan.in_situation("summer lake")


def test_a_plan_without_situations_has_nothing_to_choose() -> None:
    plan = Plan.of({"van": {"name": "x"}, "household": {"people": 2}})
    shown = Situations(plan)
    assert shown.chooser.disabled and shown.chooser.options == (AS_WRITTEN,)


def test_without_a_kernel_a_sentence_stands_there() -> None:
    assert "Run this notebook" in Situations(FAMILY)._repr_mimebundle_()["text/plain"]


@pytest.mark.parametrize("name", ["family-winter", "long-stay-dry-toilet"])
def test_a_page_tells_the_situations_side_by_side(name: str) -> None:
    plan = example(name)
    text = Page(plan, "stay").situations().text
    assert all(situation in text for situation in plan.situations) and AS_WRITTEN in text


def test_a_page_without_situations_says_so() -> None:
    plan = Plan.of({"van": {"name": "x"}, "household": {"people": 2}})
    assert Page(plan, "stay").situations().text == "The plan has no situations."
