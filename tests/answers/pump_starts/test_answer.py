from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from tests.walk import shown, walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.pump_starts.answer import PumpStarts, pump_starts
from vanwater.answers.pump_starts.expansion import growth, pressure_after
from vanwater.answers.pump_starts.question import QUESTION
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.system.accumulators import behind
from vanwater.system.batch import Batch, Row

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")
NO_VESSEL = FAMILY.changed({"accumulators": None})


def found(plan: Plan, key: str) -> Finding:
    return next(one for one in pump_starts(plan).findings if one.key == key)


def highest_of(setting: Number) -> float:
    """The pre-charge that keeps the margin and no more, before it is rounded down to what a gauge is read to."""
    (highest,) = (piece.value for piece in setting.facts if piece.name == "highest")
    assert isinstance(highest, Number)
    return highest.likely


def test_without_one_the_pump_chatters() -> None:
    answer = pump_starts(NO_VESSEL)
    assert answer.pumps[0].bare is None
    assert "chatters" in answer.verdict.text()
    assert found(NO_VESSEL, "pump_starts.pump.chatter").verdict is Verdict.WATCH


def test_two_accumulators_tell_the_same_in_any_order_and_one_without_precharge_takes_none_away() -> None:
    vessel = {"at": "tee", "volume": "1 L", "precharge": "1.1 bar"}
    beside = {"at": "tee", "volume": "3 L"}
    alone = FAMILY.changed({"accumulators": {"set": vessel}})
    for order in (("set", "unset"), ("unset", "set")):
        plan = FAMILY.changed({"accumulators": {name: {"set": vessel, "unset": beside}[name] for name in order}})
        (cycle,) = pump_starts(plan).pumps
        assert cycle.vessel == "set"
        assert cycle.starts.likely == pump_starts(alone).pumps[0].starts.likely
        finding = found(plan, "pump_starts.pump.beside.unset")
        assert finding.verdict is Verdict.NOT_DECIDED and finding.address == "accumulators.unset.precharge"
        both = plan.changed({"accumulators.unset.precharge": "1.1 bar"})
        assert pump_starts(both).pumps[0].vessels == ("unset", "set")  # the larger one first
        assert found(both, "pump_starts.pump.beside.set").verdict is Verdict.FINE
        walk(QUESTION.ask(both))


def test_two_halves_of_an_accumulator_tell_what_the_whole_one_does() -> None:
    whole = {"at": "tee", "volume": "1 L", "precharge": "1.1 bar"}
    half = {**whole, "volume": "0.5 L"}
    alone = answers_to(FAMILY.changed({"accumulators": {"a": whole}}))
    for order in ("ab", "ba"):
        both = answers_to(FAMILY.changed({"accumulators": dict.fromkeys(order, half)}))
        for key, number in alone.numbers.items():
            share = 0.5 if key == "accumulator.a.drawdown" else 1.0
            assert both.numbers[key].likely == pytest.approx(share * number.likely, rel=1e-12, nan_ok=True), key
        assert both.numbers["pump.pump.between_starts"].likely == pytest.approx(
            alone.numbers["accumulator.a.drawdown"].likely, rel=1e-12
        )


def test_unlike_accumulators_act_together_each_from_its_own_precharge_on() -> None:
    at_sea = {"site.altitude": "0 m", "site.highest": None}
    large = {"at": "tee", "volume": "1 L", "precharge": "1.1 bar"}
    small = {"at": "tee", "volume": "0.5 L", "precharge": "1.8 bar"}
    plan = FAMILY.changed({**at_sea, "accumulators": {"small": small, "large": large}})
    (cycle,) = pump_starts(plan).pumps
    by_hand = 1e-3 * (1.1e5 + AIR[0]) * (1 / (1.4e5 + AIR[0]) - 1 / (2.6e5 + AIR[0]))
    by_hand += 0.5e-3 * (1.0 - (1.8e5 + AIR[0]) / (2.6e5 + AIR[0]))
    assert cycle.between.likely == pytest.approx(by_hand, rel=1e-4)
    (single,) = pump_starts(plan.changed({"accumulators.small": None})).pumps
    assert cycle.starts is not None and single.starts is not None and cycle.starts.likely < single.starts.likely
    stutters = found(plan, "pump_starts.pump.beside.small")
    assert stutters.verdict is Verdict.WATCH and stutters.address == "accumulators.small.precharge"
    assert found(plan, "pump_starts.pump.precharge").address == "accumulators.large.precharge"


