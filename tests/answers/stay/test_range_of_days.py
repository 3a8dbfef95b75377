"""The range of days: by what goes a day, never beyond all inputs at their worst together, balanced where it may be."""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.spread import pairs, reciprocal
from vanwater.answers.core.unsure import CHARGING, LOADS
from vanwater.answers.stay.answer import Stay, stay
from vanwater.answers.stay.stores import StoreDays
from vanwater.plan.model import Plan

DAY = 86400.0


def van(loads: float, charging: float, **more: Any) -> Plan:
    """A battery of 1000 Wh and nothing else that ends the stay."""
    battery = {
        "volts": "10 V",
        "charge": "100 Ah",
        "usable": "100 %",
        "other_loads": f"{loads} Wh/day",
        "charging": f"{charging} Wh/day",
    }
    uses = {"nothing": {"a_day": "0 a day", "volume": "1 L"}}
    plan = {"van": {"name": "t"}, "household": {"people": 2}, "uses": uses, "battery": battery}
    return Plan.of(plan | more)


def battery_of(answer: Stay) -> StoreDays:
    return next(store for store in answer.stores if store.holds == "battery")


def told(answer: Stay, key: str) -> Finding | None:
    return next((finding for finding in answer.findings if finding.key == key), None)


def test_by_hand() -> None:
    # 500 Wh a day go, 200 come: 300 net. Loads 25 % up: 125; charging 40 % down, 30 % up: 80 and 60
    days = battery_of(stay(van(500, 200))).days
    assert days.likely / DAY == pytest.approx(1000 / 300)
    assert days.range is not None
    assert days.range[0] / DAY == pytest.approx(1000 / (300 + math.hypot(125, 80)))
    assert days.range[1] / DAY == pytest.approx(1000 / (300 - math.hypot(125, 60)))
    assert not days.balanced


@settings(max_examples=60, deadline=None)
@given(loads=st.floats(50, 5000), share=st.floats(0.0, 1.2))
def test_never_beyond_all_inputs_at_their_worst_together(loads: float, share: float) -> None:
    charging = share * loads
    days = battery_of(stay(van(loads, charging))).days
    net = [
        more * loads - less * charging
        for more, less in itertools.product((LOADS.low, LOADS.high), (CHARGING.low, CHARGING.high))
    ]
    worst, best = max(net), min(net)
    low, high = days.range or (days.likely, days.likely)
    assert low <= days.likely <= high
    assert low / DAY >= 1000 / worst * (1 - 1e-9)  # by root-sum-square of the quotient it falls to nothing
    assert high / DAY <= (1000 / best * (1 + 1e-9) if best > 0 else math.inf)


@settings(max_examples=80, deadline=None)
@given(
    rates=st.lists(st.floats(-2, 2, allow_subnormal=False), min_size=5, max_size=5),
)
def test_a_time_and_its_rate_say_the_same(rates: list[float]) -> None:
    assume(all(abs(rate) > 1e-6 for rate in rates))
    ends = reciprocal(np.array(rates), pairs([("a", "a"), ("b", "b")]))
    moves = np.array(rates[1:]).reshape(2, 2) - rates[0]
    most = rates[0] + np.hypot(*np.maximum(moves.max(axis=1), 0.0))
    least = rates[0] + -np.hypot(*np.minimum(moves.min(axis=1), 0.0))
    assert float(ends.low) == pytest.approx(1 / most if most > 0 else math.inf)
    assert float(ends.high) == pytest.approx(1 / least if least > 0 else math.inf, rel=1e-6)
    assert ends.low <= ends.likely <= ends.high


