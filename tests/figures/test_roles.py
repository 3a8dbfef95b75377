from __future__ import annotations

from itertools import combinations

import pytest

from vanwater.figures.roles import DARK, DARK_FOR, FAINT, GRID, INK, PAPER, ROLES, contrast, readable

OKABE_ITO = {"#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7"}
"""The eight colours of Okabe and Ito (2008)."""

OUR_OWN = {"grey", "plain", "saved"}


def test_the_colours_are_those_for_every_eye():
    assert {style.colour for role, style in ROLES.items() if role not in OUR_OWN} <= OKABE_ITO


@pytest.mark.parametrize(("one", "other"), list(combinations(ROLES, 2)))
def test_two_roles_differ_in_colour_dash_and_marker(one, other):
    first, second = ROLES[one], ROLES[other]
    assert first.colour != second.colour
    assert first.dash != second.dash
    assert first.symbol != second.symbol


@pytest.mark.parametrize(("one", "other"), list(combinations(sorted(ROLES.keys() - {"limit"}), 2)))
def test_bars_of_two_roles_differ_in_black_and_white(one, other):
    first, second = ROLES[one], ROLES[other]
    assert first.pattern != second.pattern or contrast(first.colour, second.colour) >= 3


@pytest.mark.parametrize("role", ROLES)
def test_labels_can_be_read_on_white(role):
    assert contrast(ROLES[role].text) >= 4.5


def test_small_print_can_be_read_on_white():
    assert contrast(FAINT) >= 4.5
    assert contrast(INK) >= 7


def test_every_colour_of_a_chart_has_one_for_a_dark_page():
    light = {INK, FAINT, GRID, PAPER} | {tone for style in ROLES.values() for tone in (style.colour, style.text)}
    assert light == set(DARK_FOR)
    for tone in light - {PAPER, GRID, ROLES["saved"].colour}:
        text = tone in {INK, FAINT} | {style.text for style in ROLES.values()}
        assert contrast(DARK_FOR[tone], DARK["paper"]) >= (4.5 if text else 3.0)


@pytest.mark.parametrize(
    ("colour", "ground", "published"),
    [
        ("#000000", "#ffffff", 21.0),  # WCAG 2.2: black on white is 21:1
        ("#ffffff", "#ffffff", 1.0),  # and equal colours 1:1
        ("#ff0000", "#ffffff", 3.998),  # by hand: 1.05/(0.2126 + 0.05)
        ("#0000ff", "#ffffff", 8.592),  # by hand: 1.05/(0.0722 + 0.05)
    ],
)
def test_contrast_as_published(colour, ground, published):
    assert contrast(colour, ground) == pytest.approx(published, abs=1e-3)
    assert contrast(ground, colour) == contrast(colour, ground)


def test_a_dark_colour_stays_and_a_light_one_keeps_its_hue():
    assert readable("#0072b2") == "#0072b2"
    red, green, blue = (int(readable("#56b4e9")[start : start + 2], 16) for start in (1, 3, 5))
    assert red < green < blue < 0xE9