def test_the_accumulator_that_takes_up_growing_water_is_the_one_on_the_heaters_side() -> None:
    near = {"at": "tee", "volume": "2 L", "precharge": "1.1 bar"}
    inside = {"at": "hot tee", "volume": "1 L", "precharge": "2 bar"}
    for order in (("near", "inside"), ("inside", "near")):
        vessels = {"near": near, "inside": inside}
        plan = FAMILY.changed({"accumulators": {name: vessels[name] for name in order}})
        finding = found(plan, "pump_starts.heater.expansion")
        assert finding.verdict is Verdict.FINE and "inside takes it up" in finding.statement.text()


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


def test_an_accumulator_behind_a_check_valve_does_not_count_for_the_pump() -> None:
    """On the hot side, behind the check valve of the heater's feed, it is as if the pump had none."""
    hot_side = FAMILY.changed({"accumulators.accumulator.at": "hot tee"})
    (cycle,), (bare,), (planned,) = (pump_starts(plan).pumps for plan in (hot_side, NO_VESSEL, FAMILY))
    assert cycle.vessel == ""
    assert cycle.starts is bare.starts is None and planned.starts is not None
    assert cycle.between.likely == pytest.approx(bare.between.likely)
    assert cycle.between.likely < 0.1 * planned.between.likely
    one = found(hot_side, "pump_starts.pump.chatter")
    assert one.verdict is Verdict.WATCH
    assert "The accumulator feeds only what lies behind the check valve in the heater feed" in one.statement.text()
    assert one.change is not None and "between the pump and that check valve" in one.change.text()
    assert one.address == "accumulators.accumulator.at"
    assert "does not feed every tap" in pump_starts(hot_side).verdict.text()
    walk(QUESTION.ask(hot_side))


def test_an_accumulator_behind_a_tap_is_told_to_hold_no_pressure() -> None:
    one = found(FAMILY.changed({"accumulators.accumulator.at": "shower mixer"}), "pump_starts.pump.chatter")
    assert "sits behind the shower mixer" in one.statement.text()
    assert one.change is not None and "between the pump and the taps" in one.change.text()


def test_a_check_valve_before_all_taps_leaves_the_accumulator_to_the_pump() -> None:
    trunk = FAMILY.changed({"runs.trunk.fittings": {"swing check valve": 1}})
    (cycle,), (planned,) = pump_starts(trunk).pumps, pump_starts(FAMILY).pumps
    assert cycle.vessel == "accumulator"
    assert cycle.starts.likely == pytest.approx(planned.starts.likely)


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
    assert one.worst_starts is not None
    assert draws[np.argmax(planned)] == pytest.approx(one.worst_draw.likely, rel=0.02)
    assert planned.max() <= one.worst_starts.likely * (1 + 1e-9)
    assert np.all(softest <= hardest + 1e-12)


AIR = {0: 101325.0, 650: 93761.0, 1800: 81489.0, 2000: 79495.0}
"""Pressure of the standard atmosphere by height, Pa (ISO 2533, from memory)."""


def precharged(bar: float, **changes: Any) -> Finding:
    values = {"accumulators.accumulator.precharge": bar * 1e5} | changes
    return found(FAMILY.changed(values, si=True), "pump_starts.pump.precharge")


def read_elsewhere(bar: float, set_at: tuple[int, float], read_at: tuple[int, float]) -> float:
    """Boyle and Gay-Lussac in absolute pressures, a gauge against its own air [Pa]."""
    return (bar * 1e5 + AIR[set_at[0]]) * read_at[1] / set_at[1] - AIR[read_at[0]]


def test_precharge_against_cut_in_at_1_4_bar_is_judged_where_it_reads_most() -> None:
    """Set at 650 m and 20 °C, read at 1800 m and 32 °C at the most; cut-in at 1.4 bar."""
    most = {bar: read_elsewhere(bar, (650, 293.15), (1800, 305.15)) for bar in (0.3, 1.05, 1.15, 1.2, 1.6, 2.55)}
    told = {bar: precharged(bar) for bar in most}
    for bar, finding in told.items():
        assert finding.value is not None
        assert finding.value.value == pytest.approx(most[bar], abs=20.0)  # type: ignore[union-attr]
    assert most[0.3] < 0.6 * 1.4e5 and "far below" in told[0.3].statement.text()
    assert most[1.05] < 1.3e5 and told[1.05].verdict is Verdict.FINE
    assert 1.3e5 + 1e3 < most[1.15] < 1.4e5 and told[1.15].verdict is Verdict.WATCH
    assert "hardly below" in told[1.15].statement.text()
    assert "1.05\N{NO-BREAK SPACE}bar" in told[1.15].change.text()  # type: ignore[union-attr]
    assert most[1.2] > 1.4e5 and "hottest and highest" in told[1.2].statement.text()
    assert "at each start" in told[1.6].statement.text()
    assert most[2.55] > 2.6e5 and told[2.55].verdict is Verdict.FAILS


