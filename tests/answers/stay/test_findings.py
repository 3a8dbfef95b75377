from __future__ import annotations

import math

import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount
from vanwater.answers.stay.answer import Stay, stay
from vanwater.plan.model import Plan
from vanwater.quantities import ENERGY

FAMILY = example("family-winter")
WASH = {"wash": {"a_day": "2 a day", "volume": "5 L"}}


def two(fresh: str, grey: str, wanted: str) -> Stay:
    """Two people, 20 L a day in and out."""
    tanks = {
        "fresh": {"holds": "fresh", "capacity": fresh, "out_of_reach": "0 L"},
        "grey": {"holds": "grey", "capacity": grey},
    }
    return stay(
        Plan.of({"van": {"name": "t"}, "household": {"people": 2, "days_wanted": wanted}, "tanks": tanks, "uses": WASH})
    )


def wish(answer: Stay) -> Finding:
    return next(one for one in answer.findings if one.key == "stay.days")


def advised(answer: Stay) -> str:
    told = wish(answer).advice
    return told.text().replace("\N{NO-BREAK SPACE}", " ") if told is not None else ""


def test_all_that_falls_short_of_the_wish_is_told() -> None:
    # 5 days at 20 L a day are 100 L in and out; half the water makes 2.5 days 5
    half = "; or halve the water for the wash: 2.5 days more."
    assert advised(two("120 L", "50 L", "5 days")) == f"For 5 days, hold 50 L more grey water{half}"
    both = "hold 50 L more grey water and carry 20 L more fresh water"
    assert advised(two("80 L", "50 L", "5 days")) == f"For 5 days, {both}{half}"
    assert advised(two("80 L", "50 L", "2 days")) == "To stay longer, halve the water for the wash: 2.5 days more."


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("wanted", [None, 2.0, 9.0])
def test_nobody_is_told_to_drink_less(name: str, wanted: float | None) -> None:
    days = None if wanted is None else wanted * 86400
    text = advised(stay(example(name).changed({"household.days_wanted": days}, si=True)))
    assert not [use for use in ("drinking", "cooking", "urine") if f"water for the {use}" in text]


def test_a_full_container_is_emptied_on_the_way_as_often_as_needed() -> None:
    plan = example("long-stay-dry-toilet")
    assert advised(stay(plan)) == "For 6 days, empty the urine container once on the way."
    answer = stay(plan.changed({"household.days_wanted": 9 * 86400.0}, si=True))
    # 11 L at 2.8 L a day: full after 3.9 and 7.9 days
    assert advised(answer).startswith("For 9 days, empty the urine container 2 times on the way, hold ")
    assert "fresh water in main and carry" in advised(answer)  # two fresh stores are told apart
    (way,) = [one for one in answer.on_the_way if one.store == "urine container"]
    assert way.stay.likely > answer.days.likely
    free = stay(plan.changed({"household.days_wanted": None}))
    assert advised(free).startswith("To stay longer, empty the urine container once on the way: ")
    assert wish(free).gain.amounts[0].value == pytest.approx(way.stay.likely)  # type: ignore[union-attr]


def test_a_battery_that_falls_short_is_charged_more() -> None:
    answer = stay(FAMILY)
    battery = next(one for one in answer.stores if one.holds == "battery")
    short = 3 * 86400 * battery.a_day.likely - battery.usable.likely
    assert Amount(short, ENERGY, 2) in wish(answer).change.amounts  # type: ignore[union-attr]
    assert "charge" in advised(answer)


def test_litres_a_person_outside_the_usual_are_watched_not_failed() -> None:
    few = two("80 L", "50 L", "2 days")
    person = next(one for one in few.findings if one.key == "stay.person")
    assert person.verdict is Verdict.FINE  # 10 L a person
    much = stay(FAMILY.changed({"household.habits": "home-like", "uses.shower.a_day": 3 / 86400}, si=True))
    assert next(one for one in much.findings if one.key == "stay.person").verdict is Verdict.WATCH


@pytest.mark.parametrize("name", NAMES)
def test_a_dump_or_refill_is_told_only_where_it_lengthens_the_stay(name: str) -> None:
    answer = stay(example(name))
    for one in answer.on_the_way:
        assert one.stay.likely > answer.days.likely
        assert math.isfinite(one.stay.likely)
