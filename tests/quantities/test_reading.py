"""Reading text: every way to write a number, and every slip that must not pass.

The slips are those that a unit library lets through or hangs on (pint 0.25: "7,5 L" is 75 L, "3 fl oz" a
femtolitre-ounce, "6 ft 2 in" 12 ft·in, "20 C" coulomb, "nan L" passes, "9**9**9 L" hangs).
"""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from vanwater.quantities import (
    BORE,
    FLOW,
    LENGTH,
    MASS,
    MONEY,
    PRESSURE,
    QUANTITIES,
    RATIO,
    SHARE,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLUME,
    Quantity,
    QuantityError,
    errors_in,
)
from vanwater.quantities.reading import LONGEST_TEXT, quoted, split

FEET_AND_INCHES = "Before inches stand whole feet, and less than 12 inches behind them."
NO_BREAK, THIN = "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}"


@pytest.mark.parametrize(
    ("quantity", "text", "si"),
    [
        (VOLUME, "75 L", 0.075),
        (VOLUME, "75L", 0.075),
        (VOLUME, "  75   L  ", 0.075),
        (VOLUME, f"75{NO_BREAK}L", 0.075),
        (VOLUME, f"1{THIN}000{NO_BREAK}L", 1.0),
        (VOLUME, "+.5 L", 0.0005),
        (VOLUME, "5. L", 0.005),
        (VOLUME, "1e-3 m3", 0.001),
        (VOLUME, "7.5e1 L", 0.075),
        (VOLUME, "3 fl oz", 3 * 231 * 0.0254**3 / 128),
        (VOLUME, "3   fl   oz", 3 * 231 * 0.0254**3 / 128),
        (VOLUME, "10 gal", 0.03785411784),
        (VOLUME, "10 imp gal", 0.0454609),
        (VOLUME, "10 gallons", 0.03785411784),
        (VOLUME, "1 gallon", 0.003785411784),
        (VOLUME, "3 ft3", 3 * 0.3048**3),
        (VOLUME, "2.5 ft³", 2.5 * 0.3048**3),
        (MASS, "320 pounds", 320 * 0.45359237),
        (MASS, "1 pound", 0.45359237),
        (LENGTH, "2' 6\"", 0.762),
        (LENGTH, "2'6\"", 0.762),
        (LENGTH, "5 ft 2 in", 1.5748),
        (LENGTH, "5 feet 2 inches", 1.5748),
        (LENGTH, "5ft2in", 1.5748),
        (LENGTH, "-5 ft 2 1/2 in", -1.5875),
        (LENGTH, "0' 7.5\"", 0.1905),
        (LENGTH, "8′ 11″", 2.7178),
        (LENGTH, '6"', 0.1524),
        (LENGTH, "6'", 1.8288),
        (BORE, '1/2"', 0.0127),
        (LENGTH, "1/2 in", 0.0127),
        (LENGTH, "1 1/2 in", 0.0381),
        (LENGTH, "-1 1/2 in", -0.0381),
        (LENGTH, "- 3 m", -3.0),
        (BORE, "3/8in", 0.009525),
        (BORE, "9.53 mm", 0.00953),
        (TEMPERATURE, "-12 °C", 261.15),
        (TEMPERATURE, "\N{MINUS SIGN}12 °C", 261.15),
        (TEMPERATURE, "5 °F", 258.15),
        (TEMPERATURE_DIFFERENCE, "4 K", 4.0),
        (TEMPERATURE_DIFFERENCE, "9 °F", 5.0),
        (SHARE, "85 %", 0.85),
        (SHARE, "0.85", 0.85),
        (RATIO, "1.2", 1.2),
        (MONEY, "120 EUR", 120.0),
        (MONEY, "5EUR", 5.0),
        (PRESSURE, "45 psi", 45 * 4.4482216152605 / 0.0254**2),
        (FLOW, "3 gpm", 3 * 231 * 0.0254**3 / 60),
        (FLOW, "11 lpm", 11e-3 / 60),
    ],
)
def test_text_is_read_as_a_builder_means_it(quantity: Quantity, text: str, si: float) -> None:
    assert quantity.read(text) == pytest.approx(si, rel=1e-9, abs=1e-15)


