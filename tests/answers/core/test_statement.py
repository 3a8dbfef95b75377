from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.answers.core.statement import Amount, BySystem, Count, Range, Say, harmless, say
from vanwater.quantities import DAY, FLOW, PRESSURE, STAY, TEMPERATURE, VOLUME

NBSP = "\N{NO-BREAK SPACE}"


def spaced(text: str) -> str:
    return text.replace(NBSP, " ")


# --- amounts and ranges ------------------------------------------------------------------------------


def test_amount_reads_in_both_systems_of_units():
    shower = Amount(9.7e-5, FLOW)
    assert spaced(shower.text()) == "5.82 L/min"
    assert spaced(shower.text(us=True)) == "1.54 gal/min"
    assert spaced(Amount(9.7e-5, FLOW, digits=2).text()) == "5.8 L/min"


def test_amount_that_is_not_known_or_without_end_carries_no_unit():
    assert Amount(math.nan, FLOW).text() == "not known"
    assert Amount(math.inf, STAY).text() == "unlimited"


@pytest.mark.parametrize(
    ("low", "likely", "high", "factor", "quantity", "text"),
    [
        (2.6, 3.4, 4.3, DAY, STAY, "3.4 days (2.6 to 4.3)"),
        (0.282, 0.313, 0.358, 1e5, PRESSURE, "0.31 bar (0.28 to 0.36)"),
        (2.61, 3.02, 4.33, DAY, STAY, "3.0 days (2.6 to 4.3)"),
        (11.93, 12.31, 12.77, 1e-3 / 60, FLOW, "12.3 L/min (11.9 to 12.8)"),
        (81.0, 104.0, 133.0, 1e-3, VOLUME, "100 L (80 to 130)"),
        (0.9, 2.0, 100.0, 1e-3, VOLUME, "2 L (1 to 100)"),
        (3.4, 3.4, 3.4, DAY, STAY, "3.4 days"),
        (1.0, 1.0, 1.0, DAY, STAY, "1 day"),
        (3.4, 3.40001, 3.40002, DAY, STAY, "3.4 days"),
        (2.6, 3.4, math.inf, DAY, STAY, "3.4 days (2.6 to unlimited)"),
        (math.nan, 3.4, math.nan, DAY, STAY, "3.4 days (range not known)"),
        (12.0, math.inf, math.inf, DAY, STAY, "unlimited (from 12 days)"),
        (math.nan, math.nan, math.nan, DAY, STAY, "not known"),
        (0.0, 0.0, 0.0, 1e-3, VOLUME, "0 L"),
        (0.0, 0.0, 1.5, 1e-3, VOLUME, "0.0 L (0.0 to 1.5)"),
    ],
)
def test_range_keeps_the_digits_that_its_width_deserves(low, likely, high, factor, quantity, text):
    assert spaced(Range(low * factor, likely * factor, high * factor, quantity).text()) == text


def test_range_of_temperatures_is_rounded_in_the_unit_it_is_shown_in():
    cold = Range(273.15 - 12.4, 273.15 - 9.8, 273.15 - 6.1, TEMPERATURE)
    assert spaced(cold.text()) == "−10 °C (−12 to −6)"
    assert spaced(cold.text(us=True)) == "14 °F (10 to 21)"


def test_range_uses_thin_spaces_in_thousands():
    assert "1\N{NARROW NO-BREAK SPACE}200" in Range(1.1, 1.2, 1.35, VOLUME).text()


@given(st.floats(-1e3, 1e3), st.floats(0, 1e3), st.floats(0, 1e3), st.booleans())
def test_range_texts_are_in_order(likely, down, up, us):
    head, ends = Range(likely * 1e-3, likely * 1e-3, likely * 1e-3, VOLUME).parts(us)
    assert not ends
    head, ends = Range((likely - down) * 1e-3, likely * 1e-3, (likely + up) * 1e-3, VOLUME).parts(us)
    if ends:
        texts = [*ends.strip("()").split(" to "), head.split(NBSP)[0]]
        low, high, middle = (float(text.replace("−", "-").replace("\N{NARROW NO-BREAK SPACE}", "")) for text in texts)
        assert low <= middle <= high


def test_a_range_below_what_is_told_says_so():
    held = Range(273.15 - 69.0, 273.15 - 64.0, 273.15 - 52.0, TEMPERATURE)
    assert spaced(held.text()) == "below −60 °C (to −52)"
    assert spaced(held.text(us=True)) == "below −76 °F (to −62)"
    assert spaced(replace(held, likely=273.15 - 55.0).text()) == "−55 °C (below −60 to −52)"
    assert spaced(Amount(203.15, TEMPERATURE).text()) == "below −60 °C"
    assert spaced(Amount(213.15, TEMPERATURE).text()) == "−60 °C"


