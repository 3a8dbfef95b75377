"""Writing numbers: what people read, and what a file holds."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.quantities.writing import THOUSANDS, number, plain

MINUS = "\N{MINUS SIGN}"


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0.0, 3, "0"),
        (-0.0, 3, "0"),
        (1.0, 3, "1"),
        (7.5, 3, "7.5"),
        (7.504, 3, "7.5"),
        (7.506, 3, "7.51"),
        (0.012345, 3, "0.0123"),
        (9.996, 3, "10"),
        (99.96, 3, "100"),
        (999.6, 3, "1" + THOUSANDS + "000"),
        (1234.0, 3, "1" + THOUSANDS + "230"),
        (1234.0, 4, "1" + THOUSANDS + "234"),
        (1234567.0, 3, "1" + THOUSANDS + "230" + THOUSANDS + "000"),
        (-12.0, 3, MINUS + "12"),
        (-0.5, 1, MINUS + "0.5"),
        (3.2e-12, 3, "3.2 × 10⁻¹²"),
        (-3.2e-12, 2, MINUS + "3.2 × 10⁻¹²"),
        (4.567e20, 3, "4.57 × 10²⁰"),
        (math.nan, 3, "not known"),
        (math.inf, 3, "unlimited"),
        (-math.inf, 3, "unlimited"),
    ],
)
def test_number_reads_as_people_write_it(value: float, digits: int, text: str) -> None:
    assert number(value, digits) == text


def _back(text: str) -> float:
    mantissa, _, power = text.replace(THOUSANDS, "").replace(MINUS, "-").partition(" × 10")
    lowered = power.translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))
    return float(f"{mantissa}e{lowered or 0}")


@given(st.floats(allow_nan=False, allow_infinity=False), st.integers(1, 9))
def test_number_keeps_its_digits_and_stays_short(value: float, digits: int) -> None:
    text = number(value, digits)
    assert len(text) <= 30
    if 1e-300 < abs(value) < 1e307:
        assert _back(text) == pytest.approx(value, rel=0.5000001 * 10 ** (1 - digits))


@given(st.floats(1e-6, 1e14), st.floats(1e-6, 1e14))
def test_number_is_monotone(first: float, second: float) -> None:
    low, high = sorted((first, second))
    assert _back(number(low)) <= _back(number(high))


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_plain_reads_back(value: float) -> None:
    assert float(plain(value)) == pytest.approx(value, rel=1e-11)
    assert len(plain(value)) <= 19