def test_a_temperature_difference_gets_no_offset_of_fahrenheit() -> None:
    assert TEMPERATURE.read("40 °F") == pytest.approx(277.594444444)
    assert TEMPERATURE_DIFFERENCE.read("40 °F") == pytest.approx(22.222222222)


def test_us_and_imperial_gallons_are_told_apart() -> None:
    assert VOLUME.read("1 imp gal") / VOLUME.read("1 gal") == pytest.approx(1.200949926, rel=1e-9)  # SP 811 App. B
    assert VOLUME.read("1 imperial gallon") / VOLUME.read("1 gallon") == pytest.approx(1.200949926, rel=1e-9)


@pytest.mark.parametrize(
    ("quantity", "text", "message", "slip"),
    [
        (VOLUME, "7,5 L", "comma", 'Write a decimal point: "7.5 L".'),
        (VOLUME, "-7,5 L", "comma", 'Write a decimal point: "-7.5 L".'),
        (VOLUME, "1,000 L", "comma", 'Write "1000 L" or "1.000 L".'),
        (VOLUME, "7,5", "comma", 'Write a decimal point: "7.5".'),
        (VOLUME, "1 000 L", "space in its number", 'Did you mean "1000 L"?'),
        (VOLUME, "6 2 L", "not one number", ""),
        (VOLUME, "", "empty", ""),
        (VOLUME, "   ", "empty", ""),
        (VOLUME, "litres", "does not start with a number", ""),
        (VOLUME, "L 75", "does not start with a number", ""),
        (VOLUME, "nan L", "does not start with a number", ""),
        (VOLUME, "inf L", "does not start with a number", ""),
        (VOLUME, "-inf L", "does not start with a number", ""),
        (VOLUME, "1e999 L", "not a finite number", ""),
        (VOLUME, "1/0 L", "divides by zero", ""),
        (VOLUME, "1 1/0 L", "divides by zero", ""),
        (VOLUME, "9**9**9 L", "not a unit of volume", "Write it as one number with one unit."),
        (VOLUME, "75 L/min", "not a unit of volume", '"L/min" is a unit of flow.'),
        (VOLUME, "75 bar", "not a unit of volume", '"bar" is a unit of pressure.'),
        (VOLUME, "75 kg L", "not a unit of volume", ""),
        (VOLUME, "75 ML", "not a unit of volume", 'Did you mean "mL"?'),
        (VOLUME, "75", "has no unit", 'Did you mean "75 L"?'),
        (VOLUME, "-3 L", "not believable as a volume", ""),
        (VOLUME, "75 m3", "not believable as a volume", 'Did you mean "75 L"?'),
        (LENGTH, "6 ft 12 in", "not one length", FEET_AND_INCHES),
        (LENGTH, "6.5 ft 2 in", "not one length", FEET_AND_INCHES),
        (LENGTH, "6 ft 1/0 in", "divides by zero", ""),
        (LENGTH, "6 in 2 ft", "not a unit of length", "Write it as one number with one unit."),
        (VOLUME, "6 ft 2 in", "not a unit of volume", ""),
        (BORE, "12 m", "not believable as a bore", 'Did you mean "12 mm"?'),
        (TEMPERATURE, "20 C", "not clear", 'Did you mean "°C"? A bare C is coulomb.'),
        (TEMPERATURE, "68 F", "not clear", 'Did you mean "°F"? A bare F is farad.'),
        (TEMPERATURE, "-400 °F", "not believable as a temperature", ""),
        (TEMPERATURE, "12", "has no unit", 'Did you mean "12 °C"?'),
        (PRESSURE, "45 psia", "not clear", 'Gauge is meant: write "psi" above the atmosphere.'),
        (PRESSURE, "45", "has no unit", ""),
        (FLOW, "11 L", "not clear", 'Did you mean "L/min"?'),
        (SHARE, "85", "not believable as a share", 'Did you mean "85 %"?'),
        (SHARE, "120 %", "not believable as a share", ""),
    ],
)
def test_slips_are_refused_with_their_mend(quantity: Quantity, text: str, message: str, slip: str) -> None:
    with pytest.raises(QuantityError) as caught:
        quantity.read(text)
    error = caught.value
    assert message in error.message
    assert error.slip == slip
    assert quantity.example in error.expected or " to " in error.expected
    assert str(error).startswith(error.message)
    assert error.expected in str(error)
    assert isinstance(error, ValueError)


