from __future__ import annotations

import math
import re

import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.key import key_text
from vanwater.answers.stay.answer import Stay, stay
from vanwater.answers.stay.stores import key_of
from vanwater.plan.model import Plan

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
    assert advised(answer).startswith("For 9 days, empty the urine container twice on the way, hold ")
    assert "fresh water in the main tank and carry" in advised(answer)  # two fresh stores are told apart
    (way,) = [one for one in answer.on_the_way if one.store == "urine container"]
    assert way.stay.likely > answer.days.likely
    free = stay(plan.changed({"household.days_wanted": None}))
    assert advised(free).startswith("To stay longer, empty the urine container once on the way: ")
    assert wish(free).gain.amounts[0].value == pytest.approx(way.stay.likely)  # type: ignore[union-attr]


@pytest.mark.parametrize("wanted", [3.0, 5.0, 10.0])  # five days: some 840 W beside the 400 W on the roof
def test_a_battery_that_falls_short_is_told_what_to_put_back_a_day_and_either_way_cures(wanted: float) -> None:
    plan = FAMILY.changed({"household.days_wanted": wanted * 86400}, si=True)
    answer = stay(plan)
    assert "Wh/day more" in advised(answer) and "(or fit " in advised(answer) and "Ah more)" in advised(answer)
    more, fit = (answer.numbers[key].likely for key in ("battery.lack_a_day", "battery.lack"))
    lacking = answer.numbers.get("sun.panels.lack")
    assert plan.sun is not None and (lacking is None) is (wanted > 3.0)  # then the roof is too small
    panels = () if lacking is None else (lacking.likely,)
    assert {more, fit, *panels} <= {amount.value for amount in wish(answer).change.amounts}  # type: ignore[union-attr]
    assert plan.battery is not None

    def lasts(address: str, value: float) -> float:
        changed = stay(plan.changed({address: value}, si=True))
        return next(store.days.likely / 86400 for store in changed.stores if store.holds == "battery")

    # enough, and hardly more than that
    assert wanted <= lasts("battery.charging", plan.battery.charging + more) < 1.15 * wanted
    assert wanted <= lasts("battery.charge", plan.battery.charge + fit) < 1.15 * wanted
    for watts in panels:
        assert lasts("sun.panels", plan.sun.panels + 0.85 * watts) < wanted
        assert wanted <= lasts("sun.panels", plan.sun.panels + watts)


def test_what_is_told_is_rounded_up_in_the_plans_own_units() -> None:
    # 3.3 days at 20 L: 66 L; 51.2 L carried lack 14.8 L; 3.9099 gal
    for units, told in (("metric", 15e-3), ("us", 4.0 * 3.785411784e-3)):
        tanks = {
            "fresh": {"holds": "fresh", "capacity": "51.2 L", "out_of_reach": "0 L"},
            "grey": {"holds": "grey", "capacity": "90 L"},
        }
        plan = {"van": {"name": "t", "units": units}, "household": {"people": 2, "days_wanted": "3.3 days"}}
        lack = stay(Plan.of(plan | {"tanks": tanks, "uses": WASH})).numbers["tank.fresh.lack"].likely
        assert lack == pytest.approx(told)


def test_what_more_than_a_tank_full_lacks_is_refilled_or_emptied_on_the_way() -> None:
    # 9 days at 20 L a day are 180 L; 80 L are drained 2.25 times, 50 L filled 3.6 times
    told = advised(two("80 L", "50 L", "9 days"))
    assert told.startswith(
        "For 9 days, empty the grey tank 3 times on the way and refill the fresh tank twice on the way; or "
    )


@pytest.mark.parametrize(("units", "least"), [("metric", 0.5e-3), ("us", 0.1 * 3.785411784e-3)])
def test_nobody_is_told_to_carry_a_spoonful_more(units: str, least: float) -> None:
    # 20 L less what the pick-up leaves last 2.5 L a day a hair less than eight days
    plan = example("long-stay-dry-toilet").read_in(units == "us").changed({"household.days_wanted": "8 days"})
    lack = stay(plan).numbers["tank.drinking.lack"].likely
    assert lack == pytest.approx(least)


def test_cans_that_refill_each_other_are_named_together() -> None:
    weekend = example("weekend-cans").changed({"household.days_wanted": "7 days"})
    answer = stay(weekend)
    assert "refill the can in use and spare can twice" in advised(answer)
    # 7 Wh a day and 3 W of panels are nothing that anybody adds
    assert "put back 10 Wh/day more by 10 W more panels (or fit 5 Ah more)" in advised(answer)
    stores, _, way, *_ = answer.tables
    assert stores.note is not None and "can in use counts can in use and spare can together" in stores.note.text()
    assert way.rows[0][0].text() == "refill can in use and spare can"  # type: ignore[union-attr]
    assert (
        next(one for one in stay(weekend).findings if "grey" in one.statement.text())
        .statement.text()
        .endswith("the grey can is full after 4.4\N{NO-BREAK SPACE}days.")
    )


