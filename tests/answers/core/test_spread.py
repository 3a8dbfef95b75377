from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.answers.core.spread import UnsureRows, influences, pairs, spread
from vanwater.quantities import DAY, STAY

TWO = pairs([("outlet", "outlets.shower.constant"), ("pump", "pump.curve")])


def test_pairs_lay_out_rows_low_before_high():
    assert pairs([("a", "x"), ("b", "y")], first=3) == (UnsureRows("a", "x", 3, 4), UnsureRows("b", "y", 5, 6))
    assert [(one.low, one.high) for one in TWO] == [(1, 2), (3, 4)]


def test_sides_are_combined_by_root_sum_square():
    result = spread([10.0, 7.0, 13.0, 6.0, 14.0], TWO)
    assert (result.low, result.likely, result.high) == (10 - 5, 10, 10 + 5)


def test_an_input_that_moves_both_ends_the_same_way_widens_one_side_only():
    result = spread([10.0, 12.0, 13.0], TWO[:1])
    assert (result.low, result.high) == (10.0, 13.0)


def test_a_straight_law_gives_the_law_of_propagation():
    """JCGM 100:2008, 5.1.2, equation (10), for y = 2a − 3b + c with u = 0.1, 0.2, 0.5."""
    slopes, unsure = np.array([2.0, -3.0, 1.0]), np.array([0.1, 0.2, 0.5])
    rows = pairs([("a", ""), ("b", ""), ("c", "")])
    inputs = np.tile([1.0, 2.0, 3.0], (7, 1))
    for place, one in enumerate(rows):
        inputs[one.low, place] -= unsure[place]
        inputs[one.high, place] += unsure[place]
    result = spread(inputs @ slopes, rows)
    expected = math.sqrt(float(((slopes * unsure) ** 2).sum()))
    assert result.high - result.likely == pytest.approx(expected)
    assert result.likely - result.low == pytest.approx(expected)


def test_against_a_monte_carlo_run_of_a_mildly_bent_law():
    """Second method: one standard deviation of √(a)·b from 400 000 draws, seed 1."""
    draws = np.random.default_rng(1)
    a, b = draws.normal(4.0, 0.2, 400_000), draws.normal(3.0, 0.15, 400_000)
    sampled = np.sqrt(a) * b
    values = [math.sqrt(x) * y for x, y in [(4, 3), (3.8, 3), (4.2, 3), (4, 2.85), (4, 3.15)]]
    result = spread(values, TWO)
    assert float(result.high - result.low) / 2 == pytest.approx(float(sampled.std()), rel=5e-3)


def test_several_results_at_once_are_those_of_each_alone():
    values = np.array([[10.0, 1.0], [7.0, 1.5], [13.0, 0.5], [6.0, 1.0], [14.0, math.inf]])
    both = spread(values, TWO)
    for column in range(2):
        alone = spread(values[:, column], TWO)
        assert both.at(column).low == alone.low
        assert both.at(column).high == alone.high
    assert both.at(1).high == math.inf
    with pytest.raises(ValueError, match="single number"):
        both.range(STAY)


def test_a_range_is_ready_for_a_sentence():
    shown = spread(np.array([3.4, 2.6, 4.3]) * DAY, TWO[:1]).range(STAY)
    assert shown.text().replace("\N{NO-BREAK SPACE}", " ") == "3.4 days (2.6 to 4.3)"


def test_least_keeps_a_flow_from_running_backwards():
    assert spread([1.0, -3.0, 2.0], TWO[:1]).low == -3.0
    assert spread([1.0, -3.0, 2.0], TWO[:1], least=0.0).low == 0.0


def test_results_without_end_stay_without_end():
    some = spread([5.0, 3.0, math.inf], TWO[:1])
    assert (some.low, some.likely, some.high) == (3.0, 5.0, math.inf)
    endless = spread([math.inf, 12.0, math.inf], TWO[:1])
    assert (endless.low, endless.likely, endless.high) == (12.0, math.inf, math.inf)
    never = spread([math.inf, math.inf, math.inf], TWO[:1])
    assert (never.low, never.high) == (math.inf, math.inf)


def test_a_row_that_is_not_known_leaves_the_range_not_known():
    result = spread([5.0, math.nan, 6.0, 4.0, 6.0], TWO)
    beside_endless = spread([5.0, math.nan, 6.0, 4.0, math.inf], TWO)
    assert result.likely == 5.0
    assert np.isnan(beside_endless.high)
    assert np.isnan(result.low)
    assert np.isnan(result.high)


def test_no_unsure_input_gives_no_width():
    result = spread([5.0], ())
    assert (result.low, result.likely, result.high) == (5.0, 5.0, 5.0)


def test_a_row_outside_the_batch_is_refused():
    with pytest.raises(ValueError, match="rows"):
        spread([1.0, 2.0], TWO)
    with pytest.raises(ValueError, match="rows"):
        influences([1.0, 2.0], [UnsureRows("a", "", -1, 1)])


@given(st.lists(st.floats(-1e6, 1e6), min_size=5, max_size=5))
def test_the_range_holds_every_row(values):
    result = spread(values, TWO)
    slack = 1e-9 * max(map(abs, values), default=0.0)
    assert float(result.low) <= min(values) + slack
    assert float(result.high) >= max(values) - slack


@given(st.lists(st.floats(-1e6, 1e6), min_size=5, max_size=5), st.floats(0.1, 10), st.floats(-100, 100))
def test_the_range_follows_a_change_of_unit(values, factor, offset):
    first, second = spread(values, TWO), spread(np.array(values) * factor + offset, TWO)
    for end in ("low", "likely", "high"):
        expected = float(getattr(first, end)) * factor + offset
        assert float(getattr(second, end)) == pytest.approx(expected, rel=1e-6, abs=1e-6 * factor + 1e-4)


# --- influences --------------------------------------------------------------------------------------


def test_the_result_hangs_most_on_the_input_with_the_widest_swing():
    first, second = influences([10.0, 9.0, 11.5, 6.0, 12.0], TWO)
    assert (first.name, first.address, first.low, first.high, first.swing) == ("pump", "pump.curve", 6.0, 12.0, 4.0)
    assert second.swing == 1.5
    assert first.share == pytest.approx(16 / 18.25)
    assert first.share + second.share == pytest.approx(1.0)


def test_influences_without_end_come_first_and_unknown_ones_last():
    rows = pairs([("known", ""), ("unknown", ""), ("endless", "")])
    found = influences([5.0, 4.0, 6.0, math.nan, 5.0, 5.0, math.inf], rows)
    assert [one.name for one in found] == ["endless", "known", "unknown"]
    assert [one.share for one in found] == [1.0, 0.0, 0.0]
    assert math.isnan(found[-1].swing)


def test_between_two_results_without_end_nothing_moves():
    (only,) = influences([math.inf, math.inf, math.inf], TWO[:1])
    assert (only.swing, only.share) == (0.0, 0.0)


def test_influences_want_one_result_a_row():
    with pytest.raises(ValueError, match="one result"):
        influences(np.zeros((5, 2)), TWO)
