from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from tests.evening import EVENING, FAMILY, evening
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.answers.simultaneous.findings import set_findings

LOW_SWITCH = {
    "pumps.pump.cut_out": "1.05 bar",
    "pumps.pump.cut_in": "0.7 bar",
    "accumulators.accumulator.precharge": "0.5 bar",
}


def told(changes: Mapping[str, Any] | None = None) -> dict[str, Finding]:
    one = evening(changes)
    return {found.key.removeprefix("simultaneous.evening."): found for found in set_findings(one.rows.plan, (one,))}


def test_a_wish_that_is_not_met_names_the_best_change_with_its_gain() -> None:
    finding = told()["shower"]
    assert finding.verdict is Verdict.FAILS
    best = EVENING.gains["shower"][0]
    assert finding.change is not None
    assert finding.change.text() == best.words.text()
    assert finding.gain is not None
    assert finding.gain.text() == f"{best.flow.rounded(2).text()} more at the shower"


def test_a_tap_that_must_be_turned_is_watched_and_one_that_need_not_is_not_told() -> None:
    finding = told()["shower.warm"]
    assert finding.verdict is Verdict.WATCH
    assert EVENING.temperature["shower"].likely < EVENING.rows.taps["shower"].wanted
    assert "31" in finding.statement.text()
    kept = {"outlets.galley tap.flow": "0.3 L/min", "outlets.galley tap.at": "1 bar", "outlets.galley tap.type": None}
    assert "shower.warm" not in told(kept)  # a trickle beside it changes next to nothing


def test_the_pump_is_told_steady_or_cycling() -> None:
    assert told()["pump.pump"].verdict is Verdict.FINE
    low = told(LOW_SWITCH)["pump.pump"]
    assert low.verdict is Verdict.WATCH
    assert "cycles" in low.statement.text()


def test_fast_water_is_watched() -> None:
    assert "speed" in told({"runs.trunk.size": None, "runs.trunk.bore": "6 mm"})
    wide = {f"runs.{name}.size": None for name in FAMILY.runs} | {f"runs.{name}.bore": "19 mm" for name in FAMILY.runs}
    one = simultaneous(FAMILY.changed(wide)).sets[0]
    assert not [finding for finding in set_findings(one.rows.plan, (one,)) if finding.key.endswith(".speed")]


def test_what_it_hangs_on_most_comes_with_what_to_measure() -> None:
    most = EVENING.flow[EVENING.weakest].influences[0]
    assert EVENING.measure_first.key == most.address
    low, high = EVENING.ends
    assert (low.likely, high.likely) == (min(most.low, most.high), max(most.low, most.high))
    finding = next(finding for key, finding in told().items() if key.endswith("hangs"))
    assert most.name in finding.statement.text()
    assert finding.change is not None
    assert most.name in finding.change.text()
    assert EVENING.measure_first.label == most.name


@pytest.mark.parametrize("outlets", [["shower", "galley tap"], ["shower", "basin tap"]])
def test_every_finding_stands_in_the_answer(outlets: list[str]) -> None:
    plan = FAMILY.changed({"together.evening.outlets": outlets})
    answer = simultaneous(plan)
    keys = {finding.key for finding in answer.findings}
    assert {finding.key for finding in set_findings(plan, answer.sets)} <= keys
