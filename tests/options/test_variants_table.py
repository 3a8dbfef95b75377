"""Cells of a comparison: signs, what may be none, values as one would write them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.examples import example
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Working
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import say
from vanwater.options.variants_table import Line, differing, in_words, name_of, numbers_table
from vanwater.quantities import TEMPERATURE, TEMPERATURE_DIFFERENCE, VOLUME, Quantity

FAMILY = example("family-winter")
UNSURE = UnsureRows("habits", "habits", 1, 2)


def number(*values: float, quantity: Quantity = VOLUME) -> Number:
    pairs = (UNSURE,) if len(values) > 1 else ()
    return Number("water", quantity, np.array(values), Working("."), ("water",), pairs=pairs)


def cell(more: Number, base: Number | None = None) -> str:
    base = base or number(1.0)
    line = Line(key="water", base=base, each=(base,), differences=(more,), headline=True)
    ends = (say("nothing"), say("nothing"))
    laid = numbers_table(FAMILY, ("as planned", "other"), [line], ends, ()).cells()
    return laid.rows[0][-1].text.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((0.034,), "+34 L"),
        ((-0.034,), "−34 L"),
        ((0.034, 0.02, 0.04), "+34 L (20 to 40)"),
        ((0.034, -0.02, 0.04), "+30 L (−20 to 40), may be none"),
        ((0.0, 0.0, 0.0), "none"),
        ((math.inf,), "without limit"),
        ((math.nan,), ""),
    ],
)
def test_a_difference_has_its_sign_and_says_whether_it_may_be_none(values: tuple[float, ...], words: str) -> None:
    assert cell(number(*values)) == words


def test_a_difference_below_the_last_digit_is_hardly_any() -> None:
    assert cell(number(0.01, quantity=TEMPERATURE_DIFFERENCE)) != "none"
    assert not differing(number(0.1000001), number(0.1), us=False)
    assert differing(number(0.11), number(0.1), us=False) and differing(None, number(0.1), us=False)
    assert not differing(None, None, us=False) and not differing(number(math.nan), number(math.nan), us=True)


def test_what_no_cold_reaches_is_said_in_words() -> None:
    line = Line(key="t", base=number(-math.inf, quantity=TEMPERATURE), each=(), differences=())
    assert numbers_table(FAMILY, ("as planned",), [line], (say("x"),), ()).cells().rows[0][1].text == "any cold"


@pytest.mark.parametrize(
    ("address", "value", "words"),
    [
        ("tanks.grey.length", 0.8, "0.8 m"),
        ("tanks.grey.length", "1.1 m", "1.1 m"),
        ("tanks.grey.length", "110 cm", "1.1 m"),
        ("frost.design_cold", "-15 °C", "−15 °C"),
        ("accumulators.accumulator", None, "none"),
        ("accumulators.accumulator", {"stock": "accumulator 2 L", "at": "tee"}, "accumulator 2 L"),
        ("tanks.grey", {"holds": "grey"}, "a whole part"),
        ("heaters.heater.left_hot", True, "yes"),
        ("household.people", 3, "3"),
        ("pumps.pump.curve", [["0 L/min", "3 bar"], ["9 L/min", "0 bar"]], "a list of 2"),
        ("runs.trunk.fittings.cartridge filter", 1, "1"),
    ],
)
def test_a_value_is_told_as_one_would_write_it(address: str, value: object, words: str) -> None:
    assert in_words(FAMILY, address, value) == words
    assert in_words(FAMILY, "tanks.grey", FAMILY.tanks["grey"]) == "a whole part"


def test_the_plan_s_own_values_are_called_by_what_they_mean() -> None:
    planned = Number("frost.design_cold", TEMPERATURE, np.array(270.0), Working("."), ("frost", "design_cold"))
    assert name_of(FAMILY, planned) == "coldest hours it must stand"
    of_part = Number("tanks.grey.x", VOLUME, np.array(1.0), Working("."), ("tanks", "grey", "x"))
    assert name_of(FAMILY, of_part) == "grey: centre, behind the front axle"
    named = Number("water", VOLUME, np.array(1.0), Working("."), ("tank", "grey", "water"))
    assert name_of(FAMILY, named) == "water"
