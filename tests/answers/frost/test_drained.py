"""A drained van in frost: what is empty is passed over, what stays is told with what to do."""

from __future__ import annotations

import math

import pytest

from tests.answers.frosty import frosty
from tests.examples import example
from tests.walk import walk
from vanwater.answers.core.finding import Verdict
from vanwater.answers.frost.drained import left_in_lines
from vanwater.answers.frost.question import QUESTION
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.plan.tables import pipes

DRAINED = {"water__drained": True}


def test_no_tank_no_pad_and_no_night_is_told_of_a_drained_van() -> None:
    answer = QUESTION.ask(frosty(**DRAINED, outlets__tap__z="1 m"))
    assert (answer.tanks, answer.runs, answer.day) == ((), (), None)
    assert not [one for one in answer.findings if one.key.startswith("frost.pad")]
    assert "drained heater" in [caution.key for caution in answer.cautions]


def test_the_litres_that_stay_are_those_of_the_runs() -> None:
    plan = example("family-winter").in_situation("laid up")
    left = left_in_lines(plan)
    assert left is not None
    held = sum(
        0.25 * math.pi * (pipes()[run.size].bore if run.size else run.bore or 0.0) ** 2 * (run.length or 0.0)
        for name, run in plan.runs.items()
        if name != "suction"
    )
    assert left.likely == pytest.approx(held, rel=1e-9)


def test_a_drain_cock_at_the_lowest_point_cures_what_is_told() -> None:
    plan = example("family-winter").in_situation("laid up")
    keys = {one.key for one in QUESTION.ask(plan).findings}
    assert {"frost.drained.lines", "frost.drained.heater"} <= keys
    drain = {"runs.trunk.fittings.drain cock": 1, "runs.heater feed.fittings.spring check valve": 0}
    mended = QUESTION.ask(plan.changed(drain))
    assert {one.key for one in mended.findings} == {"frost.drained.pieces"}
    assert "little" in mended.verdict.text()


def test_a_van_is_told_to_open_only_what_it_has() -> None:
    plan = example("weekend-cans").in_situation("laid up")
    found = {one.key: one for one in QUESTION.ask(plan).findings}
    assert found["frost.drained.lines"].statement.text().startswith("Open taps do not empty the tap hose: ")
    change = found["frost.drained.pieces"].change
    assert change is not None and "take strainer cups out" in change.text()
    assert "mixing" not in change.text() and "cartridge" not in change.text()


def test_without_frost_nothing_is_to_be_feared() -> None:
    plan = frosty(**DRAINED, frost__design_cold="3 °C", frost__mean_cold=None)
    assert [one.verdict for one in QUESTION.ask(plan).findings] == [Verdict.FINE]


@pytest.mark.parametrize("name", ["family-winter", "weekend-cans"])
def test_a_laid_up_van_is_asked_for_its_battery_its_frost_its_weight_and_its_parts_alone(name: str) -> None:
    answers = answers_to(example(name).in_situation("laid up"))
    assert set(answers) == {"stay", "power", "frost", "weight", "parts"}
    assert all(walk(answer) for answer in answers.values())
    assert all(QUESTIONS[key].ask(answers.plan).charts == () for key in QUESTIONS if key not in answers)


def test_a_laid_up_van_weighs_its_loads_and_no_water() -> None:
    weight = QUESTIONS["weight"].ask(example("family-winter").in_situation("laid up"))
    assert weight.verdict.text().startswith("Drained, the water weighs nothing")
    assert not weight.failing
