from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from vanwater.answers.core.chart import Axis, Chart, Line, Rule
from vanwater.figures.layout import Span, apart, beside, round_step, span, wrapped
from vanwater.quantities import DAY, PRESSURE, STAY, TEMPERATURE

NBSP = "\N{NO-BREAK SPACE}"


# --- ticks -------------------------------------------------------------------------------------------


@given(st.floats(1e-9, 1e9), st.integers(2, 8))
def test_steps_are_round_few_and_not_fewer_than_needed(width, most):
    step = round_step(width, most)
    digits = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert any(math.isclose(digits, round_one) for round_one in (1, 2, 2.5, 5))
    assert width / step <= most * (1 + 1e-6)
    assert width / step > most / 2.6


@pytest.mark.parametrize(
    ("shown", "ticks", "texts"),
    [
        (Span(0, 6, 2), [0, 2, 4, 6], ["0", "2", "4", "6"]),
        (Span(-20, 20, 10), [-20, -10, 0, 10, 20], ["−20", "−10", "0", "10", "20"]),
        (Span(0, 0.3, 0.1), [0, 0.1, 0.2, 0.3], ["0.0", "0.1", "0.2", "0.3"]),
        (Span(0, 5, 2.5), [0, 2.5, 5], ["0.0", "2.5", "5.0"]),
        (Span(0, 2000, 1000), [0, 1000, 2000], ["0", "1\u202f000", "2\u202f000"]),
        (Span(0.9, 2.1, 1), [1, 2], ["1", "2"]),
    ],
)
def test_ticks_and_their_texts(shown, ticks, texts):
    assert shown.ticks == ticks
    assert shown.tick_texts == texts


# --- what is in sight --------------------------------------------------------------------------------


def chart_of(y: list[float], axis: Axis | None = None, *more: object) -> Chart:
    line = Line("fresh", np.linspace(0, 3, len(y)) * DAY, np.array(y))
    return Chart("c", "t", Axis("Time", STAY), axis or Axis("Pressure", PRESSURE), (line, *more))


def test_zero_limits_and_bands_are_in_sight():
    chart = chart_of([1.2e5, 1.6e5], None, Rule("limit", y=2.4e5))
    shown = span(chart, chart.y, us=False, snug=False)
    assert shown.low == 0
    assert shown.high >= 2.4
    band = Line("fresh", np.array([0.0, 1.0]), np.array([1e5, 1e5]), "", np.array([-1e5, 0]), np.array([1e5, 9e5]))
    chart = Chart("c", "t", Axis("Time", STAY), Axis("Pressure", PRESSURE), (band,))
    shown = span(chart, chart.y, us=False, snug=False)
    assert shown.low <= -1
    assert shown.high >= 9


def test_temperatures_start_where_they_are_and_follow_the_unit():
    chart = chart_of([278.15, 283.15], Axis("Cold", TEMPERATURE))
    assert span(chart, chart.y, us=False, snug=True) == Span(5.0, 10.0, 1.0)
    us = span(chart, chart.y, us=True, snug=True)
    assert (us.low, us.high) == pytest.approx((41, 50))


def test_the_ends_of_an_axis_can_be_asked_for():
    chart = chart_of([1e5, 2e5], Axis("Pressure", PRESSURE, low=-1e5, high=4e5))
    shown = span(chart, chart.y, us=False, snug=True)
    assert (shown.low, shown.high) == (-1, 4)


@given(st.lists(st.floats(-2e6, 2e6), min_size=2, max_size=6), st.booleans(), st.booleans())
def test_everything_is_in_sight_and_there_is_room(values, us, snug):
    chart = chart_of(values)
    shown = span(chart, chart.y, us, snug)
    numbers = PRESSURE.show(np.array(values), us)
    slack = 1e-9 * max(abs(shown.low), abs(shown.high))
    assert shown.low <= min(numbers.min(), 0) + slack
    assert shown.high >= max(numbers.max(), 0) - slack
    assert shown.low < shown.high
    assert 2 <= len(shown.ticks) <= 8


def test_a_firm_axis_ends_where_it_is_told_to():
    chart = chart_of([1e5, 9e5], Axis("Pressure", PRESSURE, low=0.0, high=4e5, firm=True))
    shown = span(chart, chart.y, us=False, snug=True)
    assert (shown.low, shown.high) == (0, 4)
    with pytest.raises(ValueError, match="two ends"):
        Axis("Pressure", PRESSURE, high=4e5, firm=True)


