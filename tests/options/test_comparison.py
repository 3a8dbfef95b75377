"""What a comparison shows: tables, data frames, charts."""

from __future__ import annotations

import math

import pytest

from tests.compared import BARE, LONGER, family
from vanwater.answers.core.difference import is_sure
from vanwater.options.comparison import Comparison
from vanwater.options.variants import compare


@pytest.fixture(scope="module")
def told() -> Comparison:
    return family()


def test_a_difference_is_the_variant_less_the_plan(told: Comparison) -> None:
    checked = 0
    for line in told.lines:
        for number, more in zip(line.each, line.differences, strict=True):
            if number is not None and line.base is not None and math.isfinite(number.likely - line.base.likely):
                assert more is not None
                assert more.likely == pytest.approx(number.likely - line.base.likely, rel=1e-12, abs=1e-300)
                assert more.quantity.si == line.base.quantity.si
                checked += 1
    assert checked > 100


def test_the_headline_stands_first_in_words_with_what_ends_the_stay(told: Comparison) -> None:
    text = told.headline.text()
    for words in ("days off-grid", "what ends the stay", "flow at the shower", "mixed water from one charge"):
        assert words in text
    for words in ("lowest cold", "water, everything full", "payload left", "all loads of the battery"):
        assert words in text
    assert "The grey tank is full" in text and "Fresh water runs out" in text
    assert "+34\N{NO-BREAK SPACE}kg" in text and "\N{MINUS SIGN}1\N{NARROW NO-BREAK SPACE}500" in text
    assert "may be none" in text  # the days: a longer grey tank helps until the fresh one ends
    (less, _) = told["stay.days"].differences
    assert less is not None and not is_sure(less)


def test_money_is_left_out_where_no_part_has_a_price(told: Comparison) -> None:
    assert "plan.price" not in {line.key for line in told.lines}
    assert "Money is left out: no part of the plans names a price." in [note.text() for note in told.notes]


def test_the_frame_holds_plain_numbers_by_key(told: Comparison) -> None:
    frame = told.frame()
    assert frame.loc["stay.days", "unit"] == "days"
    line = told["stay.days"]
    assert line.base is not None
    assert frame.loc["stay.days", "as planned"] == pytest.approx(line.base.likely / 86400)
    si = told.frame(si=True).loc["tank.grey.usable"]
    assert si[f"{LONGER.name}, difference"] == pytest.approx(si[LONGER.name] - si["as planned"])
    assert si[f"{LONGER.name}, low"] <= si[f"{LONGER.name}, difference"] <= si[f"{LONGER.name}, high"]
    assert si[f"{LONGER.name}, sure"] and told.frame(us=True).loc["tank.grey.usable", "unit"] == "gal"


def test_a_number_is_asked_by_its_key(told: Comparison) -> None:
    assert told["tank.fresh.usable"].base is not None
    with pytest.raises(KeyError, match=r'Did you mean \\?"tank\.grey\.days'):
        told["tank.grey.dais"]


def test_it_shows_itself_in_a_notebook(told: Comparison) -> None:
    assert repr(told).startswith("<as planned beside longer grey")
    assert told._repr_html_().count("<table") == 2


def test_what_is_changed_stands_beside_what_was_planned(told: Comparison) -> None:
    text = told.changes.text()
    assert "tanks.grey.length" in text and "1.1 m" in text and "inverter" in text and "diesel" in text
    assert BARE.name in text


def test_narrow_places_have_ranges_at_the_differences_alone(told: Comparison) -> None:
    alone = compare(told.base.plan, [LONGER])
    assert "(2.0 to 3.3)" in alone.headline.text() and "(2.0 to 3.3)" not in alone.likely().text()
    assert "difference" in alone.likely(everything=True).text()
