from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.finding import Verdict
from vanwater.answers.stay.answer import stay
from vanwater.answers.stay.question import QUESTION
from vanwater.plan.model import Plan
from vanwater.quantities import STAY

DAY = 86400.0
FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")


def bare(**more: Any) -> Plan:
    return Plan.of({"van": {"name": "t"}, "household": {"people": 2}, **more})


WASH = {"wash": {"a_day": "2 a day", "volume": "5 L"}}
FRESH = {"fresh": {"holds": "fresh", "capacity": "80 L", "out_of_reach": "0 L"}}
GREY = {"grey": {"holds": "grey", "capacity": "50 L"}}


def test_by_hand() -> None:
    # 2 people, 2 x 5 L each: 20 L a day in and out; 80 L fresh last 4 days, 50 L grey 2.5 days
    answer = stay(bare(tanks=FRESH | GREY, uses=WASH))
    assert [(store.name, store.days.likely / DAY) for store in answer.stores] == [
        ("grey", pytest.approx(2.5)),
        ("fresh", pytest.approx(4.0)),
    ]
    assert answer.days.likely / DAY == pytest.approx(2.5)
    # habits 25 % either way: 2.5/1.25 and 2.5/0.75
    assert answer.days.range[0] / DAY == pytest.approx(2.0)
    assert answer.days.range[1] / DAY == pytest.approx(2.5 / 0.75)
    assert answer.verdict.text() == "The grey tank is full first, after 2.5\N{NO-BREAK SPACE}days (2.0 to 3.3)."


def test_what_a_dump_adds() -> None:
    answer = stay(bare(tanks=FRESH | GREY, uses=WASH))
    (one,) = answer.on_the_way
    assert (one.store, one.ends) == ("grey", "fresh")
    assert one.stay.likely / DAY == pytest.approx(4.0)  # twice 2.5 days, but the fresh water ends it


def test_each_example_ends_by_another_store() -> None:
    assert [stay(example(name)).stores[0].holds for name in NAMES] == ["grey", "urine", "battery", "fresh"]


@pytest.mark.parametrize("name", NAMES)
def test_numbers_of_the_answer_agree(name: str) -> None:
    answer = stay(example(name))
    days = [store.days.likely for store in answer.stores]
    assert days == sorted(days)
    assert answer.days.likely == days[0] == answer.numbers["stay.days"].likely
    for store in answer.stores:
        usable, a_day = store.usable.likely, store.a_day.likely
        if math.isfinite(store.days.likely):
            assert usable / a_day == pytest.approx(store.days.likely)
    water = {store.name: store for store in answer.stores}
    for name_ in {use.source for use in answer.uses} - {""}:
        drawn = sum(use.fresh.likely for use in answer.uses if use.source == name_)
        assert drawn == pytest.approx(water[name_].a_day.likely)


def test_grey_never_exceeds_fresh_where_people_add_nothing() -> None:
    for name in NAMES:
        answer = stay(example(name))
        for use in answer.uses:
            if use.sink != "urine container":
                assert use.back.likely <= use.fresh.likely + 1e-15


def test_wish_is_judged_and_its_mend_is_enough() -> None:
    answer = stay(FAMILY)
    finding = next(one for one in answer.findings if one.key == "stay.days")
    assert finding.verdict is Verdict.FAILS
    grey = answer.stores[0]
    short = 3 * DAY * grey.a_day.likely - grey.usable.likely
    mended = FAMILY.changed({"tanks.grey": {"holds": "grey", "capacity": grey.usable.likely + short}}, si=True)
    after = {store.name: store for store in stay(mended).stores}
    assert after["grey"].days.likely == pytest.approx(3 * DAY)


def test_halving_gains_what_the_plan_says() -> None:
    answer = stay(FAMILY)
    finding = next(one for one in answer.findings if one.key == "stay.days")
    assert finding.gain is not None
    halved = stay(FAMILY.changed({"uses.shower.a_day": FAMILY.uses["shower"].a_day / 2}, si=True))
    more = (halved.days.likely - answer.days.likely) / DAY
    assert finding.gain.text().startswith(f"{more:.1f}\N{NO-BREAK SPACE}days")


