from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import pytest

from tests.answered import answered, stay
from vanwater.answers.core.answer import Caution
from vanwater.answers.core.chart import Line
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.question import Answer, Question
from vanwater.answers.core.statement import say
from vanwater.answers.questions import QUESTIONS
from vanwater.panels.bench import Bench
from vanwater.panels.control import Choice, Control, Slid
from vanwater.panels.panel import Panel
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan

HOSTILE = "<img src=x onerror=alert(1)>"
NOT_BY_USES = ("long-stay-dry-toilet", "touring-campsites")
"""What ends these stays is not what the uses draw."""
UNMOVED = {
    ("long-stay-dry-toilet", "household.habits"),
    ("long-stay-dry-toilet", "runs.heater feed.length"),
    ("long-stay-dry-toilet", "runs.hot line.length"),
    ("long-stay-dry-toilet", "runs.suction.clogged"),
    ("touring-campsites", "household.unsure"),
}
"""Uses that are all the van's own, pieces that move less than the digits that are told (the water is so warm
in the room that little runs through the heater), and a battery that ends the stay whatever people draw."""
ONLY_FINDINGS = {  # what is small here, or judged only: it moves the findings, not the verdict
    "family-winter": {
        "uses.outside-rinse.a_day",
        "uses.outside-rinse.volume",
        "uses.pet.a_day",
        "runs.suction.clogged",
    },
    "long-stay-dry-toilet": {
        "uses.cooking.a_day",
        "uses.pet.a_day",
        "household.run_off",
    },
    "weekend-cans": set(),
    "touring-campsites": set(),
}


def shown(panel: Panel) -> str:
    """Everything that a panel tells."""
    slots = [slot.text.value + slot.sum.value for slot in panel.findings.slots]
    folds = [collapsible.text.value for collapsible in panel.folds]
    return "\n".join([panel.verdict.value, panel.picture.value, panel.grave.value, *slots, *folds])


def lasts(file: PlanFile) -> str:
    """How long the plan lasts, as it is told."""
    return stay(file.plan).days.shown.parts()[0]


def turn_to_each_end(one: Control) -> list[Callable[[], None]]:
    if isinstance(one, Slid):
        return [partial(setattr, one.slider, "value", end) for end in (one.slider.min, one.slider.max)]
    if isinstance(one, Choice):
        values = [value for _, value in one.box.options]
        return [partial(setattr, one.box, "value", value) for value in (values[0], values[-1])]
    return [partial(one.turn, value) for value in (True, False)]


@pytest.mark.parametrize("question", ["stay", "outlets"])
def test_every_control_can_go_to_its_ends_and_moves_the_answer(example: PlanFile, question: str) -> None:
    panel = Bench(example).panel(question)
    assert panel.answer is not None
    before = panel.answer.verdict.text(), tuple(one.statement.text() for one in panel.answer.findings)
    still = ONLY_FINDINGS[example.path.stem] | {"household.days_wanted"}
    for address, one in panel.controls.items():
        if address.endswith("cut_out"):
            continue  # below cut-in it is refused; above, the test below
        verdicts, findings = set(), set()
        for turn in turn_to_each_end(one):
            turn()
            assert panel.answer is not None, (address, panel.verdict.value)
            assert panel.answer.verdict.text(panel.bench.us) in _plain(panel.verdict.value), address
            verdicts.add(panel.answer.verdict.text())
            findings.add(tuple(found.statement.text() for found in panel.answer.findings))
            panel.bench.home(panel)
        if address in still or (example.path.stem in NOT_BY_USES and address.startswith("uses.")):
            assert findings != {before[1]}, address
        elif (example.path.stem, address) not in UNMOVED:
            assert verdicts != {before[0]}, address
    assert (panel.answer.verdict.text(), panel.bench.plan.own) == (before[0], example.plan.own)


def test_a_lower_cut_out_makes_the_pump_cycle(family: PlanFile) -> None:
    panel = Bench(family).panel("outlets")
    one = panel.controls["pumps.pump.cut_out"]
    one.turn(1.6e5)
    assert panel.answer is not None
    assert "The pump cycles" in " ".join(found.statement.text() for found in panel.answer.findings)
    assert "cut-out 1.6" in panel.picture.value
    one.turn(1.2e5)
    assert panel.answer is None
    assert "cut_in below cut_out" in panel.verdict.value
    assert all(stale(panel))