@pytest.mark.parametrize("value", [0.0, 1e5, -1e5, 3e-300])
def test_a_level_line_has_room_too(value):
    chart = chart_of([value, value])
    shown = span(chart, chart.y, us=False, snug=False)
    assert shown.low < shown.high
    assert len(shown.ticks) >= 2


# --- labels ------------------------------------------------------------------------------------------

heights = st.floats(5, 30)


@given(st.lists(st.tuples(st.floats(-50, 350), heights), min_size=1, max_size=9))
def test_labels_do_not_cover_each_other_and_keep_their_order(labels):
    wanted, rooms = zip(*labels, strict=True)
    middles = apart(wanted, rooms, 0.0, 300.0)
    boxes = sorted((middle - room / 2, middle + room / 2) for middle, room in zip(middles, rooms, strict=True))
    assert all(below[1] <= above[0] + 1e-6 for below, above in pairwise(boxes))
    assert boxes[0][0] >= -1e-6
    if sum(rooms) <= 300:
        assert boxes[-1][1] <= 300 + 1e-6
    order = sorted(range(len(wanted)), key=lambda place: (wanted[place], place))
    assert [middles[place] for place in order] == sorted(middles)


@given(st.lists(st.floats(20, 280), min_size=1, max_size=6, unique=True))
def test_labels_with_room_stay_where_they_want_to_be(wanted):
    gap = min((b - a for a, b in pairwise(sorted(wanted))), default=20.0)
    assert apart(wanted, [min(0.9 * gap, 40.0)] * len(wanted), 0.0, 300.0) == pytest.approx(wanted)


def test_two_labels_at_one_place_share_the_move():
    assert apart([100, 100], [10, 10], 0, 300) == [95, 105]
    assert apart([1, 1], [10, 10], 0, 300) == [5, 15]
    assert apart([299, 299], [10, 10], 0, 300) == [285, 295]


@settings(deadline=None)
@given(st.lists(st.floats(-20, 320), min_size=2, max_size=5))
def test_no_other_arrangement_moves_labels_less(wanted):
    """Second method: the least sum of squared moves under the same order, by scipy."""
    room = 12.0
    middles = apart(wanted, [room] * len(wanted), 0.0, 300.0)
    order = np.argsort(wanted, kind="stable")
    target = np.array(wanted)[order]
    rules = [{"type": "ineq", "fun": lambda x, i=i: x[i + 1] - x[i] - room} for i in range(len(wanted) - 1)]
    sight = [(room / 2, 300 - room / 2)] * len(wanted)
    start = (np.arange(len(wanted)) + 0.5) * room
    best = minimize(lambda x: ((x - target) ** 2).sum(), start, bounds=sight, constraints=rules, method="SLSQP")
    mine = float(((np.array(middles)[order] - target) ** 2).sum())
    assert mine <= best.fun + 1e-4 * max(1.0, best.fun), best


def test_lines_break_between_words_and_never_between_number_and_unit():
    assert wrapped(f"the tank holds 75{NBSP}L of water", 16) == ["the tank holds", f"75{NBSP}L of water"]
    assert wrapped("", 10) == [""]


def test_a_text_that_is_too_long_is_cut_where_it_shows():
    lines = wrapped("a name that nobody could ever want to read in full", 12, 2)
    assert lines == ["a name that", "nobody …"]


def test_a_label_keeps_off_curves_other_labels_and_the_edge():
    bounds = (0.0, 0.0, 200.0, 100.0)
    nothing = np.zeros((0, 2))
    assert beside((100, 50), (40, 10), nothing, [], bounds) == (106, 53)
    curve = np.stack([np.linspace(100, 160, 60), np.linspace(50, 70, 60)], axis=1)
    left, bottom = beside((100, 50), (40, 10), curve, [], bounds)
    inside = (curve[:, 0] > left) & (curve[:, 0] < left + 40) & (curve[:, 1] > bottom) & (curve[:, 1] < bottom + 10)
    assert not inside.any()
    taken = (106.0, 53.0, 146.0, 63.0)
    left, bottom = beside((100, 50), (40, 10), nothing, [taken], bounds)
    assert left >= taken[2] or left + 40 <= taken[0] or bottom >= taken[3] or bottom + 10 <= taken[1]
    left, bottom = beside((195, 95), (40, 10), nothing, [], bounds)
    assert left + 40 <= 200
    assert bottom + 10 <= 100
