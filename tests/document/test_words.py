from __future__ import annotations

import datetime as dt
import html
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.answers.core.statement import Amount, Range, say
from vanwater.document.words import Words, dated, in_css
from vanwater.quantities import ALTITUDE, BORE, DAY, DURATION, FLOW, LENGTH, SECONDS, STAY, VOLUME

METRIC, US = Words(), Words(us=True)
HOSTILE = ["<script>alert(1)</script>", "{{7*7}}", "]]>", '" onload="x', "'; }", "\\", "</style>", "a\u202eb\u0000c\n"]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_of_a_plan_is_only_ever_text(text):
    for shown in (METRIC(text), METRIC(say("The {x}.", x=text)), METRIC.attribute(text)):
        assert not set("<>\"'") & set(shown)
        assert "\u202e" not in shown and "\x00" not in shown and "\n" not in shown
    assert html.unescape(METRIC(text)) == METRIC.bare(text)


def test_numbers_in_bold_are_the_only_markup():
    stay = say("The {name} lasts {stay}.", name="<b>", stay=Range(2 * DAY, 3 * DAY, 4 * DAY, STAY))
    assert METRIC.bold(stay) == "The &lt;b&gt; lasts <b>3\xa0days</b> (2 to 4)."
    assert METRIC(stay) == "The &lt;b&gt; lasts 3\xa0days (2 to 4)."
    assert METRIC.bold(Amount(1e-3, VOLUME)) == "<b>1\xa0L</b>"
    assert METRIC(None) == ""


def test_text_from_right_to_left_does_not_turn_its_neighbours_round():
    assert METRIC("גג") == "<bdi>גג</bdi>"
    assert METRIC.attribute("גג") == "גג"


def test_a_cell_leaves_the_unit_to_the_heading():
    assert METRIC.cell(Amount(9.7e-5, FLOW), FLOW) == ("5.82", "")
    assert US.cell(Amount(9.7e-5, FLOW), FLOW) == ("1.54", "")
    assert METRIC.cell(Range(2 * DAY, 3 * DAY, 4 * DAY, STAY), STAY) == ("3", "(2 to 4)")
    assert METRIC.cell(Amount(1.0 * DAY, STAY), STAY) == ("1", "")


def test_a_cell_of_another_quantity_or_without_a_number_keeps_its_words():
    assert METRIC.cell(Amount(1e-3, VOLUME), FLOW) == ("1\xa0L", "")
    assert METRIC.cell(Amount(1e-3, VOLUME), None) == ("1\xa0L", "")
    assert METRIC.cell(Amount(float("nan"), FLOW), FLOW) == ("not known", "")
    assert METRIC.cell(Amount(float("inf"), STAY), STAY) == ("unlimited", "")
    assert METRIC.cell(None, FLOW) == ("", "")


def test_small_lengths_and_short_times_are_told_in_finer_units():
    assert METRIC.told_in(LENGTH, [0.018, 0.0]) is BORE
    assert METRIC.told_in(LENGTH, [0.018, 0.2]) is LENGTH
    assert METRIC.told_in(LENGTH, [0.0]) is LENGTH
    assert METRIC.told_in(LENGTH.within("0 m", "2 m"), [0.05]) is BORE
    assert US.told_in(LENGTH, [-0.05]) is BORE
    assert METRIC.told_in(DURATION, [80.0]) is SECONDS
    assert METRIC.told_in(DURATION, [600.0]) is DURATION
    assert METRIC.told_in(ALTITUDE, [650.0]) is ALTITUDE
    assert METRIC.told_in(VOLUME, [1e-5]) is VOLUME


def test_indices_of_a_formula_stand_low():
    assert METRIC.formula("h_rated − Δp < 1") == "h<sub>rated</sub> − Δp &lt; 1"
    assert METRIC.formula("_x") == "_x"


@pytest.mark.parametrize(
    ("day", "us", "text"),
    [
        (dt.date(2026, 11, 25), False, "25 November 2026"),
        (dt.date(2026, 3, 1), True, "March 1, 2026"),
    ],
)
def test_a_date_is_in_words(day, us, text):
    assert dated(day, us) == text


@given(st.text())
def test_a_css_string_holds_nothing_but_letters_digits_and_numbered_signs(text):
    quoted = in_css(text)
    assert re.fullmatch(r'"(?:[A-Za-z0-9]|\\[0-9a-f]{6})*"', quoted)
    back = re.sub(r"\\([0-9a-f]{6})", lambda found: chr(int(found[1], 16)), quoted[1:-1])
    assert back == METRIC.bare(text)