@pytest.mark.parametrize("thing", [True, False, None, b"75 L", ["75 L"], {"value": 75}, 3j, object()])
def test_only_text_and_numbers_are_read(thing: object) -> None:
    with pytest.raises(QuantityError, match="is no volume"):
        VOLUME.read(thing)


@pytest.mark.parametrize("text", ["5" * 5000 + " L", "5 " + "L" * 5000, "5,5" + "L" * 5000, "7" + " " * 99 + "L"])
def test_long_text_is_refused_in_a_short_line(text: str) -> None:
    with pytest.raises(QuantityError, match="too long") as caught:
        VOLUME.read(text)
    assert len(str(caught.value)) < 200


def test_text_of_the_longest_length_is_still_read() -> None:
    assert VOLUME.read("0" * (LONGEST_TEXT - 3) + "7 L") == pytest.approx(0.007)
    with pytest.raises(QuantityError, match="too long"):
        VOLUME.read("0" * (LONGEST_TEXT - 2) + "7 L")


@pytest.mark.parametrize("text", ["\x1b[31m7 L", "7\x1b[31m L", "7,5\x07 L", "\x007 L", "7\x00", "7 L\u202e", "\x9b7"])
def test_control_characters_never_reach_the_message(text: str) -> None:
    with pytest.raises(QuantityError) as caught:
        VOLUME.read(text)
    assert str(caught.value).replace(NO_BREAK, "").replace(THIN, "").isprintable()


def test_quoted_is_printable_and_short() -> None:
    assert quoted("7 L") == '"7 L"'
    assert quoted(7) == "7"
    assert quoted(b"7") == "b'7'"
    assert quoted("a\tb") == '"a?b"'
    assert quoted("x" * 100) == '"' + "x" * (LONGEST_TEXT - 2) + '…"'
    assert quoted([0] * 100) == str([0] * 100)[: LONGEST_TEXT - 1] + "…"
    assert quoted(10**5000) == "a number of thousands of digits"


def test_split_gives_number_and_unit() -> None:
    assert split("1 1/2   fl \t oz", "a volume") == (1.5, "fl oz")
    assert split("-7", "a number") == (-7.0, "")
    assert math.copysign(1.0, split("-0 L", "a volume")[0]) == -1.0
    with pytest.raises(QuantityError, match="not a finite number"):
        split("1e999", "a number")


@given(st.integers(0, 64), st.floats(0, 11.99))
def test_feet_and_inches_are_the_inches_of_both(feet: int, inches: float) -> None:
    expected = (12 * feet + float(f"{inches:.6f}")) * 0.0254
    assert LENGTH.read(f"{feet} ft {inches:.6f} in") == pytest.approx(expected, rel=1e-12)
    assert LENGTH.read(f"-{feet}' {inches:.6f}\"") == pytest.approx(-expected, rel=1e-12)


@pytest.mark.parametrize(
    ("quantity", "text", "metric", "us"),
    [
        (VOLUME, "40", '"40 L"', '"40 gal"'),
        (FLOW, "2", '"2 L/min"', '"2 gal/min"'),
        (BORE, "1", '"1 mm"', '"1 in"'),
        (TEMPERATURE, "60", '"60 °C"', '"60 °F"'),
        (MASS, "100", '"100 kg"', '"100 lb"'),
        (LENGTH, "8", '"8 m"', '"8 ft"'),
    ],
)
def test_a_us_plan_is_told_us_units(quantity: Quantity, text: str, metric: str, us: str) -> None:
    for in_us, meant in ((False, metric), (True, us)):
        with errors_in(in_us), pytest.raises(QuantityError) as caught:
            quantity.read(text)
        assert caught.value.slip == f"Did you mean {meant}?"