def _plain(html: str) -> str:
    return "".join(ET.fromstring(html.replace("&nbsp;", "\N{NO-BREAK SPACE}")).itertext())


def test_the_panel_shows_the_librarys_answer_for_the_turned_plan(family: PlanFile) -> None:
    panel = Bench(family).panel("stay", "levels")
    slider = panel.controls["household.people"]
    assert isinstance(slider, Slid)
    slider.slider.value = 6
    wanted = stay(family.plan.changed({"household.people": 6}))
    assert panel.answer is not None
    assert panel.answer.verdict == wanted.verdict
    assert "<b>" in panel.verdict.value
    assert "−" in panel.verdict.value  # fewer days than the plan
    assert "household, people who live in the van: 4 → 6" in panel.verdict.value
    assert panel.chart is not None
    ends = {draw.role: draw.end[0] for draw in panel.chart.draws if isinstance(draw, Line)}
    assert ends["grey"] == pytest.approx(next(s for s in wanted.stores if s.holds == "grey").days.likely)
    assert "vw-line" in panel.picture.value
    assert 'data-role="saved"' in panel.picture.value
    panel.bench.home(panel)
    assert 'data-role="saved"' not in panel.picture.value


def test_units_are_the_plans_own_or_the_ones_asked_for(example: PlanFile) -> None:
    for us, unit, other in ((False, "(L)", "(gal)"), (True, "(gal)", "(L)")):
        panel = Bench(example, us=us).panel()
        labels = [one.field.label for one in panel.controls.values()]
        assert any(label.endswith(unit) for label in labels)
        assert not any(label.endswith(other) for label in labels)
        panel.folds[0].button.value = True
        assert ("gal/day" in panel.folds[0].text.value) is us
    assert Bench(example).us is (example.plan.van.units == "us")


def test_sums_assumptions_sources_data_and_cautions_unfold(family: PlanFile) -> None:
    panel = Bench(family).panel("stay", "levels")
    for collapsible in panel.folds:
        assert collapsible.text.value == ""
        collapsible.button.value = True
    texts = (collapsible.text.value for collapsible in panel.folds)
    sums, assumptions, sources, data, cautions, variants, writing, handing = texts
    assert "days off-grid = " in sums
    panel.key.value = "tank.grey.days"
    assert "V / q" in panel.folds[0].text.value
    assert "To know" in assumptions
    assert "common practice" in sources
    assert "grey,0,100,100,100" in data
    assert "drinking water" in cautions
    assert "Nothing is kept yet" in variants
    assert "stays as it is" in writing
    assert "e-mail" in handing
    assert "Weigh the van" in panel.grave.value  # a grave one is never folded
    assert "Weigh the van" not in cautions
    panel.controls["household.people"].turn(2)
    assert "+ people = 2" in panel.files.collapsible.text.value
    assert "4 → 2" in panel.handing.collapsible.text.value


def stale(panel: Panel) -> list[bool]:
    """Which of what shows numbers is grey."""
    return ["vw-stale" in aside._dom_classes for aside in panel._aside]


def test_a_refused_plan_keeps_the_last_picture_grey_below_its_reason(family: PlanFile) -> None:
    panel = Bench(family).panel("stay", "levels")
    people, height = panel.controls["household.people"], panel.controls["household.days_wanted"]
    people.turn(3)
    before = panel.picture.value, [slot.text.value for slot in panel.findings.slots]
    assert not any(stale(panel))
    panel.bench.set("tanks.grey.height", 0.15, panel)  # below its overflow
    assert "The overflow lies above the tank" in panel.verdict.value
    assert 'role="alert"' in panel.verdict.value
    assert "vw-big" not in panel.verdict.value
    assert all(stale(panel))
    assert (panel.picture.value, [slot.text.value for slot in panel.findings.slots]) == before
    assert panel.answer is None
    height.turn(4 * 86400.0)  # still impossible
    assert all(stale(panel)) and 'role="alert"' in panel.verdict.value
    panel.bench.back("tanks.grey.height", panel)
    assert not any(stale(panel)) and panel.answer is not None
    assert 'role="alert"' not in panel.verdict.value


