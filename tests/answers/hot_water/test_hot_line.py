from __future__ import annotations

import json

import pytest

from tests.system.test_hot_line import BACK, FAMILY, RING
from tests.terminal.made import piped
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.hot_water.answer import hot_water
from vanwater.answers.hot_water.hot_line import hot_lines
from vanwater.answers.pump_starts.answer import pump_starts
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch
from vanwater.system.stores import moved
from vanwater.terminal.json_form import json_text
from vanwater.terminal.overview import everything


def found(plan: Plan, key: str) -> Finding:
    (one,) = [one for one in hot_lines(plan)[0] if one.key == f"hot_water.{key}"]
    return one


def test_a_plain_van_has_neither() -> None:
    assert hot_lines(FAMILY) == ([], {})


def test_run_back_line_is_told_with_its_litres() -> None:
    one = found(BACK, "run-back line.run_back")
    assert one.verdict is Verdict.FINE
    given = dict(one.statement.given)
    each = {name: float((move.brought * move.waiting)[0]) for name, move in moved(Batch(BACK)).items()}
    assert given["each"].value == pytest.approx(max(each.values()))  # type: ignore[union-attr]
    daily = sum(each[name] * float((move.events * move.persons)[0]) for name, move in moved(Batch(BACK)).items())
    assert given["daily"].value == pytest.approx(daily)  # type: ignore[union-attr]
    assert daily > 0


def test_run_back_line_without_a_valve_is_watched() -> None:
    assert found(BACK, "run-back line.valve").verdict is Verdict.WATCH
    closed = BACK.changed({"runs.run-back line.fittings": {"ball valve": 1}})
    assert [one.key for one in hot_lines(closed)[0]] == ["hot_water.run-back line.run_back"]


def test_run_back_line_of_which_nobody_waits_is_not_decided() -> None:
    cold = BACK.changed({f"uses.{name}.hot": False for name, use in BACK.uses.items() if use.hot})
    assert found(cold, "run-back line.run_back").verdict is Verdict.NOT_DECIDED


def test_ring_is_told_with_flow_time_and_heat() -> None:
    one = found(RING, "small pump.ring")
    numbers = hot_water(RING).numbers
    flow, time, heat = (numbers[f"hot_water.small pump.{key}"] for key in ("flow", "time", "heat"))
    assert one.verdict is Verdict.FINE
    assert "the days do not count" in one.statement.text()
    assert flow.value[0] > 1e-5
    assert heat.value[0] > 10
    factor = moved(Batch(RING))["shower"].waiting[0]
    assert time.value[0] == pytest.approx(factor * moved(Batch(RING))["shower"].brought[0] / flow.value[0])


def test_ring_that_is_not_decided_or_slow_says_so() -> None:
    one = found(RING.changed({"runs.return.length": None}), "small pump.ring")
    assert (one.verdict, one.address) == (Verdict.NOT_DECIDED, "runs.return.length")
    weak = RING.changed({"pumps.small pump.curve": [[0.0, 60.0], [4e-6, 0.0]]}, si=True)
    slow = found(weak, "small pump.ring")
    assert slow.verdict is Verdict.WATCH
    assert dict(slow.statement.given)["time"].value > 120  # type: ignore[union-attr]


def test_ring_s_pump_needs_no_switch() -> None:
    assert not [one for one in pump_starts(RING).findings if "small pump" in one.key]


@pytest.mark.parametrize("plan", [BACK, RING], ids=["run-back", "ring"])
def test_every_answer_tells_it_without_a_gap(plan: Plan) -> None:
    answers = answers_to(plan)
    assert everything(answers, piped())
    json.loads(json_text(answers, "1", "utf-8"), parse_constant=lambda word: pytest.fail(word))