def test_near_balance_it_is_told_as_balanced_beside_the_days_without_charge() -> None:
    # 400 Wh go, 380 come: 20 net, 50 days, but it may as well be a gain; without any charge 1000/400 are 2.5 days
    answer = stay(van(400, 380))
    battery = battery_of(answer)
    assert battery.days.balanced and battery.days.range is not None and battery.days.range[1] == math.inf
    assert battery.uncharged is not None and battery.uncharged.likely / DAY == pytest.approx(2.5)
    assert answer.verdict.text() == (
        "The battery is about balanced on a mean day; without any charge it lasts "
        "2.5\N{NO-BREAK SPACE}days (2.0 to 3.3)."
    )
    (row,) = answer.tables[0].rows
    assert row[-1].text() == "balanced on a mean day"  # type: ignore[union-attr]
    finding = told(answer, "stay.balance")
    assert finding is not None and finding.verdict is Verdict.FINE


def test_a_gain_that_may_as_well_be_a_loss_is_balanced_too() -> None:
    answer = stay(van(380, 400))
    assert battery_of(answer).days.likely == math.inf and battery_of(answer).days.balanced
    assert answer.verdict.text().startswith("The battery is about balanced on a mean day; without any charge it lasts")
    washed = van(380, 400, uses={"wash": {"a_day": "1 a day", "volume": "5 L"}})
    wish = told(stay(washed.changed({"household.days_wanted": "9 days"})), "stay.days")
    assert wish is not None and wish.advice is None  # half the water makes nothing longer than unlimited
    far = stay(van(100, 900))
    assert not battery_of(far).days.balanced and told(far, "stay.balance") is None
    assert far.verdict.text() == "Nothing in the plan ends the stay."


def test_a_balanced_battery_that_ends_a_stay_is_told_with_its_days_without_charge() -> None:
    uses = {"wash": {"a_day": "1 a day", "volume": "5 L"}}
    tanks = {"fresh": {"holds": "fresh", "capacity": "900 L"}}  # 85.5 days
    answer = stay(van(400, 380, uses=uses, tanks=tanks))
    assert answer.stores[0].holds == "battery" and answer.days.range is not None
    assert math.isfinite(answer.days.range[1]) and not answer.days.balanced  # the water ends it at last
    words = answer.verdict.text().replace("\N{NO-BREAK SPACE}", " ")
    assert words.startswith("The battery is empty first, after 50 days")
    assert words.endswith(": on a mean day it is about balanced, without any charge it lasts 2.5 days (2.0 to 3.3).")


@pytest.mark.parametrize(("wanted", "verdict"), [("2 days", Verdict.FINE), ("6 days", Verdict.WATCH)])
def test_balanced_is_watched_where_the_wish_outlasts_the_battery_without_charge(wanted: str, verdict: Verdict) -> None:
    plan = van(400, 380).changed({"household.days_wanted": wanted})
    finding = told(stay(plan), "stay.balance")
    assert finding is not None and finding.verdict is verdict
    wish = told(stay(van(380, 400).changed({"household.days_wanted": "9 days"})), "stay.days")
    assert wish is not None and wish.verdict is Verdict.WATCH  # unlimited as a mean, 1000/166 days at its low end


@pytest.mark.parametrize("name", NAMES)
def test_low_likely_high_hold_for_every_number_of_days(name: str) -> None:
    for charging in (0.0, 20.0, 40.0, 60.0):
        plan = example(name)
        if plan.battery is not None:
            plan = plan.changed({"battery.charging": charging}, si=True)
        answer = stay(plan)
        for key, number in answer.numbers.items():
            if number.range is not None:
                assert number.range[0] <= number.likely <= number.range[1], key


def test_emptied_once_the_range_grows_with_the_days() -> None:
    plan = Plan.of(
        {
            "van": {"name": "t"},
            "household": {"people": 2},
            "uses": {"wash": {"a_day": "2 a day", "volume": "5 L"}},
            "tanks": {
                "fresh": {"holds": "fresh", "capacity": "500 L"},
                "grey": {"holds": "grey", "capacity": "50 L"},
            },
        }
    )
    answer = stay(plan)
    (way,) = answer.on_the_way
    assert answer.days.range is not None
    assert way.stay.range == pytest.approx([2 * end for end in answer.days.range])
