from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import Phase, given, settings

from tests.examples import NAMES, example
from tests.strategies import plans
from vanwater.answers.harmless import plain
from vanwater.answers.over_time import over_time
from vanwater.answers.supply import supply
from vanwater.figures.chart import Bars, Chart, Line, Mark, Rule, words
from vanwater.figures.charts import chart_of, charts_of
from vanwater.figures.data import csv
from vanwater.figures.labels import lay_out
from vanwater.figures.supply_charts import (
    flow_in_a_minute,
    pressure_along_the_way,
    pressure_budget,
    pressure_budget_together,
    pressure_in_a_minute,
    pump_against_system,
)
from vanwater.panels.drawing import drawing
from vanwater.plan.model import Plan
from vanwater.system.over_time import scripts

FAMILY = example("family-winter")
L_MIN = 1e-3 / 60
MADE = (pump_against_system, pressure_along_the_way, pressure_budget)
ON_DEMAND = (pressure_budget_together, pressure_in_a_minute, flow_in_a_minute)


def lines(chart: Chart | None) -> dict[str, Line]:
    assert chart is not None
    return {said(draw): draw for draw in chart.draws if isinstance(draw, Line)}


def said(draw: Line | Rule) -> str:
    return words(draw.label, "terminal").replace("\xa0", " ")


def bars(chart: Chart | None) -> list[Bars]:
    assert chart is not None
    return list(chart.bars)


def test_the_pumps_curve_stands_at_its_real_and_at_its_rated_volts_and_the_switch_beside_it() -> None:
    chart = pump_against_system(supply(FAMILY))
    assert list(lines(chart)) == ["rated 13.6 V", "pump at 12.7 V", "shower", "evening", "galley tap", "basin tap"]
    assert chart is not None
    rules = {said(draw): draw.y for draw in chart.draws if isinstance(draw, Rule)}
    assert rules == {"cut-in 1.4 bar": 1.4e5, "cut-out 2.6 bar": 2.6e5}


def test_each_curve_is_marked_where_it_meets_the_pump_at_both_voltages() -> None:
    answer = supply(FAMILY)
    chart = pump_against_system(answer)
    assert chart is not None
    marks = [draw for draw in chart.draws if isinstance(draw, Mark)]
    named = lines(chart)
    for curve in list(named.values())[2:]:
        rated, real = [mark for mark in marks if mark.role == curve.role]
        for mark, pump in ((rated, named["rated 13.6 V"]), (real, named["pump at 12.7 V"])):
            assert np.interp(mark.x, pump.x, pump.y) == pytest.approx(mark.y, rel=2e-3)
            assert np.interp(mark.x, curve.x, curve.y) == pytest.approx(mark.y, rel=3e-3)
    shower = answer.outlets["shower"]
    assert (shower.flow.likely, shower.discharge) in [(mark.x, mark.y) for mark in marks]
    assert words(chart.title, "terminal") == "The shower meets the pump at 6.8\xa0L/min and 1.76\xa0bar"
    assert "Above 2.6\xa0bar the switch stops the pump" in words(chart.sentence, "terminal")
    assert "evening 8.88\xa0L/min at 1.1\xa0bar" in words(chart.sentence, "terminal")


def test_one_pump_curve_is_enough_where_its_volts_are_the_rated_ones() -> None:
    chart = pump_against_system(supply(FAMILY.changed({"pumps.pump.volts": 13.6})))
    assert list(lines(chart))[:2] == ["pump at 13.6 V", "shower"]


def test_the_main_outlet_comes_first_and_no_more_are_drawn_than_can_be_told_apart() -> None:
    changed: dict[str, Any] = {"outlets.basin tap.flow": 9 * L_MIN, "outlets.basin tap.at": 1e5}
    chart = pump_against_system(supply(FAMILY.changed({"outlets.basin tap.type": None} | changed)))
    assert list(lines(chart))[2:] == ["shower", "evening", "basin tap", "galley tap"]
    assert chart is not None
    assert len(chart.colours) == 5


def test_a_pump_too_weak_is_told_in_the_title() -> None:
    weak = FAMILY.changed({"pumps.pump.curve": ((0.0, 0.21e5), (10 * L_MIN, 0.0)), "pumps.pump.volts": 10.0})
    chart = pump_against_system(supply(weak))
    assert chart is not None
    assert words(chart.title, "terminal") == "At 10\xa0V the pump does not reach the shower"


def test_bars_along_the_way_lead_from_nothing_below_zero_and_back_to_nothing() -> None:
    answer = supply(FAMILY)
    chart = pressure_along_the_way(answer)
    lift, *lost = bars(chart)
    assert lift.start is not None
    assert lift.start[0] == 0.0
    at = {name: place for place, name in enumerate(lift.names)}
    ends = np.stack([one.values for one in lost])
    ends = np.where(ends != lift.values, ends, np.nan)  # one kind a piece, the others have no length there
    after = np.nansum(ends, axis=0)
    assert after[at["suction"]] < 0
    assert after[at["pump"]] == pytest.approx(answer.outlets["shower"].discharge)
    assert after[at["shower"]] == 0.0
    np.testing.assert_allclose(lift.start[1:], after[:-1])
    assert [words(one.label, "terminal") for one in lost] == ["lost, cold", "lost, hot", "lost, mixed", "", ""]


