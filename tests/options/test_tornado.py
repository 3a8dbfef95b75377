"""What moves a number: the ends of its bars are those of plans of their own."""

from __future__ import annotations

import math

import pytest

from tests.examples import NAMES, example
from tests.over import over
from vanwater.answers.questions import QUESTIONS
from vanwater.options.known import home_of
from vanwater.options.tornado import tornado
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")
UNDECIDED = Plan.of({
    "van": {"name": "begun"},
    "household": {"people": 2},
    "tanks": {"fresh": {"holds": "fresh", "capacity": "70 L"}},
})  # fmt: skip
"""A tank, and nobody has said yet what water is used for."""

KEYS = [(name, "stay.days") for name in NAMES] + [
    ("family-winter", "outlet.shower.flow"),
    ("family-winter", "tank.fresh.lowest_cold.parked"),
    ("touring-campsites", 'outlet."basin tap".flow'),
]


@over(KEYS)
def test_bars_of_what_can_be_built_are_those_of_their_own_plans(name: str, key: str) -> None:
    plan = example(name)
    told = tornado(plan, key)
    question, number = home_of(plan, key)
    built = [bar for bar in told.bars if bar.kind == "could be built otherwise"]
    ends = [end for bar in built for end in (bar.low, bar.high) if end.values]
    assert ends
    for end in ends:
        if end.problem:
            with pytest.raises(PlanError):
                plan.changed(end.values)
            continue
        own = QUESTIONS[question].ask(plan.changed(end.values)).numbers[key].likely
        assert end.value == pytest.approx(own, rel=1e-12), end.put_in
    for bar in told.bars:
        moves = [abs(end.value - number.likely) for end in bar.told]
        assert bar.swing == pytest.approx(max(moves))
    swings = [bar.swing for bar in told.bars]
    assert swings == sorted(swings, reverse=True)


def test_bars_of_what_is_unsure_are_those_of_plans_with_that_value() -> None:
    told = tornado(FAMILY, "tank.fresh.usable")
    bars = {bar.address: bar for bar in told.bars}
    pitch = bars["site.pitch"]
    assert (pitch.low.put_in, pitch.high.put_in) == ("−1°", "1°")
    for end, turn in ((pitch.low, -1.0), (pitch.high, 1.0)):
        tilted = FAMILY.changed({"site.pitch": math.radians(turn)}, si=True)
        own = QUESTIONS["stay"].ask(tilted).numbers["tank.fresh.usable"].likely
        assert end.value == pytest.approx(own, rel=1e-12)


def test_the_habits_at_their_ends_are_a_household_that_uses_so_much() -> None:
    told = {bar.address: bar for bar in tornado(FAMILY, "tank.fresh.days").bars}["habits"]
    assert (told.low.put_in, told.high.put_in) == ("25 % lower", "25 % higher")
    for end, factor in ((told.low, 0.75), (told.high, 1.25)):
        scaled = {f"uses.{name}.a_day": use.a_day * factor for name, use in FAMILY.uses.items() if use.a_day}
        own = QUESTIONS["stay"].ask(FAMILY.changed(scaled, si=True)).numbers["tank.fresh.days"].likely
        assert end.value == pytest.approx(own, rel=1e-9)


def test_what_leaves_the_number_alone_is_named_beside_the_bars() -> None:
    told = tornado(FAMILY, "outlet.shower.flow")
    assert "battery" in told.still and "grey tank" in told.still
    assert not {bar.name for bar in told.bars} & set(told.still)


@pytest.mark.parametrize("key", ["household.days_wanted", 'stay.days.gain."half the shower"'])
def test_what_nothing_moves_is_refused(key: str) -> None:
    with pytest.raises(PlanError, match="a limit, a wish or a gain"):
        tornado(FAMILY, key)


def test_a_key_that_is_none_and_a_number_that_is_not_decided_are_refused() -> None:
    with pytest.raises(KeyError, match=r'Did you mean \\?"stay\.days'):
        tornado(FAMILY, "stay.dais")
    with pytest.raises(PlanError, match="It is not decided"):
        tornado(UNDECIDED, "stay.days")
