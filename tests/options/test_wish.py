"""Wishes, typed and the plan's own."""

from __future__ import annotations

import math

import pytest

from tests.examples import example
from vanwater.options.wish import default_wish, wish_of
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")


@pytest.mark.parametrize(
    ("text", "key", "limit"),
    [
        ("stay.days >= 3 days", "stay.days", 3 * 86400.0),
        ('outlet."galley tap".flow>=4 L/min', 'outlet."galley tap".flow', 4e-3 / 60),
        ("tank.fresh.lowest_cold.parked <= -15 °C", "tank.fresh.lowest_cold.parked", 258.15),
    ],
)
def test_a_wish_is_read(text: str, key: str, limit: float) -> None:
    wish = wish_of(FAMILY, text)
    assert (wish.key, wish.limit.likely) == (key, pytest.approx(limit))
    sign = 1.0 if ">=" in text else -1.0
    assert wish.met(limit + sign * 1e-6 * abs(limit)) and wish.met(wish.limit.likely)
    assert not wish.met(limit - sign * 1e-6 * abs(limit)) and not wish.met(math.nan)
    assert wish.told.text().startswith("at least" if ">=" in text else "at most")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("stay.days", '"stay.days" is no wish. Expected a number with a bound'),
        ("stay.days >= 3 L", '"L" is not a unit of stay.'),
        ("stay.days >= 3", "has no unit."),
        ("stay.days >= long", "does not start with a number"),
        ("household.days_wanted >= 3 days", "a limit, a wish or a gain"),
    ],
)
def test_a_wish_that_cannot_be_is_refused(text: str, words: str) -> None:
    with pytest.raises(PlanError) as caught:
        wish_of(FAMILY, text)
    assert words in str(caught.value)


def test_a_wish_of_no_number_leads_to_the_nearest() -> None:
    with pytest.raises(KeyError, match=r'Did you mean \\?"stay\.days'):
        wish_of(FAMILY, "stay.dais >= 3 days")


@pytest.mark.parametrize(
    ("address", "key", "bound", "limit"),
    [
        ("tanks.grey", "tank.grey.days", "at least", "3 days"),
        ("battery", "battery.days", "at least", "3 days"),
        ("pumps.pump", "outlet.shower.flow", "at least", "5.5 L/min"),
        ("runs.trunk", "outlet.shower.flow", "at least", "5.5 L/min"),
        ("heaters.heater", "heater.heater.day.short", "at most", "0 L"),
        ("accumulators.accumulator", "pump.pump.starts", "at most", "240 an hour"),
        ("pads.fresh pad", "tank.fresh.lowest_cold.parked", "at most", "−12 °C"),
        ("tanks.fresh.foam", "tank.fresh.lowest_cold.parked", "at most", "−12 °C"),
    ],
)
def test_the_plan_s_own_wish_of_a_part(address: str, key: str, bound: str, limit: str) -> None:
    wish = default_wish(FAMILY, address)
    assert (wish.key, wish.bound) == (key, bound)
    assert wish.limit.text().replace("\N{NO-BREAK SPACE}", " ") == limit


@pytest.mark.parametrize("address", ["runs.basin line", "runs.suction.foam"])
def test_a_part_of_which_nothing_is_wished_says_so(address: str) -> None:
    with pytest.raises(PlanError, match="The plan says no wish that this part could meet"):
        default_wish(FAMILY, address)
