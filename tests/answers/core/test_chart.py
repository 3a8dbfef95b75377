from __future__ import annotations

import math

import numpy as np
import pytest

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark, Rule, words
from vanwater.answers.core.statement import Amount, say
from vanwater.quantities import DAY, FLOW, SHARE, STAY, TEMPERATURE, TEMPERATURE_DIFFERENCE, VOLUME

X, Y, NAMES = Axis("Time", STAY), Axis("Water", VOLUME), Axis("Store")
LINE = Line("fresh", np.array([0.0, 1.0]), np.array([0.0, 1.0]))
BARS = Bars("fresh", ("a", "b"), np.array([1.0, 2.0]))


def test_axes_name_quantity_and_unit_in_both_systems():
    assert Y.text() == "Water (L)"
    assert Y.text(us=True) == "Water (gal)"
    assert NAMES.text() == "Store"


def test_zero_is_in_sight_but_for_temperatures():
    assert Axis("Water", VOLUME).from_zero
    assert Axis("Band", TEMPERATURE_DIFFERENCE).from_zero
    assert not Axis("Cold", TEMPERATURE).from_zero
    assert not Axis("Flow", FLOW, zero=False).from_zero
    assert Axis("Cold", TEMPERATURE, zero=True).from_zero


def test_numbers_of_a_chart_are_its_own_and_fixed():
    given = np.array([0.0, 1.0])
    line = Line("fresh", given, given)
    given[0] = 7.0
    assert line.y[0] == 0.0
    with pytest.raises(ValueError, match="read-only"):
        line.y[0] = 7.0


def test_a_line_ends_at_its_last_known_point():
    line = Line("fresh", np.arange(4.0), np.array([math.nan, 1.0, 2.0, math.inf]))
    assert line.end == (2.0, 2.0)


@pytest.mark.parametrize(
    ("x", "y", "band"),
    [
        ([0.0, 1.0], [0.0], {}),
        ([], [], {}),
        ([0.0, 1.0], [0.0, 1.0], {"low": np.zeros(2)}),
        ([0.0, 1.0], [0.0, 1.0], {"low": np.zeros(3), "high": np.zeros(3)}),
        ([0.0, math.nan], [0.0, 1.0], {}),
        ([0.0, 1.0], [math.nan, math.nan], {}),
    ],
)
def test_lines_that_cannot_be_drawn_are_refused(x, y, band):
    with pytest.raises(ValueError, match="wants"):
        Line("fresh", np.array(x), np.array(y), **band)


def test_marks_rules_and_bars_that_cannot_be_drawn_are_refused():
    with pytest.raises(ValueError, match="mark"):
        Mark("fresh", math.nan, 1.0)
    with pytest.raises(ValueError, match="one of the two"):
        Rule("limit")
    with pytest.raises(ValueError, match="one of the two"):
        Rule("limit", x=1.0, y=1.0)
    with pytest.raises(ValueError, match="known place"):
        Rule("limit", y=math.inf)
    with pytest.raises(ValueError, match="as many"):
        Bars("fresh", ("a",), np.array([1.0, 2.0]))
    with pytest.raises(ValueError, match="one role"):
        Bars(("fresh",), ("a", "b"), np.array([1.0, 2.0]))
    with pytest.raises(ValueError, match="range"):
        Bars("fresh", ("a",), np.array([1.0]), low=np.array([1.0]))


@pytest.mark.parametrize(
    ("key", "x", "y", "draws", "match"),
    [
        ("Key", X, Y, (LINE,), "key"),
        ('a"b', X, Y, (LINE,), "key"),
        ("a", X, Y, (), "nothing"),
        ("a", NAMES, Y, (LINE,), "quantity"),
        ("a", X, NAMES, (LINE,), "quantity"),
        ("a", X, Y, (BARS,), "quantity"),
        ("a", X, NAMES, (BARS, LINE), "beside bars"),
        ("a", X, NAMES, (BARS, Rule("r", y=1.0)), "beside bars"),
        ("a", X, NAMES, (BARS, Bars("grey", ("a", "c"), np.zeros(2))), "same names"),
    ],
)
def test_charts_that_cannot_be_drawn_are_refused(key, x, y, draws, match):
    with pytest.raises(ValueError, match=match):
        Chart(key, "Title", x, y, draws)


def test_at_most_five_colours_and_neutral_roles_are_free():
    roles = ("fresh", "grey", "cold", "hot", "heat")
    lines = tuple(Line(role, LINE.x, LINE.y) for role in (*roles, "plain", "saved"))
    assert Chart("a", "t", X, Y, (*lines, Rule("r", y=1.0))).colours == set(roles)
    with pytest.raises(ValueError, match="at most 5"):
        Chart("a", "t", X, Y, (*lines, Line("battery", LINE.x, LINE.y)))


def test_words_are_made_harmless_and_keep_their_units():
    assert words("<b>", "html") == "&lt;b&gt;"
    said = say("{name}: {stay}", name="<b>", stay=Amount(2 * DAY, STAY))
    assert words(said, "html", us=True) == "&lt;b&gt;: 2\N{NO-BREAK SPACE}days"


def test_shares_are_shown_in_percent():
    assert Axis("Left", SHARE).text() == "Left (%)"
