"""How amounts and ranges are told: as finely as the range is wide, and each kind of end that is none."""

from __future__ import annotations

import math

import numpy as np
import pytest

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Working
from vanwater.quantities import DAY, MASS, NO_BREAK, STAY, TEMPERATURE, THOUSANDS, VOLUME

NAN, INF, LITRE = math.nan, math.inf, 1e-3


def plain(text: str) -> str:
    return text.replace(NO_BREAK, " ").replace(THOUSANDS, " ")


@pytest.mark.parametrize(
    ("litres", "digits", "text"),
    [
        ((20, 30, 40), 2, "30 L (20 to 40)"),
        ((28.4, 30, 31.84), 3, "30.0 L (28.4 to 31.8)"),  # 3.44 wide: two digits of the width
        ((28.3, 30, 31.84), 3, "30 L (28 to 32)"),  # 3.54 wide: one
        ((28.4, 30, 31.84), 2, "30 L (28 to 32)"),  # but never more digits than are asked for
        ((30, 30, 30), 2, "30 L"),
        ((3, 5, 5.000001), 2, "5 L (3 to 5)"),
        ((0.001, 0.2, 0.5), 2, "0.2 L (0.0 to 0.5)"),
        ((900, 1234, 2345), 4, "1 200 L (900 to 2 300)"),
        ((-1, 3, 7), 2, "3 L (−1 to 7)"),
        ((0, 0, 5), 2, "0 L (0 to 5)"),
        ((NAN, 3, 7), 2, "3 L (range not known)"),
        ((2, 3, NAN), 2, "3 L (range not known)"),
        ((2, 3, INF), 2, "3 L (2 to unlimited)"),
        ((2, INF, INF), 2, "unlimited (from 2 L)"),
        ((INF, INF, INF), 2, "unlimited"),
        ((NAN, NAN, NAN), 2, "not known"),
    ],
)
def test_a_range_is_told_as_finely_as_it_is_wide(litres: tuple[float, float, float], digits: int, text: str) -> None:
    low, likely, high = (each * LITRE for each in litres)
    assert plain(Range(low, likely, high, VOLUME, digits).text()) == text


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [(-1, 5, "2 L (up to 5; no lack)"), (0, 5, "2 L (up to 5; no lack)"), (1, 5, "2 L (1 to 5)")],
)
def test_a_range_from_none_on_says_what_none_means(low: float, high: float, text: str) -> None:
    assert plain(Range(low * LITRE, 2 * LITRE, high * LITRE, VOLUME, 2, none="no lack").text()) == text


def test_what_is_rounded_is_rounded_once() -> None:
    assert plain(Amount(1614.71, MASS).text()) == "1 610 kg"  # by whole kilograms first it would be 1 620
    assert plain(Range(1554.6, 1614.6, 1674.6, MASS, 4).text()) == "1 610 kg (1 550 to 1 670)"
    assert plain(Amount(12.46 * DAY, STAY, 4).text()) == "12 days"  # a step that is coarser still counts


def test_a_low_end_that_is_something_is_not_told_as_nothing_beside_an_end_that_is_unlimited() -> None:
    assert plain(Range(4.49 * DAY, 145.6 * DAY, INF, STAY).text()) == "150 days (4 to unlimited)"
    assert plain(Range(0.0, 145.6 * DAY, INF, STAY).text()) == "150 days (0 to unlimited)"


def test_one_day_is_no_days_and_colder_than_is_told_is_below_it() -> None:
    assert plain(Range(0.96 * DAY, DAY, 1.04 * DAY, STAY, 2).text()) == "1 day"
    assert plain(Range(0.5 * DAY, DAY, 2.0 * DAY, STAY, 2).text()) == "1.0 days (0.5 to 2.0)"
    least, likely, cold = TEMPERATURE.lowest_told, 253.15, 200.0
    assert plain(Range(cold, likely, 263.15, TEMPERATURE, 2).text()) == "−20 °C (below −60 to −10)"
    assert plain(Range(least, likely, 263.15, TEMPERATURE, 2).text()) == "−20 °C (−60 to −10)"
    assert plain(Range(cold, cold, 263.15, TEMPERATURE, 2).text()) == "below −60 °C (to −10)"
    assert plain(Range(cold, cold, least, TEMPERATURE, 2).text()) == "below −60 °C (to −60)"
    assert plain(Range(cold, cold, cold, TEMPERATURE, 2).text()) == "below −60 °C"
    assert (
        plain(Amount(least, TEMPERATURE).text()) == "−60 °C"
        and plain(Amount(cold, TEMPERATURE).text()) == "below −60 °C"
    )


def test_a_view_is_its_value_whatever_number_it_leads_to() -> None:
    number = Number("full of water", MASS, np.array([3.0]), Working("By weighing."))
    assert Amount(3.0, MASS, 3, number) == Amount(3.0, MASS)
    assert Range(2.0, 3.0, 4.0, MASS, 3, number) == Range(2.0, 3.0, 4.0, MASS)
    assert Amount(3.0, MASS) != Amount(3.0, MASS, 2)
    for view in (Amount(3.0, MASS, 3, number), Range(2.0, 3.0, 4.0, MASS, 3, number)):
        assert "full of water" not in repr(view) and "number" not in repr(view)
    assert Range(2.0, 3.0, 4.0, MASS, 3, number).amount.number is number
