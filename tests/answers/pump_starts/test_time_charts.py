from __future__ import annotations

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.chart import Line, Rule
from vanwater.answers.core.statement import Say
from vanwater.answers.pump_starts.over_time import minutes
from vanwater.answers.pump_starts.question import QUESTION
from vanwater.answers.pump_starts.time_charts import flow_in, pressure_in

FAMILY = example("family-winter")
CHATTERS = FAMILY.changed({"accumulators": None, "outlets.shower.flow": 1.2e-3 / 60}, si=True)


def lines(chart: object) -> list[Line]:
    return [draw for draw in chart.draws if isinstance(draw, Line)]  # type: ignore[attr-defined]


@pytest.mark.parametrize("name", NAMES)
def test_both_charts_share_the_minute(name: str) -> None:
    plan = example(name)
    for minute in minutes(plan).values():
        pressure, flow = pressure_in(minute), flow_in(minute)
        assert pressure.x == flow.x
        assert pressure.x.high == 60.0
        for line in (*lines(pressure), *lines(flow)):
            assert 0.0 <= line.x[0] < 0.5 and line.x[-1] == pytest.approx(60.0, abs=0.5)


def test_pressure_is_drawn_with_the_switch_and_says_what_is_seen() -> None:
    minute = minutes(FAMILY)["evening"]
    chart = pressure_in(minute)
    (line,) = lines(chart)
    assert line.y.min() == minute.lowest.likely and line.y.max() == minute.highest.likely
    assert [draw.y for draw in chart.draws if isinstance(draw, Rule)] == pytest.approx([1.4e5, 2.6e5])
    said = "The pump starts 1\xa0time in a minute; the pressure runs from 1.0\xa0bar to 2.59\xa0bar"
    assert isinstance(chart.title, Say) and chart.title.text() == said


def test_outlets_are_drawn_while_they_are_open_and_the_pump_throughout() -> None:
    minute = minutes(FAMILY)["evening"]
    pump, shower, galley = lines(flow_in(minute))
    assert np.isfinite(pump.y).all()
    assert (
        np.isnan(shower.y[shower.x < 2.0]).all() and np.isfinite(shower.y[(shower.x > 2.1) & (shower.x < 49.9)]).all()
    )
    assert (
        np.isnan(galley.y[galley.x < 10.0]).all() and np.isfinite(galley.y[(galley.x > 10.1) & (galley.x < 41.9)]).all()
    )
    assert np.nanmax(shower.y) == pytest.approx(minute.flows["shower"][1].likely)


def test_chatter_is_drawn_as_a_band_around_its_mean() -> None:
    minute = minutes(CHATTERS)["shower"]
    (line,) = lines(pressure_in(minute))
    assert line.x.size == 120 < minute.planned.time.size
    assert line.low is not None and line.high is not None
    assert np.all((line.low <= line.y + 1e-3) & (line.y <= line.high + 1e-3))
    assert line.low.min() == pytest.approx(1.4e5) and line.high.max() == pytest.approx(2.6e5)
    pump, shower = lines(flow_in(minute))
    assert np.isnan(shower.y[shower.x > 51]).all()
    assert np.trapezoid(pump.y, pump.x) == pytest.approx(minute.planned.pumped, rel=0.02)


def test_the_first_set_is_drawn_on_demand_only() -> None:
    answer = QUESTION.ask(FAMILY)
    first, bare = (
        minutes(FAMILY)["evening"],
        QUESTION.ask(FAMILY.changed({"accumulators.accumulator.at": "shower mixer"})),
    )
    for key, wanted in (("pressure-over-time", pressure_in(first)), ("flow-over-time", flow_in(first))):
        chart = answer.chart(key)
        assert chart is not None and (chart.key, chart.title) == (key, wanted.title)
        assert key not in {drawn.key for drawn in answer.charts}
        assert bare.chart(key) is None  # an accumulator that the switch does not feel


def test_a_pump_that_chatters_is_not_counted() -> None:
    plan = example("long-stay-dry-toilet").changed(
        {"pumps.pump.line_gives": "1 mL/bar", "outlets.shower.type": None, "outlets.shower.flow": "1.2 L/min"}
        | {"outlets.shower.at": "1 bar"}
    )
    minute = minutes(plan)["shower"]
    assert minute.planned.starts.size > 60
    assert pressure_in(minute).title.text().startswith("The pump chatters; the pressure runs from")
    assert minute.starts not in list(minute)
