from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings

from tests.examples import NAMES, example
from tests.strategies import plans
from tests.walk import shown, walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.key import key_text
from vanwater.answers.pump_starts.answer import PumpStarts, pump_starts
from vanwater.answers.pump_starts.expansion import growth, pressure_after
from vanwater.answers.pump_starts.question import QUESTION
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.compliance import behind

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")
NO_VESSEL = FAMILY.changed({"accumulators": None})


def found(plan: Plan, key: str) -> Finding:
    return next(one for one in pump_starts(plan).findings if one.key == key)


def test_without_one_the_pump_chatters_with_a_range() -> None:
    answer = pump_starts(NO_VESSEL)
    one = answer.pumps[0]
    assert one.bare.range is not None
    assert one.bare.range[0] < one.bare.likely < one.bare.range[1]
    assert one.bare.range[0] * 3600 > 1000
    assert "chatters" in answer.verdict.text()
    assert found(NO_VESSEL, "pump_starts.pump.chatter").verdict is Verdict.WATCH


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("gap", ["runs", "lengths"])
def test_a_pump_whose_line_is_not_planned_is_told_as_such(name: str, gap: str) -> None:
    plan = example(name)
    pumps = [one.pump for one in pump_starts(plan).pumps if plan.pumps[one.pump].line_gives is None]
    runs = {f"runs.{run}.length": None for run in plan.runs}
    bare = plan.changed({"runs": None} if gap == "runs" else runs)
    assert not {one.pump for one in pump_starts(bare).pumps} & set(pumps)
    for pump in pumps:
        one = found(bare, f"pump_starts.{pump}.line")
        assert one.verdict is Verdict.NOT_DECIDED
        assert (one.address == "runs") is (gap == "runs")
        assert one.change is not None
        lacks = [f"runs.{run}.length" for run in sorted(behind(plan, pump))]
        assert all(address in one.change.text() for address in lacks) is (gap == "lengths")


@pytest.mark.parametrize("lacks", [("cut_in",), ("cut_out",), ("curve",), ("curve", "cut_out"), ("cut_in", "cut_out")])
def test_the_fields_that_are_missing_are_named_and_no_others(lacks: tuple[str, ...]) -> None:
    fields = {f"pumps.pump.{field}": None for field in (*lacks, *(["volts", "curve_volts"] * ("curve" in lacks)))}
    one = found(FAMILY.changed(fields), "pump_starts.pump.switch")
    assert one.address == f"pumps.pump.{lacks[0]}"
    assert one.change is not None
    named = [field for field in ("curve", "cut_in", "cut_out") if f"pumps.pump.{field}" in one.change.text()]
    assert named == list(lacks)


def test_a_line_of_no_length_is_told_as_that() -> None:
    nothing = FAMILY.changed({f"runs.{run}.length": 0.0 for run in FAMILY.runs}, si=True)
    one = found(nothing, "pump_starts.pump.line")
    assert one.address == "pumps.pump.line_gives"
    assert one.change is not None and "length above nothing" in one.change.text()


def test_a_larger_vessel_never_starts_more_often() -> None:
    starts = [
        pump_starts(FAMILY.changed({"accumulators.accumulator.volume": litres * 1e-3}, si=True)).pumps[0].starts.likely
        for litres in (0.5, 1, 2, 4)
    ]
    assert starts == sorted(starts, reverse=True)
    assert starts[0] == pytest.approx(8 * starts[3], rel=0.02)  # starts go as one over the volume


def test_worst_draw_is_the_top_of_the_curve() -> None:
    one = pump_starts(FAMILY).pumps[0]
    draws, planned, softest, hardest = one.along(400)
    assert draws[np.argmax(planned)] == pytest.approx(one.worst_draw.likely, rel=0.02)
    assert planned.max() <= one.worst_starts.likely * (1 + 1e-9)
    assert np.all(softest <= hardest + 1e-12)


def test_precharge_above_cut_in_is_a_finding_of_its_own() -> None:
    stutters = found(
        FAMILY.changed({"accumulators.accumulator.precharge": 1.6e5}, si=True), "pump_starts.pump.precharge"
    )
    assert stutters.verdict is Verdict.WATCH
    assert "above cut-in" in stutters.statement.text()
    assert found(FAMILY, "pump_starts.pump.precharge").verdict is Verdict.FINE
    idle = found(FAMILY.changed({"accumulators.accumulator.precharge": 0.3e5}, si=True), "pump_starts.pump.precharge")
    assert "far below" in idle.statement.text()


def test_setting_keeps_the_precharge_below_cut_in_on_the_worst_day() -> None:
    one = pump_starts(FAMILY).pumps[0]
    advised = one.setting.likely
    after = pump_starts(FAMILY.changed({"accumulators.accumulator.precharge": advised}, si=True)).pumps[0]
    assert after.hottest.likely == pytest.approx(1.4e5 - 1e4, rel=1e-6)
    assert (
        found(
            FAMILY.changed({"accumulators.accumulator.precharge": advised}, si=True), "pump_starts.pump.precharge"
        ).verdict
        is Verdict.FINE
    )


def test_higher_and_warmer_only_raise_the_reading() -> None:
    base = pump_starts(FAMILY).pumps[0].hottest.likely
    assert pump_starts(FAMILY.changed({"site.highest": 2800.0}, si=True)).pumps[0].hottest.likely > base
    assert pump_starts(FAMILY.changed({"site.warmest": 273.15 + 45}, si=True)).pumps[0].hottest.likely > base


