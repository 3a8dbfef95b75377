"""Numbers by their keys."""

from __future__ import annotations

import pytest

from tests.examples import example, example_answers
from vanwater.options.known import home_of, unknown_number

FAMILY = example("family-winter")


def test_a_number_is_found_where_its_range_is_known() -> None:
    for key in (
        "stay.days",
        "outlet.shower.flow",
        "van.payload",
        "battery.days_without_charge",
        "household.days_wanted",
    ):
        question, number = home_of(FAMILY, key)
        told = example_answers("family-winter")
        assert number.likely == told.numbers[key].likely and number.range == told.numbers[key].range
        assert key in told[question].numbers


def test_a_key_that_is_none_leads_to_the_nearest() -> None:
    with pytest.raises(KeyError, match=r'Did you mean \\?"stay\.days'):
        home_of(FAMILY, "stay.dais")
    assert unknown_number("zzz.q", ["stay.days"]) == 'There is no number "zzz.q".'