@given(st.sampled_from(QUANTITIES), st.floats(-1e9, 1e9))
def test_nothing_metric_is_suggested_in_us_units(quantity: Quantity, number: float) -> None:
    metric = {"L", "mL", "m", "cm", "mm", "bar", "kPa", "°C", "kg", "L/min", "m³", "km/h", "m²", "L/day"}
    with errors_in(True):
        try:
            quantity.read(f"{number!r}")
        except QuantityError as error:
            units = {text.partition(" ")[2] for text in re.findall(r'"(.+?)"', f"{error.expected} {error.slip}")}
            assert not units & metric
            bounds = error.expected.split(" to ")
            assert quantity.us == quantity.metric or not {text.partition(NO_BREAK)[2] for text in bounds} & metric
        example = quantity.told_example
    assert quantity.low <= quantity.read(example) <= quantity.high


@given(st.sampled_from(QUANTITIES), st.floats(-1e9, 1e9))
@example(VOLUME.within("0.1 L", "30 L"), 0.05)
def test_nothing_of_the_united_states_is_suggested_in_metric_units(quantity: Quantity, number: float) -> None:
    us = {
        "gal",
        "fl oz",
        "qt",
        "pt",
        "cup",
        "ft",
        "in",
        "ft³",
        "in³",
        "psi",
        "in Hg",
        "°F",
        "lb",
        "oz",
        "gal/min",
        "mph",
    }
    with errors_in(False):
        try:
            quantity.read(f"{number!r}")
        except QuantityError as error:
            assert not {text.partition(" ")[2] for text in re.findall(r'"(.+?)"', error.slip)} & us


@given(st.text(max_size=60) | st.from_regex(r"\A[+-]?\d{0,4}[.,/ ]?\d{0,4} ?[a-zA-Z°³µ/% ]{0,8}\Z"))
@example("9**9**9 L")
@example("٣ L")
@example("²/³ in")
@example("1/2/3 in")
@example("0x10 L")
@example("1_000 L")
@example("1e5e5 L")
def test_any_text_gives_a_believable_number_or_a_quantity_error(text: str) -> None:
    for quantity in QUANTITIES:
        try:
            value = quantity.read(text)
        except QuantityError as error:
            assert len(str(error)) < 400
            assert error.message
        else:
            assert quantity.low <= value <= quantity.high


@given(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.binary(max_size=50)
    | st.lists(st.integers(), max_size=5)
    | st.sampled_from([10**400, -(10**400), 10**5000, float("nan"), float("inf")])
)
def test_any_other_thing_gives_a_believable_number_or_a_quantity_error(thing: object) -> None:
    for quantity in QUANTITIES:
        try:
            value = quantity.read(thing)
        except QuantityError as error:
            assert len(str(error)) < 400
        else:
            assert quantity.si == "1"
            assert quantity.low <= value <= quantity.high


@given(st.sampled_from(QUANTITIES), st.floats(-1e9, 1e9), st.data())
def test_a_suggested_text_can_be_read(quantity: Quantity, number: float, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(["", *quantity.spellings]))
    try:
        quantity.read(f"{number!r} {unit}")
    except QuantityError as error:
        for suggestion in re.findall(r'Did you mean "(.+)"\?', error.slip):
            assert quantity.low <= quantity.read(suggestion) <= quantity.high


@given(st.sampled_from(QUANTITIES), st.data())
def test_reading_is_monotone(quantity: Quantity, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(list(quantity.spellings)))
    low, high = (float(quantity.spellings[unit].from_si(bound)) for bound in (quantity.low, quantity.high))
    first, second = sorted(data.draw(st.tuples(st.floats(low, high), st.floats(low, high))))
    assert quantity.read(f"{first:.15g} {unit}") <= quantity.read(f"{second:.15g} {unit}")


@given(st.integers(0, 40), st.integers(1, 64), st.integers(1, 64))
def test_fractions_equal_their_quotient(whole: int, top: int, bottom: int) -> None:
    assert RATIO.read(f"{whole} {top}/{bottom}") == pytest.approx(whole + top / bottom, rel=1e-12)
    assert RATIO.read(f"{top}/{bottom}") == pytest.approx(top / bottom, rel=1e-12)
