from __future__ import annotations

import xml.etree.ElementTree as ET
from collections.abc import Callable
from functools import partial

import pytest

from tests.answered import answered, stay
from vanwater.answers.core.answer import Caution
from vanwater.answers.core.chart import Line
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import say
from vanwater.panels.control import Choice, Control, Number, Whole
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
    if isinstance(one, Number | Whole):
        return [partial(setattr, one.slider, "value", end) for end in (one.slider.min, one.slider.max)]
    if isinstance(one, Choice):
        values = [value for _, value in one.box.options]
        return [partial(setattr, one.box, "value", value) for value in (values[0], values[-1])]
    return [partial(one.turn, value) for value in (True, False)]


@pytest.mark.parametrize("question", ["stay", "outlets"])
def test_every_control_can_go_to_its_ends_and_moves_the_answer(example: PlanFile, question: str) -> None:
    panel = Panel(example, question)
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
            assert panel.answer.verdict.text(panel.us) in _plain(panel.verdict.value), address
            verdicts.add(panel.answer.verdict.text())
            findings.add(tuple(found.statement.text() for found in panel.answer.findings))
            panel.reset()
        if address in still or (example.path.stem in NOT_BY_USES and address.startswith("uses.")):
            assert findings != {before[1]}, address
        elif (example.path.stem, address) not in UNMOVED:
            assert verdicts != {before[0]}, address
    assert (panel.answer.verdict.text(), panel.plan.own) == (before[0], example.plan.own)


def test_a_lower_cut_out_makes_the_pump_cycle(family: PlanFile) -> None:
    panel = Panel(family, "outlets")
    one = panel.controls["pumps.pump.cut_out"]
    one.turn(1.6e5)
    assert panel.answer is not None
    assert "The pump cycles" in " ".join(found.statement.text() for found in panel.answer.findings)
    assert "cut-out 1.6" in panel.picture.value
    one.turn(1.2e5)
    assert panel.answer is None
    assert "cut_in below cut_out" in panel.verdict.value


def _plain(html: str) -> str:
    return "".join(ET.fromstring(html.replace("&nbsp;", "\N{NO-BREAK SPACE}")).itertext())


def test_the_panel_shows_the_librarys_answer_for_the_turned_plan(family: PlanFile) -> None:
    panel = Panel(family, "stay", "levels")
    slider = panel.controls["household.people"]
    assert isinstance(slider, Whole)
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
    panel.reset()
    assert 'data-role="saved"' not in panel.picture.value


def test_units_are_the_plans_own_or_the_ones_asked_for(example: PlanFile) -> None:
    for us, unit, other in ((False, "(L)", "(gal)"), (True, "(gal)", "(L)")):
        panel = Panel(example, us=us)
        labels = [one.label for one in panel.controls.values()]
        assert any(label.endswith(unit) for label in labels)
        assert not any(label.endswith(other) for label in labels)
        panel.folds[0].button.value = True
        assert ("gal/day" in panel.folds[0].text.value) is us
    assert Panel(example).us is (example.plan.van.units == "us")


def test_sums_assumptions_sources_data_and_cautions_unfold(family: PlanFile) -> None:
    panel = Panel(family, "stay", "levels")
    for collapsible in panel.folds:
        assert collapsible.text.value == ""
        collapsible.button.value = True
    sums, assumptions, sources, data, cautions, writing = (collapsible.text.value for collapsible in panel.folds)
    assert "days off-grid = " in sums
    panel.key.value = "tank.grey.days"
    assert "V / q" in panel.folds[0].text.value
    assert "To know" in assumptions
    assert "common practice" in sources
    assert "grey,0,100,100,100" in data
    assert "drinking water" in cautions
    assert "stays as it is" in writing
    assert "Weigh the van" in panel.grave.value  # a grave one is never folded
    assert "Weigh the van" not in cautions
    panel.controls["household.people"].turn(2)
    assert "+ people = 2" in panel.folds[-1].text.value


def test_an_impossible_control_clears_every_result_and_says_why(family: PlanFile) -> None:
    panel = Panel(family, "stay", "stores")
    for collapsible in panel.folds:
        collapsible.button.value = True
    panel.findings.slots[0].why.value = True
    assert lasts(family) in shown(panel)
    one = panel.controls["tanks.fresh.width"]
    assert isinstance(one, Number)
    one.box.value = 99.0
    assert 'role="alert"' in panel.verdict.value
    assert "fresh tank, inside width across the van: 99" in panel.verdict.value
    assert panel.answer is None
    rest = shown(panel).replace(panel.verdict.value, "")
    assert rest.strip() == ""
    panel.controls["household.people"].turn(3)  # still impossible
    assert 'role="alert"' in panel.verdict.value
    one.box.value = 1.0
    assert panel.answer is not None
    assert 'role="alert"' not in panel.verdict.value