def test_a_clash_within_the_plan_is_told_at_its_control(family: PlanFile) -> None:
    panel = Bench(family).panel("stay", "levels", controls=("tanks.grey.height", "tanks.grey.overflow"))
    panel.controls["tanks.grey.overflow"].turn(0.21)
    panel.controls["tanks.grey.height"].turn(0.15)  # below its overflow
    assert "grey tank, height of the overflow" in panel.verdict.value
    assert "The overflow lies above the tank" in panel.verdict.value


def test_a_failing_question_is_told_and_no_number_looks_valid(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    def question(plan: Plan) -> Answer:
        if plan.household.people == 3:
            raise ZeroDivisionError("division by <zero>")
        return stay(plan)

    monkeypatch.setitem(QUESTIONS, "stay", replace(QUESTIONS["stay"], answer=question))  # type: ignore[arg-type]
    panel = Bench(family).panel("stay", "levels")
    assert lasts(family) in panel.verdict.value
    with pytest.raises(ZeroDivisionError):
        panel.controls["household.people"].turn(3)
    assert 'role="alert"' in panel.verdict.value
    assert "&lt;zero&gt;" in panel.verdict.value
    assert lasts(family) not in panel.verdict.value
    assert all(stale(panel))
    panel.controls["household.people"].turn(2)
    assert panel.answer is not None
    assert not any(stale(panel))


def test_hostile_words_are_only_text(family: PlanFile, monkeypatch: pytest.MonkeyPatch) -> None:
    def question(plan: Plan) -> Answer:
        people = str(plan.household.people)
        return answered(
            key="hostile",
            title=HOSTILE,
            verdict=say("{name} with {people}.", name=HOSTILE, people=people),
            findings=(Finding("a", Verdict.WATCH, say("{name}", name=HOSTILE), change=say("{x}", x=HOSTILE)),),
            cautions=(Caution("a", HOSTILE, grave=True), Caution("b", HOSTILE)),
        )

    monkeypatch.setitem(QUESTIONS, "stay", Question[Any](key="stay", title=HOSTILE, answer=question))
    panel = Bench(family).panel("stay", controls=("household.people",))
    for collapsible in panel.folds:
        collapsible.button.value = True
    panel.controls["household.people"].turn(2)
    assert "<img" not in shown(panel)
    assert "&lt;img src=x" in panel.verdict.value


def test_changes_are_written_only_on_a_click_and_then_are_the_plan(own_file: PlanFile) -> None:
    panel = Bench(own_file).panel("stay", "levels")
    panel.files.collapsible.button.value = True
    panel.controls["household.people"].turn(2)
    panel.controls["uses.shower.duration"].turn(60.0)
    assert read(own_file.path).text == own_file.text
    panel.files.save.click()
    saved = read(own_file.path).plan
    assert (saved.household.people, saved.at("uses.shower.duration")) == (2, 60.0)
    assert panel.bench.saved.own == saved.own
    assert "As the plan stands" in panel.verdict.value
    assert "plan: 2" in panel.controls["household.people"].head.value  # type: ignore[attr-defined]
    assert "Written into van.toml" in panel.files.collapsible.text.value
    panel.controls["household.people"].turn(5)
    panel.files.save.click()
    assert read(own_file.path).plan.household.people == 5


def test_what_does_not_fit_the_chart_or_the_sight_is_refused(family: PlanFile) -> None:
    with pytest.raises(ValueError, match="at most 7"):
        Bench(family).panel(controls=tuple(f"uses.{name}.a_day" for name in family.plan.uses))
    with pytest.raises(KeyError):
        Bench(family).panel("weather")


def test_a_page_without_a_kernel_gets_a_sentence(family: PlanFile, capsys: pytest.CaptureFixture[str]) -> None:
    Bench(family).panel()._ipython_display_()
    told = capsys.readouterr().out
    assert "Days off-grid: run this notebook to move the sliders" in told
    assert "widget-view" in told


def test_an_empty_plan_says_what_is_not_decided() -> None:
    panel = Bench(Plan.of({"van": {"name": "empty"}, "household": {"people": 2}})).panel()
    assert "not decided yet" in panel.verdict.value
    assert "nothing to draw" in panel.picture.value
    panel.controls["household.habits"].turn("careful")
    assert "not decided" in panel.verdict.value
