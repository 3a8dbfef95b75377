from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.answers.core.chart import Bars, Line
from vanwater.options.sweep import sweep

PLAN = example("family-winter")


def test_a_curve_over_the_values_one_for_each_of_the_second_address() -> None:
    swept = sweep(PLAN, {"tanks.grey.length": ["1.1 m", "0.9 m"], "household.people": [2, 3]}, "stay")
    chart = swept.chart("tank.grey.days")
    lines = [draw for draw in chart.draws if isinstance(draw, Line)]
    assert [line.label for line in lines] == ["2", "3"]
    assert lines[0].x.tolist() == pytest.approx([0.9, 1.1])  # from the least to the most, whatever the order
    assert lines[0].y.tolist() == swept["tank.grey.days"][::-1, 0].tolist()
    assert chart.x.text() == "tanks.grey.length (m)" and chart.y.text(us=True) == "tank.grey.days (days)"


def test_bars_over_counts_and_whole_parts() -> None:
    people = sweep(PLAN, {"household.people": [2, 3]}, "stay")
    (bars,) = people.chart("stay.days").draws
    assert isinstance(bars, Bars) and bars.names == ("2", "3")
    assert bars.values.tolist() == people["stay.days"].tolist()
    loads = sweep(PLAN, {"loads.luggage": [None, {"mass": "40 kg", "x": "2 m"}]}, "weight")
    (bars,) = loads.chart("van.mass.leaving").draws
    assert isinstance(bars, Bars) and bars.names == ("none", "mass 40 kg, x 2 m")


def test_a_row_that_fails_leaves_a_gap() -> None:
    swept = sweep(PLAN, {"tanks.fresh.pickup": ["10 mm", "20 mm", "30 m"]}, "stay")
    (line,) = swept.chart("tank.fresh.days").draws
    assert isinstance(line, Line) and np.isnan(line.y[2]) and np.isfinite(line.y[:2]).all()


def test_what_no_chart_can_show_is_refused() -> None:
    swept = sweep(
        PLAN, {"household.people": [1, 2], "tanks.grey.length": [f"{x / 10} m" for x in range(8, 14)]}, "stay"
    )
    with pytest.raises(ValueError, match="at most 5 values of the second"):
        swept.chart("stay.days")
    with pytest.raises(KeyError, match=r"stay\.days"):
        swept.chart("stay.dais")
