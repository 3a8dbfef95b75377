from __future__ import annotations

import math

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Verdict
from vanwater.answers.outlets.answer import supply
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")
WEEKEND = example("weekend-cans")


@pytest.mark.parametrize("name", NAMES)
def test_budget_adds_up_to_the_pumps_rise(name: str) -> None:
    answer = supply(example(name))
    assert answer.outlets
    for one in answer.outlets.values():
        assert sum(piece.loss for piece in one.budget) == pytest.approx(one.rise, abs=1e-3)
        assert one.flow.low < one.flow.likely < one.flow.high
        assert one.reaches


def test_outlet_hangs_most_on_its_constant_and_the_pump() -> None:
    one = supply(FAMILY).outlets["shower"]
    assert [hung.address for hung in one.influences[:2]] == ["outlets", "pumps"]
    swings = [hung.swing for hung in one.influences]
    assert swings == sorted(swings, reverse=True)


def test_a_gain_is_what_the_changed_plan_gives() -> None:
    one = supply(LONG).outlets["shower"]
    for gain in one.gains:
        after = supply(LONG.changed(dict(gain.remedy.row.values))).outlets["shower"]
        assert after.flow.likely - one.flow.likely == pytest.approx(gain.flow, rel=1e-6), gain.words.text()
    assert {gain.remedy.kind for gain in one.gains} >= {"filter", "wider"}


def test_pump_cycles_under_a_small_outlet() -> None:
    plan = LONG.changed(
        {"outlets.shower.type": None, "outlets.shower.flow": 1.2e-3 / 60, "outlets.shower.at": 1e5}, si=True
    )
    answer = supply(plan)
    assert answer.outlets["shower"].cycles
    finding = next(one for one in answer.findings if one.key == "supply.shower.switch")
    assert finding.verdict is Verdict.WATCH
    assert "cycles" in finding.statement.text()
    assert not supply(LONG).outlets["shower"].cycles


def test_wanted_flow_is_judged_with_the_best_remedy() -> None:
    plan = LONG.changed({"outlets.shower.wanted": 7.5e-3 / 60}, si=True)
    answer = supply(plan)
    finding = next(one for one in answer.findings if one.key == "supply.shower.flow")
    assert finding.verdict is Verdict.FAILS
    assert finding.change is not None
    assert finding.change.text() == answer.outlets["shower"].gains[0].words.text()


def test_too_cold_heater_fails() -> None:
    answer = supply(FAMILY.changed({"heaters.heater.set_point": 273.15 + 35}, si=True))
    finding = next(one for one in answer.findings if one.key == "supply.shower.warm")
    assert finding.verdict is Verdict.FAILS


def test_one_priming_finding_for_each_pump_and_altitude_only_worsens_it() -> None:
    def left(metres: float) -> float:
        found = [f for f in supply(FAMILY.changed({"site.altitude": metres}, si=True)).findings if "priming" in f.key]
        assert len(found) == 1
        assert found[0].value is not None
        return found[0].value.value  # type: ignore[union-attr]

    assert left(0) > left(1000) > left(2500)
    assert left(0) - left(1000) == pytest.approx(1.2)


def test_gaps_are_not_decided_by_address_and_others_still_come() -> None:
    answer = supply(FAMILY.changed({"runs.handset hose.length": None}))
    assert set(answer.outlets) == {"galley tap", "basin tap"}
    finding = next(one for one in answer.findings if one.key == "supply.shower.way")
    assert finding.verdict is Verdict.NOT_DECIDED
    assert finding.address == "runs.handset hose.length"
    nothing = supply(Plan.of({"van": {"name": "t"}, "household": {"people": 1}}))
    assert not nothing.decided
    assert [one.key for one in nothing.findings] == ["supply.outlets"]


def test_water_that_does_not_reach_is_said_and_no_number_is_false() -> None:
    plan = WEEKEND.changed({"outlets.galley tap.z": 4.9, "pumps.pump.curve": ((0.0, 3e4), (1e-4, 0.0))}, si=True)
    answer = supply(plan)
    one = answer.outlets["galley tap"]
    assert not one.reaches
    assert one.flow.likely == 0
    assert "No water reaches" in answer.verdict.text()
    assert any(finding.verdict is Verdict.FAILS for finding in answer.findings)
    assert all(math.isfinite(piece.loss) for piece in one.budget)


def test_regulated_outlet_holds_its_flow() -> None:
    plan = FAMILY.changed(
        {"outlets.shower.regulated": True, "outlets.shower.flow": 5e-3 / 60, "outlets.shower.at": 1e5}, si=True
    )
    one = supply(plan).outlets["shower"]
    assert one.flow.likely == pytest.approx(5e-3 / 60)


def test_more_bore_or_volts_never_give_less() -> None:
    base = supply(FAMILY).outlets["shower"].flow.likely
    for change in (
        {"runs.handset hose.size": "pvc hose 10 mm"},
        {"runs.suction.size": "pvc hose 16 mm"},
        {"pumps.pump.volts": 13.6},
        {"runs.hot shower line.fittings": {}},
    ):
        assert supply(FAMILY.changed(change, si=True)).outlets["shower"].flow.likely > base


def test_verdict_names_flow_and_piece() -> None:
    text = supply(FAMILY).verdict.text()
    assert "shower gives" in text
    assert "handset hose" in text
    assert np.isfinite(supply(FAMILY).outlets["shower"].flow.likely)


def test_a_pump_that_cycles_is_told_before_its_cut_in_is_decided() -> None:
    answer = supply(FAMILY.changed({"pumps.pump.cut_in": None, "pumps.pump.cut_out": "1.5 bar"}))
    found = next(one for one in answer.findings if one.key == "supply.shower.switch")
    assert "stops it" in found.statement.text()
    assert "swings" not in found.statement.text()
