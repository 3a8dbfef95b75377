from __future__ import annotations

import json

import pytest

from tests.half_plans import raw_example
from tests.system.test_hot_line import BACK, FAMILY, RING
from tests.terminal.made import piped
from tests.walk import walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.gathered import by_key, numbers_in
from vanwater.answers.hot_water.answer import hot_water
from vanwater.answers.hot_water.hot_line import hot_lines
from vanwater.answers.pump_starts.answer import pump_starts
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.stores import moved
from vanwater.terminal.json_form import json_text
from vanwater.terminal.overview import everything


def found(plan: Plan, key: str) -> Finding:
    (finding,) = [finding for finding in hot_lines(Batch(plan)) if finding.key == f"hot_water.{key}"]
    return finding


def test_a_renamed_shower_does_not_lose_its_run_off_in_silence() -> None:
    raw = raw_example("long-stay-dry-toilet")
    raw["outlets"]["handset"] = raw["outlets"].pop("shower")
    raw["runs"]["handset hose"]["to"] = "handset"
    del raw["uses"]["shower"]["outlet"]
    (one,) = [each for each in hot_water(Plan.of(raw)).findings if each.key == "hot_water.handset.use"]
    assert (one.verdict, one.address) == (Verdict.NOT_DECIDED, "uses.shower.outlet")
    assert one.change is not None
    assert one.change.text() == 'Write outlet = "handset" in [uses.shower] or [uses.dishes].'
    raw["uses"]["shower"]["outlet"] = "handset"
    assert not [each for each in hot_water(Plan.of(raw)).findings if each.key.endswith(".use")]


def test_a_plain_van_has_neither() -> None:
    assert list(hot_lines(Batch(FAMILY))) == []


def test_run_back_line_is_told_with_its_litres() -> None:
    one = found(BACK, "run-back line.run_back")
    assert one.verdict is Verdict.FINE
    numbers = hot_water(BACK).numbers
    each = {name: float((move.brought * move.waiting)[0]) for name, move in moved(Batch(BACK)).items()}
    assert numbers['run."run-back line".run_back'].likely == pytest.approx(max(each.values()))
    daily = sum(each[name] * float((move.events * move.persons)[0]) for name, move in moved(Batch(BACK)).items())
    assert numbers['run."run-back line".run_back_a_day'].likely == pytest.approx(daily)
    assert daily > 0


def test_run_back_line_without_a_valve_is_watched() -> None:
    assert found(BACK, "run-back line.valve").verdict is Verdict.WATCH
    closed = BACK.changed({"runs.run-back line.fittings": {"ball valve": 1}})
    assert [finding.key for finding in hot_lines(Batch(closed))] == ["hot_water.run-back line.run_back"]


def test_run_back_line_of_which_nobody_waits_is_not_decided() -> None:
    cold = BACK.changed({f"uses.{name}.hot": False for name, use in BACK.uses.items() if use.hot})
    assert found(cold, "run-back line.run_back").verdict is Verdict.NOT_DECIDED


def test_ring_is_told_with_flow_time_and_heat() -> None:
    one = found(RING, "small pump.ring")
    numbers = hot_water(RING).numbers
    flow, time, heat = (numbers[f'ring."small pump".{key}'] for key in ("flow", "time", "heat"))
    assert one.verdict is Verdict.FINE
    assert "the days do not count" in one.statement.text()
    assert flow.value > 1e-5
    assert heat.value > 10
    factor = moved(Batch(RING))["shower"].waiting[0]
    assert time.value == pytest.approx(factor * moved(Batch(RING))["shower"].brought[0] / flow.value)


def test_ring_that_is_not_decided_or_slow_says_so() -> None:
    one = found(RING.changed({"runs.return.length": None}), "small pump.ring")
    assert (one.verdict, one.address) == (Verdict.NOT_DECIDED, "runs.return.length")
    weak = RING.changed({"pumps.small pump.curve": [[0.0, 60.0], [4e-6, 0.0]]}, si=True)
    slow = found(weak, "small pump.ring")
    assert slow.verdict is Verdict.WATCH
    assert hot_water(weak).numbers['ring."small pump".time'].likely > 120


def test_ring_s_pump_needs_no_switch() -> None:
    assert not [one for one in pump_starts(RING).findings if "small pump" in one.key]


@pytest.mark.parametrize("plan", [BACK, RING], ids=["run-back", "ring"])
def test_along_the_rows_it_is_the_changed_plans_own(plan: Plan) -> None:
    changes = {"household.run_off": 1.7, "runs.hot trunk.length": 2.5}
    batch = Batch(plan, [Row(key, {key: value}) for key, value in changes.items()])
    rows = by_key(numbers_in(*hot_lines(batch)))
    assert len(rows) == (3 if plan is RING else 2)
    for row, (key, value) in enumerate(changes.items(), start=1):
        own = hot_water(plan.changed({key: value}, si=True)).numbers
        assert {name: number.values[row] for name, number in rows.items()} == pytest.approx(
            {name: own[name].likely for name in rows}, rel=1e-12
        )


@pytest.mark.parametrize("plan", [BACK, RING], ids=["run-back", "ring"])
def test_every_answer_tells_it_without_a_gap(plan: Plan) -> None:
    assert walk(hot_water(plan)) > 25
    answers = answers_to(plan)
    assert everything(answers, piped())
    json.loads(json_text(answers, "1", "utf-8"), parse_constant=lambda word: pytest.fail(word))