def test_the_title_tells_suction_pressure_and_what_is_left() -> None:
    chart = pressure_along_the_way(supply(FAMILY))
    assert chart is not None
    text = words(chart.title, "terminal")
    assert text == "The pump lifts the pressure from −0.054\xa0bar to 1.76\xa0bar; 1.2\xa0bar reach the shower"
    assert "psi" in words(chart.title, "terminal", us=True)


def test_suction_is_spoken_of_where_the_pump_sucks() -> None:
    for name, sucks in (("family-winter", True), ("touring-campsites", False)):  # its pump hangs in the tank
        chart = pressure_along_the_way(supply(example(name)))
        assert chart is not None
        assert ("the pump sucks" in words(chart.sentence, "terminal")) is sucks


def test_the_budget_is_the_answers_largest_first() -> None:
    answer = supply(FAMILY)
    (one,) = bars(pressure_budget(answer))
    assert one.values.sum() == pytest.approx(answer.outlets["shower"].rise, abs=1e-3)
    assert np.all(np.diff(one.values) <= 0)
    role = dict(zip(one.names, one.roles, strict=True))
    assert role["lift"] == "plain"
    assert role["hot trunk"] == "hot"
    assert role["trunk"] == role["suction"] == "cold"
    assert role["handset hose"] == "heat"
    assert role["shower"] == "fresh"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("us", [False, True])
def test_every_example_is_drawn_told_and_tabled_in_both_units(name: str, us: bool) -> None:
    answer = supply(example(name))
    for make in MADE:
        chart = make(answer)
        assert chart is not None
        assert drawing(chart, us, hover=True).startswith("<svg")
        table = csv(chart, us)
        assert ("(psi)" in table) is us
        assert "nan" not in table
        assert len(words(chart.sentence, "terminal", us)) > 60


@pytest.mark.parametrize("width", [470.0, 405.0])
@pytest.mark.parametrize("name", NAMES)
def test_no_word_of_the_pumps_chart_covers_another(name: str, width: float) -> None:
    chart = pump_against_system(supply(example(name)))
    assert chart is not None
    boxes = [word.box for word in lay_out(chart, width=width, height=300.0).words if not word.scale]
    for place, (left, bottom, right, top) in enumerate(boxes):
        assert left >= 0
        assert right <= width + 1
        for other in boxes[:place]:
            wide, tall = min(right, other[2]) - max(left, other[0]), min(top, other[3]) - max(bottom, other[1])
            assert wide <= 0 or tall <= 0.5, (left, bottom, other)


@pytest.mark.parametrize("name", [name for name in NAMES if scripts(example(name))])  # behind a pump with a switch
def test_a_minute_is_followed_on_demand_only(name: str) -> None:
    answer = supply(example(name))
    wanted = over_time(example(name), next(iter(scripts(example(name)))))
    for key, made in (("pressure-over-time", pressure_in_a_minute), ("flow-over-time", flow_in_a_minute)):
        chart, alone = made(answer), chart_of(answer, key)
        assert chart is not None
        assert alone is not None
        assert chart.key == alone.key == key
        assert key not in {one.key for one in charts_of(answer)}
    pressure = next(iter(lines(pressure_in_a_minute(answer)).values()))
    assert (pressure.y.min(), pressure.y.max()) == (wanted.lowest, wanted.highest)


def test_an_accumulator_that_the_switch_does_not_feel_has_no_minute() -> None:
    answer = supply(FAMILY.changed({"accumulators.accumulator.at": "shower mixer"}))
    assert pressure_in_a_minute(answer) is None
    assert flow_in_a_minute(answer) is None


def test_nothing_decided_draws_nothing() -> None:
    empty = supply(Plan.of({"van": {"name": "t"}, "household": {"people": 1}}))
    assert [make(empty) for make in (*MADE, *ON_DEMAND)] == [None] * 6


def test_without_a_pump_the_way_is_still_told() -> None:
    raw: dict[str, Any] = {
        "van": {"name": "t"},
        "household": {"people": 1},
        "tanks": {"can": {"holds": "fresh", "capacity": "20 L", "z": "1.2 m"}},
        "outlets": {"tap": {"flow": "4 L/min", "at": "0.1 bar", "z": "0.5 m"}},
        "runs": {"hose": {"from": "can", "to": "tap", "bore": "10 mm", "length": "1 m"}},
    }
    answer = supply(Plan.of(raw))
    assert pump_against_system(answer) is None
    chart = pressure_along_the_way(answer)
    assert chart is not None
    assert words(chart.title, "terminal").endswith("are left before the tap")


@settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(plans())
def test_every_plan_is_drawn(raw: dict[str, Any]) -> None:
    answer = supply(Plan.of(raw, file=True))
    for make in (*MADE, *ON_DEMAND):
        chart = make(answer)
        if chart is not None:
            assert drawing(chart, answer.plan.us).startswith("<svg")
            assert plain(words(chart.title, "terminal"), "terminal")
