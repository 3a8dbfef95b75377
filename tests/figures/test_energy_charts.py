from __future__ import annotations

import numpy as np
import pytest

from tests.answered import hot_water, pump_starts
from tests.examples import example
from vanwater.answers.core.chart import Bars, Line, Mark
from vanwater.answers.hot_water.charts import litres_of_a_charge
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


def test_charge_is_drawn_beside_what_a_shower_takes() -> None:
    answer = hot_water(FAMILY)
    chart = litres_of_a_charge(answer)
    assert chart is not None
    (bars,) = [draw for draw in chart.draws if isinstance(draw, Bars)]
    ends = [answer.numbers[f"heater.heater.charge.{end}"].likely for end in ("mixed", "plug")]
    assert bars.values.tolist() == pytest.approx([6.5e-3 / 60 * 80, *ends])


def test_nothing_decided_draws_nothing() -> None:
    weekend = example("weekend-cans")
    assert litres_of_a_charge(hot_water(weekend)) is None
    assert starts_against_draw(pump_starts(weekend.changed({"pumps.pump.cut_in": None}))) is None
