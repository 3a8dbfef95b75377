from __future__ import annotations

import numpy as np
import pytest

from tests.answered import hot_water, pump_starts
from tests.examples import example
from vanwater.answers.core.chart import Line, Mark, Rule
from vanwater.answers.hot_water.charts import day_of_hot_water, litres_of_a_charge
from vanwater.answers.pump_starts.charts import starts_against_draw

FAMILY = example("family-winter")


def test_starts_rise_to_the_mark_and_end_at_none() -> None:
    answer = pump_starts(FAMILY)
    chart = starts_against_draw(answer)
    assert chart is not None
    (line,) = [draw for draw in chart.draws if isinstance(draw, Line)]
    (mark,) = [draw for draw in chart.draws if isinstance(draw, Mark)]
    assert line.y.max() <= mark.y * (1 + 1e-9)
    assert line.x[np.argmax(line.y)] == pytest.approx(mark.x, rel=0.05)
    assert line.y[-1] == 0


def test_a_pump_that_only_chatters_has_no_curve_of_starts() -> None:
    assert starts_against_draw(pump_starts(FAMILY)) is not None
    assert starts_against_draw(pump_starts(FAMILY.changed({"accumulators": None}))) is None


def test_the_tap_stays_warm_for_the_litres_of_a_charge() -> None:
    answer = hot_water(FAMILY)
    chart = litres_of_a_charge(answer)
    assert chart is not None
    mixed, plug, likely = [draw for draw in chart.draws if isinstance(draw, Line)]
    (one,) = [draw for draw in chart.draws if isinstance(draw, Rule)]
    assert one.x == pytest.approx(6.5e-3 / 60 * 80)
    warm = 273.15 + 38
    step = np.diff(plug.x)[0]
    for line, end in ((mixed, "mixed"), (plug, "plug"), (likely, "likely")):
        litres = answer.numbers[f"heater.heater.charge.{end}"].likely
        assert np.all(line.y <= warm + 1e-9) and np.all(np.diff(line.y) <= 1e-9)
        assert line.x[line.y > warm - 2.0].max() == pytest.approx(litres, abs=2 * step)


def test_a_day_of_hot_water_is_drawn_with_its_draws() -> None:
    answer = hot_water(FAMILY)
    chart = day_of_hot_water(answer)
    assert chart is not None
    (line,) = [draw for draw in chart.draws if isinstance(draw, Line)]
    marks = [draw for draw in chart.draws if isinstance(draw, Mark)]
    assert line.x[-1] == 86400.0
    assert line.y.max() <= 273.15 + 60 + 1e-9
    assert {round(mark.y - 273.15) for mark in marks} == {38, 45}
    assert all(7 * 3600 <= mark.x < 8.5 * 3600 or 19 * 3600 <= mark.x < 20.5 * 3600 for mark in marks)


def test_nothing_decided_draws_nothing() -> None:
    weekend = example("weekend-cans")
    assert litres_of_a_charge(hot_water(weekend)) is None
    assert day_of_hot_water(hot_water(weekend)) is None
    assert starts_against_draw(pump_starts(weekend.changed({"pumps.pump.cut_in": None}))) is None