def test_a_change_that_does_not_cure_tells_what_is_still_missing() -> None:
    # 50 L grey: 2.5 days, 5 with half the wash; 6 are wanted
    assert advised(two("200 L", "50 L", "6 days")).endswith(
        "or halve the water for the wash: 2.5 days more, 1 day still missing."
    )


def test_nobody_is_told_to_halve_a_shower_that_the_van_does_not_have() -> None:
    tanks = {
        "fresh": {"holds": "fresh", "capacity": "60 L", "out_of_reach": "0 L"},
        "grey": {"holds": "grey", "capacity": "60 L"},
    }
    van = {"van": {"name": "t"}, "household": {"people": 2, "habits": "home-like", "days_wanted": "5 days"}}
    tap = {"outlets": {"spout": {"type": "galley tap"}}}
    without = stay(Plan.of(van | tap | {"tanks": tanks}))
    assert "shower" not in advised(without) and "halve the water for the " in advised(without)
    shower = {"outlets": {"spout": {"type": "galley tap"}, "wet room": {"type": "handset"}}}
    assert "halve the water for the shower" in advised(stay(Plan.of(van | shower | {"tanks": tanks})))


def test_a_battery_without_a_heater_is_not_told_to_heat_less() -> None:
    battery = {"volts": "12 V", "charge": "100 Ah", "usable": "80 %", "other_loads": "600 Wh/day"}
    tanks = {"fresh": {"holds": "fresh", "capacity": "500 L"}}
    answer = stay(
        Plan.of({"van": {"name": "t"}, "household": {"people": 2}, "tanks": tanks, "uses": WASH, "battery": battery})
    )
    assert answer.stores[0].holds == "battery"
    assert (
        advised(answer) == "To stay longer, fit 63 Ah more of battery for each day, or put back up to 600 Wh/day more."
    )
    heated = FAMILY.changed({"tanks.grey.length": "3 m", "tanks.fresh.length": "3 m", "household.days_wanted": None})
    assert "or heat less water" in advised(stay(heated))


@pytest.mark.parametrize("habits", ["careful", "moderate", "home-like"])
@pytest.mark.parametrize("people", [1, 2, 4, 6])
@pytest.mark.parametrize("showers", [True, False])
def test_litres_a_person_are_judged_by_what_the_van_has(habits: str, people: int, showers: bool) -> None:
    van = {"van": {"name": "t"}, "household": {"people": people, "habits": habits}}
    uses = {} if showers else {"uses": {"shower": {"a_day": "0 a day"}}}

    plan = Plan.of(van | uses | {"tanks": {"fresh": {"holds": "fresh", "capacity": "100 L"}}})

    def person(plan: Plan) -> Finding:
        return next(one for one in stay(plan).findings if one.key == "stay.person")

    assert person(plan).verdict is Verdict.FINE
    assert ("without a shower" in person(plan).statement.text()) is not showers
    laundry = plan.changed({"uses.laundry": {"a_day": "3 a day", "volume": "10 L"}})
    assert person(laundry).verdict is Verdict.WATCH


def test_too_little_to_live_on_is_watched() -> None:
    plan = {"van": {"name": "t"}, "household": {"people": 2}, "uses": {"tea": {"a_day": "4 a day", "volume": "0.25 L"}}}
    answer = stay(Plan.of(plan | {"tanks": {"fresh": {"holds": "fresh", "capacity": "100 L"}}}))
    assert next(one for one in answer.findings if one.key == "stay.person").verdict is Verdict.WATCH


@pytest.mark.parametrize("name", NAMES)
def test_a_dump_or_refill_is_told_only_where_it_lengthens_the_stay(name: str) -> None:
    answer = stay(example(name))
    for one in answer.on_the_way:
        assert one.stay.likely > answer.days.likely
        assert math.isfinite(one.stay.likely)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("wanted", [4.0, 7.0, 20.0])
def test_everything_advised_together_cures(name: str, wanted: float) -> None:
    answer = stay(example(name).changed({"household.days_wanted": wanted * 86400}, si=True))
    short = [store for store in answer.stores if store.days.likely < wanted * 86400]
    told = advised(answer)
    assert short
    for store in short:
        usable, a_day = store.usable.likely, store.a_day.likely
        if store.holds == "battery":
            after = usable / max(a_day - answer.numbers["battery.lack_a_day"].likely, 1e-12)
        elif (
            often := re.search(rf"(?:empty|refill) the {' and '.join(store.called)} (once|twice|\d+ times)", told)
        ) is not None:
            after = usable / a_day * (1 + ({"once": 1, "twice": 2}.get(often[1]) or int(often[1].split()[0])))
        else:
            key = key_text((*key_of(store), "lack"))
            assert answer.numbers[key].amount.text().replace("\N{NO-BREAK SPACE}", " ") in told
            after = (usable + answer.numbers[key].likely) / a_day
        assert after >= wanted * 86400 * (1 - 1e-9), store.name
