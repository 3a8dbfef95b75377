"""The difference of a number between two plans, and its range from what is unsure in both alike."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.compared import LONGER
from tests.examples import example
from tests.examples import example_answers as answers_of
from vanwater.answers.core.difference import difference, is_sure
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Working
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.questions import QUESTIONS
from vanwater.quantities import TEMPERATURE, VOLUME

HABITS, BORES = UnsureRows("habits", "habits", 1, 2), UnsureRows("bores", "bores", 3, 4)
TERMS = st.floats(-1e3, 1e3)
ROWS = st.lists(TERMS, min_size=5, max_size=5)


def number(values: list[float], *pairs: UnsureRows, bracket: tuple[float, float] | None = None) -> Number:
    return Number("water", VOLUME, np.array(values), Working("As said."), ("water",), pairs=pairs, bracket=bracket)


def by_hand(values: list[float]) -> tuple[float, float]:
    """Root-sum-square of the moves of rows 1, 2 and 3, 4 against row 0, each side for itself."""
    moves = [(values[low] - values[0], values[high] - values[0]) for low, high in ((1, 2), (3, 4))]
    down = math.sqrt(sum(min(0.0, *pair) ** 2 for pair in moves))
    up = math.sqrt(sum(max(0.0, *pair) ** 2 for pair in moves))
    return values[0] - down, values[0] + up


@given(ROWS, ROWS)
def test_its_range_is_that_of_the_rows_differences(ours: list[float], theirs: list[float]) -> None:
    told = difference(number(theirs, HABITS, BORES), number(ours, HABITS, BORES), "other")
    rows = [b - a for a, b in zip(ours, theirs, strict=True)]
    assert told.values == pytest.approx(rows, rel=1e-12, abs=1e-9)
    low, high = by_hand(rows)
    assert (told.range or (rows[0], rows[0])) == pytest.approx((low, high), rel=1e-9, abs=1e-9)


@given(ROWS, ROWS)
def test_the_other_way_round_all_signs_are_turned(ours: list[float], theirs: list[float]) -> None:
    there = difference(number(theirs, HABITS, BORES), number(ours, HABITS, BORES), "other")
    back = difference(number(ours, HABITS, BORES), number(theirs, HABITS, BORES), "other")
    assert back.likely == -there.likely and is_sure(back) == is_sure(there)
    if there.range is not None:
        assert back.range == pytest.approx((-there.range[1], -there.range[0]), rel=1e-9, abs=1e-9)


def test_what_moves_both_alike_falls_out() -> None:
    ours, theirs = number([10.0, 7.0, 13.0], HABITS), number([11.0, 8.0, 14.0], HABITS)
    told = difference(theirs, ours, "other")
    assert told.likely == 1.0 and told.range is None and is_sure(told)
    assert theirs.range is not None and ours.range is not None and theirs.range[0] < ours.range[1]  # yet they overlap


def test_what_moves_one_alone_moves_the_difference() -> None:
    told = difference(number([11.0, 9.5, 12.0], HABITS), number([10.0]), "other")
    assert told.range == pytest.approx((-0.5, 2.0)) and not is_sure(told)


def test_two_models_are_each_held_against_itself() -> None:
    told = difference(number([5.0], bracket=(3.0, 6.0)), number([4.0], bracket=(2.5, 4.5)), "other")
    assert told.range == pytest.approx((0.5, 1.5)) and is_sure(told)


def test_the_last_digits_of_a_sum_are_no_difference() -> None:
    told = difference(number([1.0 + 1e-15]), number([1.0]), "other")
    assert told.likely == 0.0 and not is_sure(told)
    assert difference(number([1.0 + 1e-9]), number([1.0]), "other").likely == pytest.approx(1e-9)


def test_what_never_ends_and_what_is_not_known() -> None:
    both = difference(number([math.inf]), number([math.inf]), "other")
    assert both.likely == 0.0 and not is_sure(both)
    longer = difference(number([math.inf, math.inf, 9.0], HABITS), number([4.0, 4.0, 4.0], HABITS), "other")
    assert longer.likely == math.inf and longer.range is not None and longer.range[0] == 5.0 and is_sure(longer)
    assert not is_sure(difference(number([math.nan]), number([1.0]), "other"))


def test_a_difference_of_temperatures_is_in_kelvins_and_its_sum_adds_up() -> None:
    cold, warm = (Number("water", TEMPERATURE, np.array([at]), Working("."), ("water",)) for at in (280.0, 285.0))
    told = difference(warm, cold, "heated")
    assert told.text() == "5\N{NO-BREAK SPACE}K" and told.unit == "K"
    assert told.key == ("water", "difference", "heated")
    values = [piece.value.value for piece in told.given if not isinstance(piece.value, str)]  # type: ignore[union-attr]
    assert sum(values) == told.likely


def test_a_row_is_what_two_plans_differ_by_on_that_slope() -> None:
    plan, key = example("family-winter"), "tank.grey.usable"
    other = LONGER.plan(plan)
    told = difference(QUESTIONS["stay"].ask(other).numbers[key], answers_of("family-winter").numbers[key], "longer")
    pitch = next(pair for pair in told.pairs if pair.address == "site.pitch")
    for row, turn in ((pitch.low, -1.0), (pitch.high, 1.0)):
        tilted = {"site.pitch": plan.at("site.pitch") + turn * math.radians(1.0)}
        mine, theirs = (QUESTIONS["stay"].ask(each.changed(tilted, si=True)).numbers[key] for each in (plan, other))
        assert told.values[row] == pytest.approx(theirs.likely - mine.likely, rel=1e-12)