def test_undecided_precharge_and_switch_are_said() -> None:
    assert (
        found(FAMILY.changed({"accumulators.accumulator.precharge": None}), "pump_starts.pump.precharge").verdict
        is Verdict.NOT_DECIDED
    )
    gap = found(FAMILY.changed({"pumps.pump.cut_out": None}), "pump_starts.pump.switch")
    assert gap.verdict is Verdict.NOT_DECIDED
    assert gap.address == "pumps.pump.cut_out"
    assert not pump_starts(Plan.of({"van": {"name": "t"}, "household": {"people": 1}})).decided


def test_expansion_by_the_position_of_check_valve_and_accumulator() -> None:
    cut_off = found(FAMILY, "pump_starts.heater.expansion")  # check valve between accumulator and heater
    assert cut_off.verdict is Verdict.WATCH
    assert "check valve" in cut_off.statement.text()
    reachable = FAMILY.changed({"runs.heater feed.fittings": {"push-fit elbow": 1}})
    assert found(reachable, "pump_starts.heater.expansion").verdict is Verdict.FINE
    hot_side = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    assert found(hot_side, "pump_starts.heater.expansion").verdict is Verdict.FINE
    unknown = FAMILY.changed({"heaters.heater.relief": None})
    assert found(unknown, "pump_starts.heater.expansion").verdict is Verdict.NOT_DECIDED


def test_hotter_grows_more_and_a_vessel_holds_the_pressure() -> None:
    rows = [Row(f"{hot}", {"heaters.heater.set_point": 273.15 + hot}) for hot in (40, 80)]
    batch = Batch(FAMILY, rows)
    at_60, at_40, at_80 = growth(batch, "heater").values
    assert at_40 < at_60 < at_80
    assert at_60 == pytest.approx(0.17e-3, rel=0.02)  # 10 L from 10 to 60 °C: 999.7/983.2 - 1
    assert at_80 == growth(Batch(FAMILY.changed({"heaters.heater.set_point": 273.15 + 80}, si=True)), "heater").likely
    hot_side = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    after = [pressure_after(Batch(plan), "heater", growth(Batch(plan), "heater")).likely for plan in (hot_side, FAMILY)]
    assert after[0] < after[1]


@pytest.mark.parametrize("name", NAMES)
def test_numbers_are_finite_where_decided(name: str) -> None:
    answer = pump_starts(example(name))
    for one in answer.pumps:
        assert np.isfinite(one.bare.likely)
        assert 0 < one.draw.likely <= 2.0001e-3 / 60
    for number in answer.numbers.values():
        assert np.isfinite(number.values).all()


def test_a_pump_that_never_stops_is_said() -> None:
    for changes in ({"pumps.pump.cut_out": 8e5}, {"pumps.pump.volts": 5.0}):
        plan = FAMILY.changed(changes, si=True)
        answer = pump_starts(plan)
        assert "never reaches" in answer.verdict.text()
        assert found(plan, "pump_starts.pump.stops").verdict is Verdict.FAILS
        for part in answer.pumps[0].along():
            assert np.isfinite(part).all()


def test_numbers_and_findings_hold_what_belongs_to_the_question() -> None:
    answer = pump_starts(FAMILY)
    assert {
        "pump.pump.night_starts",
        "pump.pump.start_chance.hand_wash",
        "outlet.shower.hammer.fast",
        "minute.evening.pressure.lowest",
        "accumulator.accumulator.drawdown",
        "accumulator.accumulator.precharge.warmest",
        "heater.heater.expansion",
    } <= set(answer.numbers)
    told = {finding.key for finding in answer.findings}
    assert {"pump_starts.pump.night", "pump_starts.pump.hand_wash", "pump_starts.pump.hammer"} <= told


def test_starts_are_told_for_the_trickle_that_the_plan_says() -> None:
    litre = FAMILY.changed({"pumps.pump.trickle": 1e-3 / 60}, si=True)
    cycle = pump_starts(litre).pumps[0]
    assert cycle.draw.key == ("pumps", "pump", "trickle") and cycle.draw.likely == 1e-3 / 60
    draws, starts, _, _ = cycle.along(400)
    assert np.interp(1e-3 / 60, draws, starts) == pytest.approx(cycle.starts.likely, rel=1e-3)
    assert "a trickle of 1\N{NO-BREAK SPACE}L/min" in pump_starts(litre).verdict.text()
    unsaid = pump_starts(FAMILY).pumps[0]
    assert unsaid.draw.likely == min(2e-3 / 60, 0.5 * unsaid.at_cut_out.likely)


@pytest.mark.parametrize("name", NAMES)
def test_every_number_has_a_key_a_reason_and_a_sum(name: str) -> None:
    answer = QUESTION.ask(example(name))
    assert isinstance(answer, PumpStarts)
    assert (walk(answer) > 15) is bool(answer.pumps)
    for key in QUESTION.on_demand:
        views = list(shown(answer.chart(key)))
        assert bool(views) is bool(answer.minutes)
        assert all(answer.numbers[key_text(view.number.key)] is view.number for view in views)  # type: ignore[union-attr]


@settings(max_examples=25, deadline=None)
@given(plans())
def test_the_same_for_any_plan(raw: dict[str, Any]) -> None:
    walk(pump_starts(Plan.of(raw, file=True)))


def test_the_table_holds_the_numbers_of_the_pump() -> None:
    for plan, between in ((FAMILY, "between"), (NO_VESSEL, "")):
        answer = pump_starts(plan)
        cycle, ((name, *cells),) = answer.pumps[0], answer.tables[0].rows
        held = [None if cell is None else cell.number for cell in cells]  # type: ignore[union-attr]
        told = [getattr(cycle, each) for each in ("starts", "bare", "worst_draw", "worst_starts")]
        assert (name, held) == ("pump", [getattr(cycle, between) if between else None, *told])