def test_a_hair_below_cut_in_is_not_fine() -> None:
    """The margin that the advice keeps is the one that the verdict asks for."""
    hair = (1.4e5 - 40.0 + AIR[1800]) * 293.15 / 305.15 - AIR[650]
    finding = precharged(hair / 1e5)
    assert 1.4e5 - finding.value.value == pytest.approx(40.0, abs=20.0)  # type: ignore[union-attr]
    assert finding.verdict is Verdict.WATCH


def test_the_height_at_which_it_was_set_counts() -> None:
    """A gauge reads against the air around it: 1.1 bar set at the sea are 1.18 bar at 650 m."""
    at_sea = precharged(1.1, **{"accumulators.accumulator.set_altitude": 0.0})
    assert at_sea.value.value == pytest.approx(  # type: ignore[union-attr]
        read_elsewhere(1.1, (0, 293.15), (1800, 305.15)), abs=20.0
    )
    assert at_sea.verdict is Verdict.WATCH and precharged(1.1).verdict is Verdict.FINE
    cycle = pump_starts(FAMILY.changed({"accumulators.accumulator.set_altitude": 0.0}, si=True)).pumps[0]
    read, coldest, _ = cycle.readings["accumulator"]
    here = 1.1e5 + AIR[0] - AIR[650]
    assert read.likely == pytest.approx(here, abs=20.0)
    assert coldest.likely == pytest.approx(read_elsewhere(1.1, (0, 293.15), (650, 278.15)), abs=20.0)
    absolute = here + AIR[650]
    by_boyle = 1e-3 * absolute * (1 / (1.4e5 + AIR[650]) - 1 / (2.6e5 + AIR[650]))
    assert cycle.between.likely == pytest.approx(by_boyle, rel=1e-4)

    def hottest(setting: float) -> float:
        at = {"accumulators.accumulator.set_altitude": 0.0, "accumulators.accumulator.precharge": setting}
        again = pump_starts(FAMILY.changed(at, si=True)).pumps[0]
        return again.readings["accumulator"][2].likely

    step = sold(FAMILY.us).gauge
    assert hottest(cycle.setting.likely) <= 1.3e5 < hottest(cycle.setting.likely + step)
    assert hottest(highest_of(cycle.setting)) == pytest.approx(1.3e5, rel=1e-9)


def test_set_at_the_sea_it_stutters_in_the_mountains() -> None:
    """1.3 bar at the sea, cut-in at 1.4 bar: 1.52 bar where the van stands at 2000 m."""
    up = {"accumulators.accumulator.set_altitude": 0.0, "site.altitude": 2000.0, "site.highest": 2000.0}
    finding = precharged(1.3, **up)
    assert "where the van stands" in finding.statement.text() and finding.verdict is Verdict.WATCH
    assert "at 0" in finding.change.text()  # type: ignore[union-attr]
    assert finding.statement.amounts[0].value == pytest.approx(  # type: ignore[union-attr]
        read_elsewhere(1.3, (0, 293.15), (2000, 293.15)), abs=20.0
    )


def test_a_setting_for_the_highest_and_warmest_day_is_not_far_below_at_home() -> None:
    far = {"site.altitude": 0.0, "site.highest": 3000.0, "site.warmest": 318.15}
    advised = pump_starts(FAMILY.changed(far, si=True)).pumps[0].setting.likely
    assert advised < 0.6 * 1.4e5
    assert precharged(advised / 1e5, **far).verdict is Verdict.FINE
    assert precharged(0.5 * advised / 1e5 - 0.1, **far).verdict is not Verdict.FINE


def test_a_vessel_that_takes_no_water_is_answered() -> None:
    """Set at the sea just below cut-out, it reads above cut-out in the mountains: the line alone gives."""
    up = {"accumulators.accumulator.set_altitude": 0.0, "site.altitude": 2500.0, "site.highest": 2500.0}
    plan = FAMILY.changed({"accumulators.accumulator.precharge": 2.5e5} | up, si=True)
    answer = pump_starts(plan)
    assert found(plan, "pump_starts.pump.precharge").verdict is Verdict.FAILS
    assert "in spite of the accumulator" in answer.verdict.text()


