from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.pump_starts.answer import accumulator
from vanwater.answers.pump_starts.expansion import expansion_step, pressure_step
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")
NO_VESSEL = FAMILY.changed({"accumulators": None})


def found(plan: Plan, key: str) -> Finding:
    return next(one for one in accumulator(plan).findings if one.key == key)


def test_without_one_the_pump_chatters_with_a_range() -> None:
    answer = accumulator(NO_VESSEL)
    one = answer.pumps[0]
    assert one.bare.low < one.bare.likely < one.bare.high
    assert one.bare.low * 3600 > 1000
    assert "chatters" in answer.verdict.text()
    assert found(NO_VESSEL, "accumulator.pump.chatter").verdict is Verdict.WATCH


def test_a_larger_vessel_never_starts_more_often() -> None:
    starts = [
        accumulator(FAMILY.changed({"accumulators.accumulator.volume": litres * 1e-3}, si=True)).pumps[0].starts.likely
        for litres in (0.5, 1, 2, 4)
    ]
    assert starts == sorted(starts, reverse=True)
    assert starts[0] == pytest.approx(8 * starts[3], rel=0.02)  # starts go as one over the volume


def test_worst_draw_is_the_top_of_the_curve() -> None:
    one = accumulator(FAMILY).pumps[0]
    draws, planned, softest, hardest = one.along(400)
    assert draws[np.argmax(planned)] == pytest.approx(one.worst.value, rel=0.02)
    assert planned.max() <= float(one.worst_starts.value.ravel()[0]) * (1 + 1e-9)
    assert np.all(softest <= hardest + 1e-12)


def test_precharge_above_cut_in_is_a_finding_of_its_own() -> None:
    stutters = found(
        FAMILY.changed({"accumulators.accumulator.precharge": 1.6e5}, si=True), "accumulator.pump.precharge"
    )
    assert stutters.verdict is Verdict.WATCH
    assert "above cut-in" in stutters.statement.text()
    assert found(FAMILY, "accumulator.pump.precharge").verdict is Verdict.FINE
    idle = found(FAMILY.changed({"accumulators.accumulator.precharge": 0.3e5}, si=True), "accumulator.pump.precharge")
    assert "far below" in idle.statement.text()


def test_setting_keeps_the_precharge_below_cut_in_on_the_worst_day() -> None:
    one = accumulator(FAMILY).pumps[0]
    advised = float(one.setting.value.ravel()[0])
    after = accumulator(FAMILY.changed({"accumulators.accumulator.precharge": advised}, si=True)).pumps[0]
    assert after.precharge[1] == pytest.approx(1.4e5 - 1e4, rel=1e-6)
    assert (
        found(
            FAMILY.changed({"accumulators.accumulator.precharge": advised}, si=True), "accumulator.pump.precharge"
        ).verdict
        is Verdict.FINE
    )


def test_higher_and_warmer_only_raise_the_reading() -> None:
    base = accumulator(FAMILY).pumps[0].precharge[1]
    assert accumulator(FAMILY.changed({"site.highest": 2800.0}, si=True)).pumps[0].precharge[1] > base
    assert accumulator(FAMILY.changed({"site.warmest": 273.15 + 45}, si=True)).pumps[0].precharge[1] > base


def test_undecided_precharge_and_switch_are_said() -> None:
    assert (
        found(FAMILY.changed({"accumulators.accumulator.precharge": None}), "accumulator.pump.precharge").verdict
        is Verdict.NOT_DECIDED
    )
    gap = found(FAMILY.changed({"pumps.pump.cut_out": None}), "accumulator.pump.switch")
    assert gap.verdict is Verdict.NOT_DECIDED
    assert gap.address == "pumps.pump.cut_out"
    assert not accumulator(Plan.of({"van": {"name": "t"}, "household": {"people": 1}})).decided


def test_expansion_by_the_position_of_check_valve_and_accumulator() -> None:
    cut_off = found(FAMILY, "accumulator.heater.expansion")  # check valve between accumulator and heater
    assert cut_off.verdict is Verdict.WATCH
    assert "check valve" in cut_off.statement.text()
    reachable = FAMILY.changed({"runs.heater feed.fittings": {"push-fit elbow": 1}})
    assert found(reachable, "accumulator.heater.expansion").verdict is Verdict.FINE
    hot_side = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    assert found(hot_side, "accumulator.heater.expansion").verdict is Verdict.FINE
    unknown = FAMILY.changed({"heaters.heater.relief": None})
    assert found(unknown, "accumulator.heater.expansion").verdict is Verdict.NOT_DECIDED


def test_hotter_grows_more_and_a_vessel_holds_the_pressure() -> None:
    grown = [
        float(
            expansion_step(FAMILY.changed({"heaters.heater.set_point": 273.15 + hot}, si=True), "heater").value.ravel()[
                0
            ]
        )
        for hot in (40, 60, 80)
    ]
    assert grown == sorted(grown)
    assert grown[1] == pytest.approx(0.17e-3, rel=0.02)  # 10 L from 10 to 60 °C: 999.7/983.2 - 1
    hot_side = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    planned = expansion_step(FAMILY, "heater")
    assert float(pressure_step(hot_side, "heater", planned).value.ravel()[0]) < float(
        pressure_step(FAMILY, "heater", planned).value.ravel()[0]
    )


@pytest.mark.parametrize("name", NAMES)
def test_numbers_are_finite_where_decided(name: str) -> None:
    answer = accumulator(example(name))
    for one in answer.pumps:
        assert np.isfinite(one.bare.likely)
        assert 0 < one.draw <= 2.0001e-3 / 60
    for step in answer.numbers.values():
        assert np.isfinite(step.value).all()


def test_a_pump_that_never_stops_is_said() -> None:
    for changes in ({"pumps.pump.cut_out": 8e5}, {"pumps.pump.volts": 5.0}):
        plan = FAMILY.changed(changes, si=True)
        answer = accumulator(plan)
        assert "never reaches" in answer.verdict.text()
        assert found(plan, "accumulator.pump.stops").verdict is Verdict.FAILS
        for part in answer.pumps[0].along():
            assert np.isfinite(part).all()


def test_numbers_are_unfolded_when_they_are_asked_for() -> None:
    answer = accumulator(FAMILY)
    assert repr(answer.numbers) == "Unfolding(not asked for yet)"
    keys = set(answer.numbers)
    assert {"accumulator.night.pump", "accumulator.hand_wash.pump", "accumulator.hammer.shower"} <= keys
    assert "accumulator.over_time.evening.lowest" in keys and "accumulator.pump.drawdown" in keys
    told = {one.key for one in answer.findings}
    assert {"accumulator.pump.night", "accumulator.pump.hand_wash", "accumulator.pump.hammer"} <= told