def test_what_is_not_decided_is_said_and_the_rest_still_comes() -> None:
    nothing = stay(bare())
    keys = {finding.key for finding in nothing.findings if finding.verdict is Verdict.NOT_DECIDED}
    assert {"stay.uses", "stay.fresh"} <= keys and "stay.battery" not in keys
    assert not nothing.decided
    assert "not decided" in nothing.verdict.text()
    half = stay(bare(tanks=FRESH, uses=WASH))
    assert half.days.likely / DAY == pytest.approx(4)
    assert any(finding.key == "stay.grey" for finding in half.findings)


def test_nothing_used_is_no_division_by_zero() -> None:
    answer = stay(bare(tanks=FRESH | GREY, uses={"wash": {"a_day": "0 a day", "volume": "5 L"}}))
    assert answer.days.likely == math.inf
    assert answer.verdict.text() == "Nothing in the plan ends the stay."


def test_assumed_reach_is_an_assumption_and_a_high_pickup_a_finding() -> None:
    assumed = stay(bare(tanks={"fresh": {"holds": "fresh", "capacity": "80 L"}}, uses=WASH))
    assert any(one.key == "reach.fresh" for one in assumed.assumptions)
    assert any(one.key == "stay.reach.main" for one in stay(LONG).findings)
    level = stay(LONG.changed({"site.pitch": 0.0}, si=True))
    assert not any(one.key == "stay.reach.main" for one in level.findings)


SIZES = st.floats(1e-2, 0.3)


@settings(max_examples=40, deadline=None)
@given(fresh=SIZES, grey=SIZES, more=st.floats(1.05, 3), people=st.integers(1, 6))
def test_properties_of_days(fresh: float, grey: float, more: float, people: int) -> None:
    def ask(fresh: float, grey: float, people: int) -> Any:
        tanks = {
            "fresh": {"holds": "fresh", "capacity": fresh, "out_of_reach": 0.0},
            "grey": {"holds": "grey", "capacity": grey},
        }
        return stay(Plan.of({"van": {"name": "t"}, "household": {"people": people}, "tanks": tanks, "uses": WASH}))

    one = ask(fresh, grey, people)
    assert one.days.likely == min(store.days.likely for store in one.stores)
    assert ask(fresh * more, grey, people).days.likely >= one.days.likely  # more water never shortens the stay
    assert ask(fresh, grey * more, people).days.likely >= one.days.likely
    assert ask(fresh, grey, people + 1).days.likely < one.days.likely  # another person always does
    twice = ask(2 * fresh, 2 * grey, people)
    assert twice.days.likely == pytest.approx(2 * one.days.likely)
    for way in one.on_the_way:
        assert way.stay.likely > one.days.likely


def test_stay_is_shown_in_days() -> None:
    assert stay(FAMILY).days.quantity is STAY
    assert np.isfinite(stay(FAMILY).days.likely)


@pytest.mark.parametrize("name", NAMES)
def test_every_number_has_a_key_a_range_or_a_reason_and_a_sum(name: str) -> None:
    assert walk(QUESTION.ask(example(name))) > 20


@WHOLE_PLANS
@given(plans())
def test_the_same_for_any_plan(raw: dict[str, Any]) -> None:
    walk(QUESTION.ask(Plan.of(raw, file=True)))


def test_tanks_that_act_as_one_cannot_be_taken_for_one_of_that_name() -> None:
    both = {name: {"holds": "fresh", "capacity": "40 L"} for name in ("a", "b")}
    keys = stay(bare(tanks=both | {"battery": {"holds": "grey", "capacity": "50 L"}}, uses=WASH)).numbers
    assert {'tanks."a + b".days', "tank.battery.days"} <= set(keys)
