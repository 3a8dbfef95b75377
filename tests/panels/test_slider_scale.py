from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.panels.slider_scale import Scale, even, scale, told_in
from vanwater.quantities import BORE, DURATION, LENGTH, VOLUME


@pytest.mark.parametrize(
    ("value", "low", "high", "ends"),
    [
        (75.0, 0.5, 1000.0, (15.0, 190.0)),  # from about a quarter to two and a half times
        (0.5, 0.0, 1000.0, (0.0, 1.25)),  # nothing at all is a choice where it is believable
        (10.0, 0.5, 35.0, (1.0, 35.0)),  # all that is believable where that is not far
        (0.0, -15.0, 15.0, (-15.0, 15.0)),
        (90.0, 0.0, 100.0, (0.0, 100.0)),
    ],
)
def test_ends_lie_around_the_value(value: float, low: float, high: float, ends: tuple[float, float]) -> None:
    found = scale(value, low, high)
    assert (found.low, found.high) == ends


@given(
    low=st.floats(-1e4, 1e4),
    width=st.floats(1e-2, 1e5),
    share=st.floats(0.0, 1.0),
)
def test_every_scale_holds_its_value_and_stays_believable(low: float, width: float, share: float) -> None:
    high = low + width
    value = min(low + share * width, high)
    found = scale(value, low, high)
    slack = 1e-9 * max(abs(low), abs(high))
    assert low - slack <= found.low <= value <= found.high <= high + slack
    assert found.low < found.high
    assert 20 <= (found.high - found.low) / found.step <= 600


@given(places=st.integers(0, 2), digits=st.integers(11, 99))
def test_a_round_value_lies_on_a_step(places: int, digits: int) -> None:
    value = digits / 10**places
    found = scale(value, 0.0, 1e5)
    assert math.isclose(round(value / found.step) * found.step, value, rel_tol=1e-9)


def test_a_value_beyond_the_ends_widens_them() -> None:
    assert Scale(0.0, 10.0, 1.0).holding(12.0) == Scale(0.0, 12.0, 1.0)
    assert Scale(0.0, 10.0, 1.0).holding(-2.0) == Scale(-2.0, 10.0, 1.0)
    assert Scale(0.0, 10.0, 1.0).holding(3.0) == Scale(0.0, 10.0, 1.0)


def test_short_times_are_told_in_seconds_and_small_lengths_as_bores() -> None:
    assert told_in(DURATION, 80.0).unit() == "s"
    assert told_in(DURATION, 1200.0).unit() == "min"
    assert told_in(LENGTH, 0.02).unit() == BORE.unit()
    assert told_in(LENGTH, 0.02).unit(us=True) == "in"
    assert told_in(LENGTH, 0.9).unit() == "m"
    assert told_in(VOLUME, 1e-4) is VOLUME


def test_a_number_told_otherwise_keeps_its_bounds_and_reads_back() -> None:
    own = DURATION.within("1 s", "60 min")
    found = told_in(own, 80.0)
    assert (found.low, found.high) == (own.low, own.high)
    assert own.read(found.written(80.0)) == pytest.approx(80.0, rel=1e-9)


def test_even_drops_what_only_arithmetic_put_there() -> None:
    assert even(0.1 + 0.2) == 0.3
    assert str(even(-0.0)) == "0.0"
