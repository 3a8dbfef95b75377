from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.panels.following import Watcher
from vanwater.answers.core.question import Answer
from vanwater.answers.questions import QUESTIONS
from vanwater.panels.bench import Bench
from vanwater.panels.sliders import Slid
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError


def test_two_panels_share_the_values_of_their_controls_and_agree_at_once(family: PlanFile) -> None:
    bench = Bench(family)
    first, second = bench.panel("outlets", "pump"), bench.panel("outlets", "budget")
    volts = first.controls["pumps.pump.volts"], second.controls["pumps.pump.volts"]
    assert isinstance(volts[0], Slid) and isinstance(volts[1], Slid)
    volts[0].slider.value = 11.0
    assert volts[1].slider.value == 11.0
    assert (volts[0].value, volts[1].box.value) == (11.0, "11")
    assert first.answer is second.answer is bench.ask("outlets")
    assert first.verdict.value == second.verdict.value
    second.bar.undo.click()
    assert volts[0].value == volts[1].value == pytest.approx(12.7)
    assert first.bar.undo.disabled and not first.bar.redo.disabled


def test_a_question_that_nobody_looks_at_is_not_asked(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(family)
    bench.panel("weight")

    def unasked(plan: Plan) -> Answer:
        raise AssertionError(f"{plan.van.name} is asked for its frost")

    monkeypatch.setitem(QUESTIONS, "frost", replace(QUESTIONS["frost"], answer=unasked))  # type: ignore[arg-type]
    bench.set("tanks.grey.foam", "30 mm")
    assert bench.ask("weight").decided


def test_a_situation_is_a_switch_of_the_whole_bench(family: PlanFile) -> None:
    bench = Bench(family)
    panel, page = bench.panel("stay", "stores"), bench.page("stay")
    verdict = page.verdict()
    assert bench.situations == ("ski week", "autumn half-term", "summer lake", "laid up")
    for name in bench.situations:
        panel.bar.situation.value = name
        own = QUESTIONS["stay"].ask(family.plan.in_situation(name))
        assert panel.answer is not None
        assert panel.answer.verdict.text() == repr(verdict) == own.verdict.text()
    bench.set("household.people", 2, panel)
    bench.choose("", panel)
    assert bench.plan.household.people == 2
    bench.undo()
    assert (bench.state.situation, bench.plan.situation) == ("laid up", "laid up")
    with pytest.raises(KeyError):
        bench.choose("the moon")


def test_saving_takes_what_is_set_as_the_plan(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    panel = bench.panel("stay", "stores")
    panel.controls["household.people"].turn(2)
    bench.save()
    assert read(own_file.path).plan.household.people == bench.saved.household.people == 2
    assert (bench.values, bench.history.can_undo) == ({}, False)
    assert "plan: 2" in panel.controls["household.people"].head.value
    panel.controls["household.people"].turn(3)
    own_file.path.write_text(own_file.text + "# mine\n", encoding="utf-8")
    with pytest.raises(PlanError, match="changed by somebody else"):
        bench.save()
    assert bench.values == {"household.people": 3}


def test_a_new_plan_is_written_beside_and_never_over_another(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    bench.set("household.people", 2)
    other = own_file.path.with_name("other.toml")
    bench.save_as(other)
    assert bench.file is not None and bench.file.path == other
    assert read(own_file.path).text == own_file.text
    bench.set("household.people", 3)
    with pytest.raises(PlanError):
        bench.save_as(other)
    assert (read(other).plan.household.people, bench.plan.household.people) == (2, 3)


def test_another_plan_comes_on_the_bench_with_its_own_controls(family: PlanFile, tmp_path: Path) -> None:
    bench = Bench(family)
    panel, verdict = bench.panel("outlets", "pump"), bench.page("outlets").verdict()
    touring = family.path.with_name("touring-campsites.toml")
    bench.load(touring)
    plan = read(touring).plan
    assert repr(verdict) == QUESTIONS["outlets"].ask(plan).verdict.text(plan.us)
    assert panel.answer is not None and panel.answer.verdict.text() in repr(verdict)
    assert all(plan.at(address) is not None for address in panel.group.controls)
    broken = tmp_path / "broken.toml"
    broken.write_text("[van]\nname = 3\n", encoding="utf-8")
    for path in (broken, tmp_path / "none.toml"):
        with pytest.raises(PlanError):
            bench.load(path)
        assert bench.saved.own == plan.own
    bench.set("household.people", 1, panel)
    assert "Changed:" in panel.verdict.value


def test_what_was_shown_in_a_page_that_is_loaded_anew_is_known_to_follow_no_longer(family: PlanFile) -> None:
    bench = Bench(family)
    cell = Watcher()
    cell.page = ""
    bench.follow(cell)
    assert not bench.loaded_anew
    bench.seen("first page")
    assert (cell.page, bench.loaded_anew) == ("first page", False)
    bench.seen("first page")
    bench.seen("second page")
    assert bench.loaded_anew
    cell.page = bench.page_shown  # the cell is run again
    assert not bench.loaded_anew
