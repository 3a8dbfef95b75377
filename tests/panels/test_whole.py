from __future__ import annotations

import pytest

from vanwater.answers.core.finding import worst_first
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.panels.bench import Bench
from vanwater.panels.control import Slid
from vanwater.panels.whole import DRAWING, PARTS, SCALE, Whole
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan
from vanwater.plan.tables import resource


@pytest.fixture(scope="module")
def whole() -> Whole:
    return Bench(read(resource("data", "plans", "family-winter.toml"))).whole()


def told(whole: Whole) -> str:
    return whole.strip.value.replace("&nbsp;", "\N{NO-BREAK SPACE}")


def test_what_matters_most_is_told_at_a_glance(whole: Whole) -> None:
    numbers = answers_to(whole.bench.plan).numbers
    for key in (
        "stay.days",
        "outlet.shower.flow",
        "heater.heater.charge.likely",
        "tank.fresh.lowest_cold.parked",
        "van.payload",
        "battery.all_loads_a_day",
        "battery.all_loads_charge_a_day",
    ):
        assert f"<b>{numbers[key].amount.text(False)}</b>" in told(whole), key
    assert "grey tank is full first" in whole.verdict.value


def test_every_question_with_a_picture_has_its_tab_and_every_control_its_part(whole: Whole) -> None:
    tabs = [key for _, key in whole.tabs.options]
    assert tabs == [*(key for key in QUESTIONS if whole.bench.ask(key).chart() is not None), DRAWING, SCALE]
    whole.tabs.value = "frost"
    assert 'data-chart="freezing"' in whole.picture.value
    whole.tabs.value = "stay"
    assert 'data-chart="stores"' in whole.picture.value
    assert [group.more._title for group in whole.groups] == list(PARTS)
    assert [group.more.open for group in whole.groups] == [True] + [False] * (len(PARTS) - 1)
    whole.groups[1].more.button.value = True  # one part at a time
    assert [group.more.open for group in whole.groups][:3] == [False, True, False]
    wanted = {
        address
        for question in QUESTIONS.values()
        for address in question.controls(whole.bench.saved, question.ask(whole.bench.saved))
    }
    assert wanted <= whole.controls.keys()
    assert {"pumps.pump.stock", "accumulators.accumulator.stock", "heaters.heater.stock"} <= whole.controls.keys()


def test_the_plumbing_is_one_of_the_pictures_and_follows(whole: Whole) -> None:
    whole.tabs.value = DRAWING
    before = whole.picture.value
    assert 'class="vw-schematic"' in before and "takes" in before
    assert whole.tools.row.layout.display == "none"
    whole.bench.set("runs.trunk.length", "8.3 m", whole)
    assert "8.3\N{NO-BREAK SPACE}m" in whole.picture.value and "8.3\N{NO-BREAK SPACE}m" not in before
    whole.bench.undo(whole)
    assert whole.picture.value == before
    whole.tabs.value = "stay"
    assert whole.tools.row.layout.display == ""


def test_the_findings_of_all_questions_stand_worst_first(whole: Whole) -> None:
    wanted = worst_first(finding for key in QUESTIONS for finding in whole.bench.ask(key).findings)
    shown = [slot.key for slot in whole.findings.slots if slot.key]
    assert shown == [finding.key for finding in wanted][: len(shown)]
    assert len(shown) >= 3


def test_no_grave_caution_is_folded_away(whole: Whole) -> None:
    grave = {caution.key for key in QUESTIONS for caution in whole.bench.ask(key).cautions if caution.grave}
    assert whole.grave.value.count("<li>") == len(grave) > 3


def test_a_move_reaches_picture_strip_and_findings_and_a_step_back_undoes_it(whole: Whole) -> None:
    before = whole.picture.value, told(whole), whole.verdict.value
    people = whole.controls["household.people"]
    assert isinstance(people, Slid)
    people.slider.value = 6
    assert whole.bench.ask("stay").verdict.amounts
    assert f"<b>{whole.bench.ask('stay').numbers['stay.days'].amount.text(False)}</b>" in told(whole)
    assert "4 → 6" in whole.verdict.value
    assert before[0] != whole.picture.value
    whole.bench.undo(whole)
    assert before == (whole.picture.value, told(whole), whole.verdict.value)


def test_what_is_impossible_turns_the_page_grey(whole: Whole) -> None:
    picture, strip = whole.picture.value, told(whole)
    whole.bench.set("tanks.grey.height", "10 cm", whole)
    assert 'role="alert"' in whole.verdict.value
    assert (whole.picture.value, told(whole)) == (picture, strip)
    assert all("vw-stale" in aside._dom_classes for aside in whole._aside)
    whole.bench.undo(whole)
    assert not any("vw-stale" in aside._dom_classes for aside in whole._aside)


def test_another_plan_and_an_empty_one_have_their_page(family: PlanFile) -> None:
    whole = Bench(Plan.of({"van": {"name": "empty"}, "household": {"people": 2}})).whole()
    assert "not decided" in whole.verdict.value
    assert "nothing to draw" in whole.picture.value
    whole.bench.load(family.path.with_name("touring-campsites.toml"))
    assert "days" in told(whole)
    assert "<svg" in whole.picture.value


def test_variants_stand_in_a_fold_and_follow_what_is_kept(family: PlanFile) -> None:
    bench = Bench(family)
    whole = bench.whole()
    fold = whole.variants.collapsible
    fold.button.value = True
    assert "Nothing is kept yet" in fold.text.value
    whole.controls["household.people"].turn(2)
    whole.bar.keep.click()
    assert "4 → 2" in fold.text.value
    whole.variants.rows.drops["B"].click()
    assert "Nothing is kept yet" in fold.text.value
