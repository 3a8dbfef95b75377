"""From text to a number and its unit's text: every way to write a number, and the slips that are refused.

A unit library never sees a whole text: "7,5 L" would become 75 L, "3 fl oz" a femtolitre-ounce, "nan L" would pass.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from fractions import Fraction
from typing import Any

import numpy as np

from vanwater.quantities.writing import NO_BREAK, THOUSANDS

__all__ = [
    "LONGEST_TEXT",
    "SUGGESTED",
    "Bare",
    "QuantityError",
    "bare",
    "errors_in",
    "feet_and_inches",
    "in_us",
    "quoted",
    "split",
]

SUGGESTED = {
    False: frozenset(
        ("mm", "cm", "m", "cm²", "m²", "mL", "L", "L/min", "L/h", "L/day", "bar", "°C", "g", "kg", "km/h", "m/s", "%")
    ),
    True: frozenset(
        (
            "in", "ft", "in²", "ft²", "fl oz", "gal", "gal/min", "gal/h", "gal/day", "psi", "°F", "lb", "mph", "ft/s",
            "in/ft",
        )
    ),
}  # fmt: skip
"""Units that a builder is told in a suggestion: of a metric plan, and of one in US units."""

LONGEST_TEXT = 40
INCHES = 12
"""In a foot."""

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*"
    r"(?:(?P<whole>\d+)\s+(?P<top>\d+)/(?P<bottom>\d+)"  # 1 1/2
    r"|(?P<top2>\d+)/(?P<bottom2>\d+)"  # 1/2
    r"|(?P<decimal>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?))"  # 7.5, .5, 1e-3
    r"\s*(?P<unit>[^\d,\s].*|)$",
)
_FEET_AND_INCHES = re.compile(
    r"(?P<sign>[+-]?)\s*(?P<feet>\d+(?:\.\d*)?)\s*(?:feet|foot|ft|['′’])\s*"
    r"(?P<inches>[\d.][\d./ ]*?)\s*(?:inches|inch|in|[\"″”])$",
)
_COMMA = re.compile(r"([+-]?\d+),(\d+)\s*(\D.*|)$")  # 7,5 and 1,000
_SPACED = re.compile(r"([+-]?\d{1,3}) (\d{3})\s*(\D.*|)$")  # 1 000


_US: ContextVar[bool] = ContextVar("us", default=False)


@contextmanager
def errors_in(us: bool) -> Iterator[None]:
    """What is refused within it is told with examples, bounds and suggestions in US units, or in metric ones.

    Parameters
    ----------
    us : bool
        US units.
    """
    before = _US.set(us)
    try:
        yield
    finally:
        _US.reset(before)


def in_us() -> bool:
    """Whether what is refused is told in US units now."""
    return _US.get()


class Bare:
    """Mark of a number that was written down, so that it is no SI value where a unit is due."""


class _BareFloat(Bare, float):
    pass


class _BareInt(Bare, int):
    pass


def bare(number: float | np.number[Any]) -> float | int:
    """A number as a file holds one: outside a file too, it is refused where a unit is due.

    Parameters
    ----------
    number : int or float
        Any number.

    Returns
    -------
    int or float
        The same number, marked.
    """
    return _BareInt(number) if hasattr(number, "__index__") else _BareFloat(number)


class QuantityError(ValueError):
    """A text or number that is no believable value of a quantity.

    Parameters
    ----------
    message : str
        What is wrong, in one sentence.
    expected : str
        What was expected, with an example.
    slip : str
        The likely slip and its mend, or an empty text.
    """

    def __init__(self, message: str, expected: str, slip: str = "") -> None:
        self.message, self.expected, self.slip = message, expected, slip
        super().__init__(" ".join(part for part in (message, f"Expected {expected}.", slip) if part))


def feet_and_inches(text: str, expected: str) -> float | None:
    """The inches of a text such as 5 ft 2 1/2 in, with words or marks behind its numbers.

    Parameters
    ----------
    text : str
        What the user wrote.
    expected : str
        What was expected, for the error.

    Returns
    -------
    float or None
        Inches; None where the text is not written in feet and inches.

    Raises
    ------
    QuantityError
        When the feet are not whole or the inches reach a foot.
    """
    match = _FEET_AND_INCHES.match(_cleaned(text)) if len(text) <= LONGEST_TEXT else None
    if match is None:
        return None
    inches, _ = split(match["inches"], expected)
    feet = float(match["feet"])
    if not feet.is_integer() or inches >= INCHES:
        slip = "Before inches stand whole feet, and less than 12 inches behind them."
        raise QuantityError(f"{quoted(text)} is not one length.", expected, slip)
    return (-1 if match["sign"] == "-" else 1) * (INCHES * feet + inches)


def split(text: str, expected: str) -> tuple[float, str]:
    """The number and the unit's text of a text such as "1 1/2 in".

    Parameters
    ----------
    text : str
        What the user wrote.
    expected : str
        What was expected, for the error.

    Returns
    -------
    tuple
        Number, and unit with single spaces (empty when there is none).

    Raises
    ------
    QuantityError
        When the text is empty, too long, or no finite number with at most one unit.
    """
    cleaned = _cleaned(text)
    if not cleaned:
        raise QuantityError("The text is empty.", expected)
    if len(cleaned) > LONGEST_TEXT:
        raise QuantityError(f"{quoted(text)} is too long.", expected)
    match = _NUMBER.match(cleaned)
    if match is None:
        message, slip = _why_not(cleaned)
        raise QuantityError(f"{quoted(text)} {message}.", expected, slip)
    got = match.groupdict()
    bottom = int(got["bottom"] or got["bottom2"] or 1)
    if bottom == 0:
        raise QuantityError(f"{quoted(text)} divides by zero.", expected)
    if got["decimal"]:
        number = float(got["decimal"])
    else:
        number = float(int(got["whole"] or 0) + Fraction(int(got["top"] or got["top2"]), bottom))
    if not math.isfinite(number):
        raise QuantityError(f"{quoted(text)} is not a finite number.", expected)
    return (-number if got["sign"] == "-" else number), " ".join(got["unit"].split())


def quoted(value: object) -> str:
    """A value as an error quotes it: printable and at most a line.

    Parameters
    ----------
    value : object
        Anything that was given in place of a quantity.

    Returns
    -------
    str
        Texts in quotation marks, other things as Python shows them, control characters as "?".
    """
    try:
        text = f'"{value[: 2 * LONGEST_TEXT]}"' if isinstance(value, str) else repr(value)
    except ValueError:
        text = "a number of thousands of digits"
    text = "".join(letter if letter.isprintable() else "?" for letter in text[: 3 * LONGEST_TEXT])
    if len(text) <= LONGEST_TEXT + 2:
        return text
    return text[: LONGEST_TEXT - 1] + ('…"' if isinstance(value, str) else "…")


def _cleaned(text: str) -> str:
    return text.strip().replace("\N{MINUS SIGN}", "-").replace(NO_BREAK, " ").replace(THOUSANDS, "")


def _why_not(cleaned: str) -> tuple[str, str]:
    """What is wrong with a text that is no number with a unit, and its mend."""
    if comma := _COMMA.match(cleaned):
        head, tail, unit = (quoted(part)[1:-1] for part in comma.groups())
        point = f'"{head}.{tail} {unit.strip()}'.strip() + '"'
        whole = f'"{head}{tail} {unit.strip()}'.strip() + '"'
        mend = f"Write {whole} or {point}." if len(tail) == 3 else f"Write a decimal point: {point}."
        return "has a comma in its number", mend
    if spaced := _SPACED.match(cleaned):
        head, tail, unit = (quoted(part)[1:-1] for part in spaced.groups())
        return "has a space in its number", f'Did you mean "{head}{tail} {unit.strip()}'.strip() + '"?'
    if re.match(r"[+-]?\s*\.?\d", cleaned):
        return "is not one number with one unit", ""
    return "does not start with a number", ""
