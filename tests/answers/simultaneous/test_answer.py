from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.answered import simultaneous
from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.pumped import KINDS, pumped
from tests.strategies import plans
from tests.system.test_thermostat import VALVE
from tests.walk import walk
from vanwater.answers.questions import answers_to
from vanwater.answers.simultaneous.answer import MOST
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
SLOW = {"runs.trunk.size": None, "runs.trunk.bore": "6 mm"}
WEAK = {
    "pumps.pump.current": None,
    "pumps.pump.cut_out": "1.05 bar",
    "pumps.pump.cut_in": "0.7 bar",
    "accumulators.accumulator.precharge": "0.5 bar",
}


def test_the_verdict_tells_the_weakest_and_what_it_loses() -> None:
    answer = simultaneous(FAMILY)
    text = answer.verdict.text().replace("\xa0", " ")
    (evening,) = answer.sets
    lost = 1 - evening.flow["shower"].likely / evening.alone["shower"].flow.likely
    assert text.startswith("With shower and galley tap open the shower gives 4.6 L/min")
    assert text.endswith(f"{100 * lost:.0f} % less than alone.")


def test_controls_lead_somewhere_and_begin_with_pump_and_outlets() -> None:
    plan = FAMILY
    answer = simultaneous(plan)
    controls = list(answer.question.controls(plan, answer))
    assert controls[:2] == ["pumps.pump.volts", "outlets.shower.flow"]
    assert "runs.handset hose.length" in controls
    for address in controls:
        plan.at(address)


def test_each_set_has_its_outlets_its_budget_and_its_remedies() -> None:
    answer = simultaneous(FAMILY)
    (evening,) = answer.sets
    tables = {table.key: table for table in answer.tables}
    assert list(tables) == ["together", "together evening", "together gains"]
    for row in tables["together"].rows:
        outlet = str(row[1])
        assert row[2:] == (
            evening.alone[outlet].flow.amount,
            evening.flow[outlet].shown,
            evening.pressure[outlet].amount,
            evening.speed[outlet].speed.rounded(2),
            evening.temperature[outlet].amount,
            evening.wait[outlet].wait.amount,
        )
    shares = [row[2].value for row in tables["together evening"].rows]  # type: ignore[union-attr]
    assert abs(sum(shares) - 1.0) < 1e-6
    assert shares == sorted(shares, reverse=True)
    assert 0 < len(tables["together gains"].rows) <= MOST


@pytest.mark.parametrize(
    ("plan", "most"),
    [(FAMILY, 60), (VALVE, 60), (FAMILY.changed(SLOW), 60), (FAMILY.changed(WEAK), 50)],
    ids=["as planned", "valve", "narrow", "weak"],
)
def test_every_number_is_a_number_with_its_sum(plan: Plan, most: int) -> None:
    assert walk(simultaneous(plan)) > most


def test_those_of_every_kind_of_pump_too() -> None:
    assert walk(simultaneous(example("touring-campsites"))) > 40
    for kind in KINDS:
        plan = Plan.of(pumped(kind) | {"together": {"both": {"outlets": ["tap", "rinse"]}}})
        assert walk(simultaneous(plan)) > 15, kind


@WHOLE_PLANS
@given(plans())
def test_those_of_any_plan_too(raw: dict[str, Any]) -> None:
    answer = simultaneous(Plan.of(raw, file=True))
    assert walk(answer) > 15 or not answer.decided


def test_it_is_left_out_where_no_set_is_planned() -> None:
    for name in NAMES:
        plan = example(name)
        assert ("simultaneous" in answers_to(plan)) is bool(plan.together)
        assert simultaneous(plan).decided is bool(plan.together)
