from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings

from tests.answered import outlets as answer_to
from tests.examples import NAMES, example
from tests.pumped import KINDS, pumped
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.finding import Verdict
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.outlets.suction import npsh
from vanwater.plan.model import Plan

NUMBERS = ("flow", "pressure", "rise", "inlet", "discharge", "suction_loss", "lift", "temperature")
FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")
WEEKEND = example("weekend-cans")


@pytest.mark.parametrize("name", NAMES)
def test_budget_adds_up_to_the_pumps_rise(name: str) -> None:
    answer = outlets(example(name))
    assert answer.outlets
    for one in answer.outlets.values():
        assert sum(piece.loss.likely for piece in one.budget) == pytest.approx(one.rise.likely, abs=1e-3)
        assert one.flow.range is not None
        assert one.flow.range[0] < one.flow.likely < one.flow.range[1]
        assert one.reaches


def test_outlet_hangs_most_on_its_constant_and_the_pump() -> None:
    one = outlets(FAMILY).outlets["shower"]
    assert [hung.address for hung in one.flow.influences[:2]] == ["outlets", "pumps"]
    swings = [hung.swing for hung in one.flow.influences]
    assert swings == sorted(swings, reverse=True)


def test_a_gain_is_what_the_changed_plan_gives() -> None:
    one = outlets(LONG).outlets["shower"]
    for gain in one.gains:
        after = outlets(LONG.changed(dict(gain.remedy.row.values))).outlets["shower"]
        assert after.flow.likely - one.flow.likely == pytest.approx(gain.flow.likely, rel=1e-6), gain.words.text()
    assert {gain.remedy.kind for gain in one.gains} >= {"filter", "wider"}


def test_pump_cycles_under_a_small_outlet() -> None:
    plan = LONG.changed(
        {"outlets.shower.type": None, "outlets.shower.flow": 1.2e-3 / 60, "outlets.shower.at": 1e5}, si=True
    )
    answer = outlets(plan)
    assert answer.outlets["shower"].cycles
    finding = next(one for one in answer.findings if one.key == "outlets.shower.switch")
    assert finding.verdict is Verdict.WATCH
    assert "cycles" in finding.statement.text()
    assert not outlets(LONG).outlets["shower"].cycles


def test_wanted_flow_is_judged_with_the_best_remedy() -> None:
    plan = LONG.changed({"outlets.shower.wanted": 7.5e-3 / 60}, si=True)
    answer = outlets(plan)
    finding = next(one for one in answer.findings if one.key == "outlets.shower.flow")
    assert finding.verdict is Verdict.FAILS
    assert finding.change is not None
    assert finding.change.text() == answer.outlets["shower"].gains[0].words.text()


def test_too_cold_heater_fails() -> None:
    answer = outlets(FAMILY.changed({"heaters.heater.set_point": 273.15 + 35}, si=True))
    finding = next(one for one in answer.findings if one.key == "outlets.shower.warm")
    assert finding.verdict is Verdict.FAILS


def test_one_priming_finding_for_each_pump_and_altitude_only_worsens_it() -> None:
    def left(metres: float) -> float:
        found = [f for f in outlets(FAMILY.changed({"site.altitude": metres}, si=True)).findings if "priming" in f.key]
        assert len(found) == 1
        assert found[0].value is not None
        return found[0].value.value  # type: ignore[union-attr]

    assert left(0) == left(1000) > left(2500)  # the plan's highest place, a pass at 1800 m, decides below it


def test_gaps_are_not_decided_by_address_and_others_still_come() -> None:
    answer = outlets(FAMILY.changed({"runs.handset hose.length": None}))
    assert set(answer.outlets) == {"galley tap", "basin tap"}
    finding = next(one for one in answer.findings if one.key == "outlets.shower.way")
    assert finding.verdict is Verdict.NOT_DECIDED
    assert finding.address == "runs.handset hose.length"
    nothing = outlets(Plan.of({"van": {"name": "t"}, "household": {"people": 1}}))
    assert not nothing.decided
    assert [one.key for one in nothing.findings] == ["outlets.none"]


def test_water_that_does_not_reach_is_said_and_no_number_is_false() -> None:
    plan = WEEKEND.changed({"outlets.galley tap.z": 4.9, "pumps.pump.curve": ((0.0, 3e4), (1e-4, 0.0))}, si=True)
    answer = outlets(plan)
    one = answer.outlets["galley tap"]
    assert not one.reaches
    assert one.flow.likely == 0
    assert "No water reaches" in answer.verdict.text()
    assert any(finding.verdict is Verdict.FAILS for finding in answer.findings)
    assert all(math.isfinite(piece.loss.likely) for piece in one.budget)


def test_regulated_outlet_holds_its_flow() -> None:
    plan = FAMILY.changed(
        {"outlets.shower.regulated": True, "outlets.shower.flow": 5e-3 / 60, "outlets.shower.at": 1e5}, si=True
    )
    one = outlets(plan).outlets["shower"]
    assert one.flow.likely == pytest.approx(5e-3 / 60)


def test_more_bore_or_volts_never_give_less() -> None:
    base = outlets(FAMILY).outlets["shower"].flow.likely
    for change in (
        {"runs.handset hose.size": "pvc hose 10 mm"},
        {"runs.suction.size": "pvc hose 16 mm"},
        {"pumps.pump.volts": 13.6},
        {"runs.hot shower line.fittings": {}},
    ):
        assert outlets(FAMILY.changed(change, si=True)).outlets["shower"].flow.likely > base


def test_verdict_names_flow_and_piece() -> None:
    text = outlets(FAMILY).verdict.text()
    assert "shower gives" in text
    assert "handset hose" in text
    assert np.isfinite(outlets(FAMILY).outlets["shower"].flow.likely)


def test_a_pump_that_cycles_is_told_before_its_cut_in_is_decided() -> None:
    answer = outlets(FAMILY.changed({"pumps.pump.cut_in": None, "pumps.pump.cut_out": "1.5 bar"}))
    found = next(one for one in answer.findings if one.key == "outlets.shower.switch")
    assert "stops it" in found.statement.text()
    assert "swings" not in found.statement.text()


@pytest.mark.parametrize("name", NAMES)
def test_every_number_of_the_examples_has_key_range_and_sum(name: str) -> None:
    assert walk(answer_to(example(name))) > 15


@settings(max_examples=20, deadline=None)
@given(plans())
def test_every_number_of_any_plan_has_key_range_and_sum(raw: dict[str, Any]) -> None:
    walk(answer_to(Plan.of(raw, file=True)))


@pytest.mark.parametrize("kind", KINDS)
def test_every_number_of_every_kind_of_pump_has_key_range_and_sum(kind: str) -> None:
    walk(answer_to(Plan.of(pumped(kind))))


def test_each_row_of_a_number_is_what_the_changed_plan_gives() -> None:
    one = outlets(LONG).outlets["shower"]
    for remedy in one.tried:
        after = outlets(LONG.changed(dict(remedy.row.values))).outlets["shower"]
        row = one.batch.place(remedy.row.key)
        pairs = [(one.losses[run], after.losses[run]) for run in one.losses]
        pairs += [(getattr(one, name), getattr(after, name)) for name in NUMBERS]
        pairs.append((npsh(one), npsh(after)))
        for number, own in pairs:
            assert number.values[row] == pytest.approx(own.likely, rel=1e-9, abs=1e-12), (remedy.row.key, number.name)
