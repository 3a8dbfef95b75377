from __future__ import annotations

import math
from dataclasses import FrozenInstanceError

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import PLAN_ONLY, UNMOVED, Number, difference_of
from vanwater.answers.core.pieces import Working
from vanwater.answers.core.spread import UnsureRows, spread
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import by, limit, planned, recomputed, stated, step
from vanwater.physics.mass import front_load, rear_load
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH, MASS, STAY, TEMPERATURE, VOLUME

PAIRS = (UnsureRows("pump", "pumps", 1, 2), UnsureRows("habits", "household", 3, 4))
FINITE = st.floats(-1e6, 1e6)


def number(*values: float, pairs: tuple[UnsureRows, ...] = PAIRS, **more: object) -> Number:
    return Number("n", VOLUME, np.array(values), Working("By counting."), pairs=pairs, **more)  # type: ignore[arg-type]


@given(st.lists(FINITE, min_size=5, max_size=5))
def test_its_range_is_the_root_sum_square_of_its_rows(values: list[float]) -> None:
    own = number(*values)
    ends = spread(values, PAIRS)
    if own.range is None:
        assert set(values) == {values[0]} and own.unranged == UNMOVED and isinstance(own.shown, Amount)
        return
    assert own.range == (ends.low, ends.high) and own.range[0] <= own.likely <= own.range[1]
    assert own.shown == Range(*own.range[:1], own.likely, own.range[1], VOLUME)
    assert own.shown.number is own and own.amount.number is own and own.unranged == ""


@given(FINITE, FINITE, FINITE)
def test_two_models_give_low_likely_and_high_in_order(one: float, likely: float, other: float) -> None:
    low, high = number(likely, pairs=(), bracket=(one, other)).range or (math.nan, math.nan)
    assert low <= likely <= high and {low, high} <= {one, likely, other}


def test_why_it_has_no_range() -> None:
    assert number(1.0, pairs=()).unranged == PLAN_ONLY
    assert number(1.0, pairs=(), exact="as planned").unranged == "as planned"
    assert number(2.0, 1.0, 3.0, 2.0, 2.0, least=1.5).range == (1.5, 3.0)


def test_a_gain_is_the_difference_of_rows_in_a_difference_of_its_quantity() -> None:
    warm = Number("w", TEMPERATURE, np.array([280.0, 283.0]), Working("m"), key=("tank", "a", "cold"))
    gain = warm.gain(1, "foam")
    assert (gain.likely, gain.quantity, gain.key) == (
        3.0,
        difference_of(TEMPERATURE),
        ("tank", "a", "cold", "gain", "foam"),
    )
    assert [piece.value.value for piece in gain.given] == [283.0, -280.0]  # type: ignore[union-attr]
    assert gain.range is None and gain.unranged


def test_a_difference_of_temperatures_is_told_in_whole_degrees_as_they_are() -> None:
    told = difference_of(TEMPERATURE)
    assert [told.text(3.8, us).replace("\N{NO-BREAK SPACE}", " ") for us in (False, True)] == ["4 K", "7 °F"]


def test_a_key_cannot_collide_whatever_a_part_is_called() -> None:
    keys = [("tank", "a.b", "days"), ("tank", "a", "b", "days"), ("tank", 'a"."b', "days"), ("tank", "a\\", "days")]
    assert len({key_text(key) for key in keys}) == len(keys)
    assert key_text(("tank", "grüner Tank", "days")) == 'tank."grüner Tank".days'


def test_a_number_given_already_unfolds_like_the_call_and_is_checked_by_one() -> None:
    called = step("rear", rear_load, mass=100.0, position=2.0, wheelbase=4.0)
    kept = by("rear", called.value, MASS, rear_load, mass=100.0, position=2.0, wheelbase=4.0)
    assert kept.lines() == called.lines()
    assert recomputed(kept) == pytest.approx(50.0)
    wrong = by("rear", called.value, LENGTH, front_load, mass=100.0, position=2.0, wheelbase=4.0)
    with pytest.raises(ValueError, match="mass"):
        recomputed(wrong)
    assert recomputed(stated("s", 1.0, MASS, "m")) is None


def test_pieces_that_do_not_add_up_are_refused_when_the_sum_is_read() -> None:
    short = stated("s", 3.0, MASS, "They add up.", parts=[("a", (1.0, MASS)), ("b", limit("b", 1.5, MASS, "plate"))])
    with pytest.raises(ValueError, match=r"add up to 2\.5"):
        _ = short.made_of
    other = stated("s", 3.0, MASS, "They add up.", parts=[("a", (3.0, LENGTH))])
    with pytest.raises(ValueError, match="another quantity"):
        other.lines()
    assert stated("s", 3.0, MASS, "m", parts=lambda: [("a", (3.0, MASS))]).made_of.given[0].name == "a"


def test_a_plans_own_number_is_exact_and_keyed_by_its_address() -> None:
    plan = Plan.of({"van": {"name": "v"}, "household": {"people": 2, "days_wanted": "3 days"}})
    wanted = planned(plan, "household.days_wanted", VOLUME)
    assert (wanted.key, wanted.likely, wanted.unranged) == (("household", "days_wanted"), 3 * 86400.0, "as planned")


def test_it_is_told_with_its_range_in_a_sentence_and_in_its_sum() -> None:
    own = number(0.1, 0.08, 0.12, 0.1, 0.1)
    assert say("It takes {much}.", much=own).text() == f"It takes {own.text()}."
    assert say("It takes {much}.", much=own).amounts == (own.shown,)
    assert own.lines()[0] == f"n = {own.text()}" and "(80 to 120)" in own.text()
    with pytest.raises(FrozenInstanceError):
        own.key = ("x",)  # type: ignore[misc]


def test_a_difference_of_days_is_a_sum_that_can_be_followed() -> None:
    """3.36 less 2.52 days are 0.84, told as 0.8; 3.4 less 2.5 would be 0.9."""
    days = stated("days", np.array([2.52, 3.36]) * 86400.0, STAY, "as parked", source="sum")
    gain = days.gain(1, "less")
    assert gain.text() == "0.8\N{NO-BREAK SPACE}days"
    assert [piece.value.text() for piece in gain.given] == [  # type: ignore[union-attr]
        "3.36\N{NO-BREAK SPACE}days",
        "\N{MINUS SIGN}2.52\N{NO-BREAK SPACE}days",
    ]