def test_a_clash_within_the_plan_is_told_at_its_control(family: PlanFile) -> None:
    panel = Panel(family, "stay", "stores", controls=("tanks.grey.height", "tanks.grey.overflow"))
    panel.controls["tanks.grey.height"].turn(0.15)  # below its overflow
    assert "grey tank, height of the overflow" in panel.verdict.value
    assert "The overflow lies above the tank" in panel.verdict.value
    assert panel.picture.value == ""


def test_a_failing_callback_shows_an_alert_and_no_stale_number(family: PlanFile) -> None:
    asked: list[Plan] = []

    def question(plan: Plan) -> Answer:
        asked.append(plan)
        if plan.household.people == 3:
            raise ZeroDivisionError("division by <zero>")
        return stay(plan)

    panel = Panel(family, question, "stores")
    assert lasts(family) in panel.verdict.value
    with pytest.raises(ZeroDivisionError):
        panel.controls["household.people"].turn(3)
    assert 'role="alert"' in panel.verdict.value
    assert "&lt;zero&gt;" in panel.verdict.value
    assert lasts(family) not in shown(panel)
    assert panel.picture.value == ""
    panel.controls["household.people"].turn(2)
    assert panel.answer is not None


def test_a_picture_that_fails_leaves_no_old_one(family: PlanFile) -> None:
    def draw(answer: Answer) -> None:
        if answer.verdict != before.verdict:
            raise ValueError("cannot be drawn")

    before = stay(family.plan)
    panel = Panel(family, "stay", draw)
    assert "nothing to draw" in panel.picture.value
    with pytest.raises(ValueError, match="cannot be drawn"):
        panel.controls["household.people"].turn(1)
    assert panel.answer is None
    assert "cannot be drawn" in panel.verdict.value


def test_hostile_words_are_only_text(family: PlanFile) -> None:
    def question(plan: Plan) -> Answer:
        people = str(plan.household.people)
        return answered(
            key="hostile",
            title=HOSTILE,
            verdict=say("{name} with {people}.", name=HOSTILE, people=people),
            findings=(Finding("a", Verdict.WATCH, say("{name}", name=HOSTILE), change=say("{x}", x=HOSTILE)),),
            cautions=(Caution("a", HOSTILE, grave=True), Caution("b", HOSTILE)),
        )

    panel = Panel(family, question, controls=("household.people",))
    for collapsible in panel.folds:
        collapsible.button.value = True
    panel.controls["household.people"].turn(2)
    assert "<img" not in shown(panel)
    assert "&lt;img src=x" in panel.verdict.value


def test_changes_are_written_only_on_a_click_and_then_are_the_plan(own_file: PlanFile) -> None:
    panel = Panel(own_file, "stay", "stores")
    panel.writing.collapsible.button.value = True
    panel.controls["household.people"].turn(2)
    panel.controls["uses.shower.duration"].turn(60.0)
    assert read(own_file.path).text == own_file.text
    panel.writing.button.click()
    saved = read(own_file.path).plan
    assert (saved.household.people, saved.at("uses.shower.duration")) == (2, 60.0)
    assert panel.saved.own == saved.own
    assert "As the plan stands" in panel.verdict.value
    assert "plan: 2" in panel.controls["household.people"].head.value  # type: ignore[attr-defined]
    assert "Written into van.toml" in panel.writing.collapsible.text.value
    panel.controls["household.people"].turn(5)
    panel.writing.button.click()
    assert read(own_file.path).plan.household.people == 5


def test_what_does_not_fit_the_chart_or_the_sight_is_refused(family: PlanFile) -> None:
    with pytest.raises(ValueError, match="at most 7"):
        Panel(family, controls=tuple(f"uses.{name}.a_day" for name in family.plan.uses))
    with pytest.raises(KeyError):
        Panel(family, "weather")


def test_a_page_without_a_kernel_gets_a_sentence(family: PlanFile) -> None:
    bundle = Panel(family)._repr_mimebundle_()
    assert bundle["text/plain"] == "Days off-grid: run this notebook to move the sliders."
    assert "application/vnd.jupyter.widget-view+json" in bundle


def test_an_empty_plan_says_what_is_not_decided() -> None:
    panel = Panel(Plan.of({"van": {"name": "empty"}, "household": {"people": 2}}))
    assert "not decided yet" in panel.verdict.value
    assert "nothing to draw" in panel.picture.value
    panel.controls["household.habits"].turn("careful")
    assert "not decided" in panel.verdict.value