def test_what_reads_alike_and_is_not_gets_more_digits():
    def told(one, other, quantity, us=False):
        return spaced(say("{a} below {b}", a=Amount(one, quantity, 2), b=Amount(other, quantity, 2)).text(us))

    assert told(1.36e5, 1.4e5, PRESSURE) == "1.36 bar below 1.4 bar"
    assert told(1.4e5, 1.4e5, PRESSURE) == "1.4 bar below 1.4 bar"
    assert told(1.2e5, 1.4e5, PRESSURE) == "1.2 bar below 1.4 bar"
    assert told(273.15 + 42.8, 273.15 + 43.1, TEMPERATURE) == "42.8 °C below 43.1 °C"


def test_but_never_six_digits_which_nobody_can_build_to():
    def told(one, other):
        return spaced(say("{a} and {b}", a=Amount(one, PRESSURE), b=Amount(other, PRESSURE)).text())

    assert told(1.0001e5, 1.0004e5) == "1.0001 bar and 1.0004 bar"
    assert told(1.00001e5, 1.00004e5) == "1 bar and 1 bar"


def test_a_size_is_said_in_one_system():
    said = say("Take {size}.", size=BySystem("10 mm", "0.39 in"))
    assert (said.text(), said.text(us=True)) == ("Take 10 mm.", "Take 0.39 in.")


def test_count_has_a_plural():
    assert spaced(Count(1, "shower").text()) == "1 shower"
    assert spaced(Count(0, "shower").text()) == "0 showers"
    assert spaced(Count(2, "battery", "batteries").text()) == "2 batteries"


# --- sentences ---------------------------------------------------------------------------------------


def test_a_sentence_keeps_its_numbers_until_it_is_read():
    said = say("The {outlet} gives {flow}.", outlet="shower", flow=Amount(9.7e-5, FLOW))
    assert spaced(said.text()) == "The shower gives 5.82 L/min."
    assert spaced(said.text(us=True)) == "The shower gives 1.54 gal/min."
    assert said.amounts == (Amount(9.7e-5, FLOW),)


def test_sentences_nest_and_enumerate():
    inner = say("{volume} a day", volume=Amount(0.012, VOLUME))
    said = say("{names} use {what}, {n} times.", names=("shower", "basin", "sink"), what=inner, n=2)
    assert spaced(said.text()) == "shower, basin and sink use 12 L a day, 2 times."
    assert said.amounts == inner.amounts
    assert say("{a}", a=("one",)).text() == "one"
    assert say("{a}", a=("one", "two")).text() == "one and two"


def test_only_a_plans_own_text_is_escaped_also_in_nested_sentences():
    said = say("{tank} holds {what}", tank="<b>&", what=say("{name} for {stay}", name="<i>", stay=Amount(DAY, STAY)))
    assert spaced(said.text(escape=harmless("html"))) == "&lt;b&gt;&amp; holds &lt;i&gt; for 1 day"


def test_numbers_can_be_set_off_without_their_range():
    said = say("Grey is full after {stay}.", stay=Range(2.6 * DAY, 3.4 * DAY, 4.3 * DAY, STAY))
    assert spaced(said.text(strong=lambda text: f"*{text}*")) == "Grey is full after *3.4 days* (2.6 to 4.3)."


def test_without_an_escape_control_codes_still_go():
    assert say("{a}", a="x\x1b[31m\ny").text() == "x[31m y"


def test_a_plans_text_that_looks_like_a_hole_stays_text():
    assert say("{a} and {b}", a="{b}", b="{a.__class__}").text() == "{b} and {a.__class__}"


@pytest.mark.parametrize(
    ("template", "given_"),
    [
        ("{a}", {}),
        ("{a}", {"a": "x", "b": "y"}),
        ("no holes", {"a": "x"}),
        ("{a:>3}", {"a": "x"}),
        ("{a!r}", {"a": "x"}),
        ("{a.real}", {"a": 1}),
        ("{}", {}),
        ("<b>{a}</b>", {"a": "x"}),
        ("$5", {}),
        ("[red]", {}),
    ],
)
def test_a_slip_in_a_template_is_found_when_it_is_made(template, given_):
    with pytest.raises(ValueError, match="template"):
        say(template, **given_)


def test_sentences_are_equal_by_content_and_hashable():
    assert say("{a}", a="x") == say("{a}", a="x") != say("{a}", a="y")
    assert len({say("{a}", a="x"), say("{a}", a="x")}) == 1
    assert isinstance(say("so"), Say)