def test_where_no_pre_charge_can_follow_none_is_advised() -> None:
    low = {"pumps.pump.cut_in": 0.4e5, "site.altitude": 0.0, "site.highest": 4000.0}
    finding = precharged(0.2, **low)
    assert pump_starts(FAMILY.changed(low, si=True)).pumps[0].setting.likely < 0
    assert "anew" in finding.change.text()  # type: ignore[union-attr]
    bare = found(NO_VESSEL.changed(low, si=True), "pump_starts.pump.chatter")
    assert "accumulator behind it" in bare.change.text()  # type: ignore[union-attr]


def test_setting_keeps_the_precharge_below_cut_in_on_the_worst_day() -> None:
    one = pump_starts(FAMILY).pumps[0]
    advised, step = one.setting.likely, sold(FAMILY.us).gauge
    at = (highest_of(one.setting), advised, advised + step)
    highest, after, above = (
        pump_starts(FAMILY.changed({"accumulators.accumulator.precharge": bar}, si=True)).pumps[0] for bar in at
    )
    assert highest.readings["accumulator"][2].likely == pytest.approx(1.4e5 - 1e4, rel=1e-6)
    assert after.readings["accumulator"][2].likely <= 1.4e5 - 1e4 < above.readings["accumulator"][2].likely
    assert advised / step == pytest.approx(round(advised / step))
    assert (
        found(
            FAMILY.changed({"accumulators.accumulator.precharge": advised}, si=True), "pump_starts.pump.precharge"
        ).verdict
        is Verdict.FINE
    )


def test_higher_and_warmer_only_raise_the_reading() -> None:
    def highest(plan: Plan) -> float:
        return pump_starts(plan).pumps[0].readings["accumulator"][2].likely

    assert highest(FAMILY.changed({"site.highest": 2800.0}, si=True)) > highest(FAMILY)
    assert highest(FAMILY.changed({"site.warmest": 273.15 + 45}, si=True)) > highest(FAMILY)


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
        assert one.bare is None or np.isfinite(one.bare.likely)
        assert one.draw.likely == 1e-3 / 60
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
    litre = FAMILY.changed({"pumps.pump.trickle": 1.5e-3 / 60}, si=True)
    cycle = pump_starts(litre).pumps[0]
    assert cycle.draw.key == ("pumps", "pump", "trickle") and cycle.draw.likely == 1.5e-3 / 60
    draws, starts, _, _ = cycle.along(400)
    assert cycle.starts is not None
    assert np.interp(1.5e-3 / 60, draws, starts) == pytest.approx(cycle.starts.likely, rel=1e-3)
    assert "a trickle of 1.5\N{NO-BREAK SPACE}L/min" in pump_starts(litre).verdict.text()


@pytest.mark.parametrize("name", NAMES)
def test_every_number_has_a_key_a_reason_and_a_sum(name: str) -> None:
    answer = QUESTION.ask(example(name))
    assert isinstance(answer, PumpStarts)
    assert (walk(answer) > 15) is bool(answer.pumps)
    for key in QUESTION.on_demand:
        views = list(shown(answer.chart(key)))
        assert bool(views) is bool(answer.minutes)
        assert all(answer.numbers[key_text(view.number.key)] is view.number for view in views)  # type: ignore[union-attr]


@WHOLE_PLANS
@given(plans())
def test_the_same_for_any_plan(raw: dict[str, Any]) -> None:
    walk(pump_starts(Plan.of(raw, file=True)))


def test_the_table_holds_the_numbers_of_the_pump() -> None:
    answer = pump_starts(FAMILY)
    cycle, ((name, *cells),) = answer.pumps[0], answer.tables[0].rows
    told = [cycle.between, cycle.starts, None, cycle.worst_draw, cycle.worst_starts]
    assert name == "pump"
    assert [getattr(cell, "number", None) for cell in cells] == told
    assert cells[2].text() == "chatters"  # type: ignore[union-attr]
    ((_, between, *cells),) = pump_starts(NO_VESSEL).tables[0].rows
    assert between is None and [cell.text() for cell in (*cells[:2], cells[3])] == ["chatters"] * 3  # type: ignore[union-attr]
