from __future__ import annotations

from typing import Any

import ipywidgets as widgets
import pytest

from tests.panels.published_cells import caught
from vanwater.panels.bench import Bench
from vanwater.panels.live import ASIDE
from vanwater.panels.pieces import Shown
from vanwater.panels.study import AGAIN, Study
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem


class Counting:
    """Works out how many people travel, and counts how often it did."""

    def __init__(self) -> None:
        self.done = 0

    def __call__(self, plan: Plan, word: str) -> Shown:
        self.done += 1
        if word == "bad":
            raise PlanError([Problem("x", "<This> cannot be read.", "a word")])
        return Shown(f"<b>{plan.household.people}</b>", f"{plan.household.people} {word}")


def study_of(bench: Bench) -> tuple[Study, Counting]:
    work = Counting()

    def boxes(plan: Plan) -> list[Any]:
        assert plan.household.people
        return [widgets.Text(value="people")]

    return Study(bench, "People", work, boxes), work


def test_a_move_turns_it_grey_and_costs_nothing_until_the_button_is_pressed(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = Bench(family)
    study, work = study_of(bench)
    assert work.done == 0  # nobody has looked yet
    with caught(monkeypatch) as page:
        study._ipython_display_()
        first = next(iter(page.bundles))
        before = page.bundles[first]
        assert before["text/plain"] == "For the plan as it is saved.\n4 people" and study.again.disabled
        bench.set("household.people", 2)
        bench.set("household.people", 3)
        assert work.done == 1 and not study.again.disabled and study.stale
        assert AGAIN in page.bundles[first]["text/plain"] and "opacity" in page.bundles[first]["text/html"]
        assert repr(study) == page.bundles[first]["text/plain"]
        study.again.click()
        said = "For the plan with household, people who live in the van: 4 → 3.\n3 people"
        assert page.texts[0] == said and work.done == 2
        bench.home()
        assert page.bundles[first] == before and work.done == 2  # known already


def test_the_button_offers_itself_before_the_hand_rests(family: PlanFile) -> None:
    bench = Bench(family)
    study, work = study_of(bench)
    study.anew()
    assert study.again.disabled
    bench.history.push(bench.with_value("household.people", 2), "")
    study.moved()
    assert not study.again.disabled and work.done == 1


def test_another_choice_is_worked_out_at_once_and_a_slip_is_told(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = Bench(family)
    study, _ = study_of(bench)
    with caught(monkeypatch) as page:
        study._ipython_display_()
        study.boxes[0].value = "travellers"
        assert page.texts[0].endswith("4 travellers")
        study.boxes[0].value = "bad"
        assert "<This> cannot be read." in page.texts[0]
        assert "&lt;This&gt;" in next(iter(page.bundles.values()))["text/html"]


def test_an_impossible_plan_leaves_it_grey_with_the_reason(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    study, work = study_of(bench)
    with caught(monkeypatch) as page:
        study._ipython_display_()
        before = page.texts[0]
        bench.set("tanks.grey.height", "10 cm")
        assert page.texts[0].startswith(ASIDE) and work.done == 1
        bench.undo()
        assert page.texts[0] == before


def test_it_may_be_shown_first_while_the_plan_is_impossible(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    bench.set("tanks.grey.height", "10 cm")
    study, work = study_of(bench)
    with caught(monkeypatch) as page:
        study._ipython_display_()
        assert ASIDE in page.texts[0]
        bench.undo()
        study.again.click()
        assert page.texts[0].endswith("4 people") and work.done == 1


def test_another_plan_begins_anew(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    study, work = study_of(bench)
    with caught(monkeypatch) as page:
        study._ipython_display_()
        bench.load(family.path.with_name("touring-campsites.toml"))
        assert study.stale and work.done == 1 and AGAIN in page.texts[0]
        study.again.click()
        assert page.texts[0].endswith("2 people")
