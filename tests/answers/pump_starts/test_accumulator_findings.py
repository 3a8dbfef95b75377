from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.harm import Harm, harm_of
from vanwater.answers.pump_starts.accumulator_size import GAS_SHARE, LIMIT
from vanwater.answers.pump_starts.answer import PumpStarts, pump_starts
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
VOLUME, PRECHARGE = "accumulators.accumulator.volume", "accumulators.accumulator.precharge"


def _asked(**changes: Any) -> PumpStarts:
    return pump_starts(FAMILY.changed({VOLUME: changes.get("volume", "1 L"), PRECHARGE: changes.get("at", "1.1 bar")}))


def _told(answer: PumpStarts) -> Finding | None:
    return next((each for each in answer.findings if each.key == "pump_starts.pump.size"), None)


@pytest.mark.parametrize("volume", ["0.1 L", "0.3 L", "0.6 L", "0.7 L", "0.75 L", "1 L", "2 L"])
def test_it_is_told_where_the_starts_are_beyond_the_limit_and_nowhere_else(volume: str) -> None:
    answer = _asked(volume=volume)
    starts = answer.pumps[0].starts
    assert starts is not None
    finding = _told(answer)
    assert (finding is not None) == (starts.likely > LIMIT)
    if finding is not None:
        assert finding.verdict is Verdict.WATCH
        assert harm_of(finding.key) in {Harm.COMFORT, Harm.CARE}


@pytest.mark.parametrize("volume", ["0.1 L", "0.3 L", "0.6 L"])
def test_the_stock_size_and_the_pre_charge_of_the_advice_cure_it(volume: str) -> None:
    answer = _asked(volume=volume)
    finding, (cycle,) = _told(answer), answer.pumps
    assert finding is not None
    assert cycle.fitted is not None
    advice = finding.advice.text()  # type: ignore[union-attr]
    assert cycle.fitted.size.amount.text() in advice
    assert cycle.setting.amount.text() in advice
    changes = {VOLUME: GAS_SHARE * cycle.fitted.size.likely, PRECHARGE: cycle.setting.likely}
    cured = pump_starts(FAMILY.changed(changes, si=True))
    assert _told(cured) is None
    assert cured.pumps[0].starts.likely == pytest.approx(cycle.fitted.starts.likely, rel=1e-9)  # type: ignore[union-attr]


def test_a_pre_charge_that_cures_it_is_told_in_one_place() -> None:
    answer = _asked(volume="0.9 L", at="0.3 bar")
    (cycle,) = answer.pumps
    assert cycle.starts is not None
    assert cycle.starts.likely > LIMIT
    assert cycle.fitted is None
    assert cycle.set_right is not None
    assert _told(answer) is None
    other = next(each for each in answer.findings if each.key == "pump_starts.pump.precharge")
    assert other.verdict is Verdict.WATCH
    right = pump_starts(FAMILY.changed({VOLUME: 0.9e-3, PRECHARGE: cycle.setting.likely}, si=True)).pumps[0].starts
    assert right is not None
    assert right.likely == pytest.approx(cycle.set_right.likely, rel=1e-9)
    assert right.likely <= LIMIT


def test_where_it_chatters_it_is_told_without_a_figure() -> None:
    answer = _asked(volume="0.2 L", at="2.5 bar")
    finding = _told(answer)
    assert finding is not None
    assert finding.value is None
    assert finding.statement.text().endswith("chatters.")


def test_a_second_accumulator_makes_the_starts_fewer() -> None:
    beside = {"at": FAMILY.accumulators["accumulator"].at, "volume": "0.2 L", "precharge": "1.1 bar"}
    small: Plan = FAMILY.changed({VOLUME: "0.3 L", "accumulators.small": beside})
    finding = _told(pump_starts(small))
    assert finding is not None and "accumulator and small give too little" in finding.statement.text()
    beside["volume"] = "2 L"
    assert _told(pump_starts(FAMILY.changed({VOLUME: "0.3 L", "accumulators.small": beside}))) is None


def test_none_is_told_while_a_precharge_is_not_decided() -> None:
    beside = {"at": FAMILY.accumulators["accumulator"].at, "volume": "0.2 L"}
    answer = pump_starts(FAMILY.changed({VOLUME: "0.3 L", "accumulators.small": beside}))
    assert answer.pumps[0].too_small
    assert _told(answer) is None


def test_no_starts_at_the_low_end_are_told_as_a_pump_that_runs_on() -> None:
    answer = _asked()
    starts = answer.pumps[0].starts
    assert starts is not None
    assert starts.range is not None
    assert starts.range[0] == 0.0 < starts.likely
    assert "; a weaker pump runs on)" in starts.text()
    assert "(0 to" not in answer.verdict.text()
    strong = (
        pump_starts(FAMILY.changed({"pumps.pump.cut_out": "2 bar", "pumps.pump.cut_in": "1.4 bar"})).pumps[0].starts
    )
    assert strong is not None
    assert strong.range is not None
    assert strong.range[0] > 0.0
    assert "runs on" not in strong.text()
