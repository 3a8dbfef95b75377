from __future__ import annotations

import math

import numpy as np
import pytest

from tests.examples import example_answers
from vanwater.answers.core.chart import Axis, Bars, Chart
from vanwater.figures.labels import lay_out
from vanwater.figures.sheet import Word, bar_rows, bar_values, ends_early, value_texts
from vanwater.quantities import DAY, STAY


def test_corners_of_the_plot_are_the_ends_of_the_axes(samples):
    sheet = lay_out(samples.pump())
    corners = sheet.points(np.array([sheet.x.low, sheet.x.high]), np.array([sheet.y.low, sheet.y.high]))
    assert corners.tolist() == [[sheet.left, sheet.bottom], [sheet.right, sheet.top]]


def test_si_becomes_display_units(samples):
    metric, us = lay_out(samples.pump()), lay_out(samples.pump(), us=True)
    assert metric.across(1e-3 / 60) == pytest.approx(1.0)
    assert metric.up(1e5) == pytest.approx(1.0)
    assert us.across(231 * 0.0254**3 / 60) == pytest.approx(1.0)
    assert us.up(1e5) == pytest.approx(14.5038, rel=1e-5)


def test_endless_bars_reach_the_edge_and_unknown_ones_have_no_length(samples):
    sheet = lay_out(samples.days())
    ends = sheet.within(np.array([DAY, math.inf, math.nan, -math.inf]))
    assert ends.tolist() == [1.0, sheet.x.high, 0.0, sheet.x.low]


def test_kinds_of_bars_share_a_row_side_by_side_or_stacked(samples):
    first, second = bar_rows(samples.two_plans())
    assert first[1] + first[2] / 2 == pytest.approx(second[1] - second[2] / 2)
    assert {offset for _, offset, _ in bar_rows(samples.uses())} == {0.0}
    assert [offset for _, offset, _ in bar_rows(samples.days())] == [0.0]


def test_values_stand_beyond_the_range(samples):
    sheet = lay_out(samples.days())
    fresh, grey, battery, heat = bar_values(sheet)
    assert (fresh.x, grey.x, battery.x, heat.x) == (5.5, 4.3, sheet.x.high, 0.0)
    assert all(value.after for value in (fresh, grey, battery, heat))
    assert list(bar_values(lay_out(samples.uses()))) == []


def test_values_in_words_follow_the_unit():
    bars = Bars("fresh", ("a",), np.array([2 * DAY]))
    sheet = lay_out(Chart("c", "t", Axis("Days", STAY), Axis("Store"), (bars,)))
    assert value_texts(sheet, bars) == ["2\N{NO-BREAK SPACE}days"]


def test_a_line_ends_early_well_left_of_the_edge(samples):
    sheet = lay_out(samples.stores())
    assert [ends_early(sheet, draw) for draw in samples.stores().draws[:4]] == [True] * 4
    sheet = lay_out(samples.pump())
    assert [ends_early(sheet, draw) for draw in samples.pump().draws[:4]] == [False, False, False, True]


def test_the_box_of_words_follows_their_side():
    left, _, right, _ = Word(("word",), 100.0, 50.0).box
    assert left == 100.0
    assert Word(("word",), 100.0, 50.0, "right").box[2] == 100.0
    middle = Word(("word",), 100.0, 50.0, "center").box
    assert (middle[0] + middle[2]) / 2 == pytest.approx(100.0)
    assert middle[2] - middle[0] == pytest.approx(right - left)
    assert Word(("a", "b"), 0.0, 50.0).box[3] > Word(("a",), 0.0, 50.0).box[3]


def test_a_bar_tells_its_number_as_every_table_does():
    """Some 498 Wh a day, told to two digits, are 500 on the bar too."""
    chart = example_answers("family-winter")["power"].chart("balance")
    assert chart is not None
    (bars,) = chart.draws
    texts = value_texts(lay_out(chart), bars)
    assert texts == [number.shown.text() for number in bars.numbers]
    assert "500\N{NO-BREAK SPACE}Wh/day" in texts
