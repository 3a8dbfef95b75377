"""From a number to what people read: three digits, thin-spaced thousands, a true minus."""

from __future__ import annotations

import math

__all__ = ["NO_BREAK", "STEPPED", "THOUSANDS", "fraction", "joined", "number", "places_of", "plain", "stepped"]

NO_BREAK = "\N{NO-BREAK SPACE}"
THOUSANDS = "\N{NARROW NO-BREAK SPACE}"
SMALLEST_PLAIN, LARGEST_PLAIN = 1e-6, 1e15
"""Numbers outside are written with a power of ten."""

STEPPED, _ALL_DIGITS = 4, 12
"""Digits up to which a step counts."""

_TEN = 9.95
"""What is told as ten or more."""

_NO_PART = 1e-6
"""Share of a part that a size may be off by rounding."""

_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def number(value: float, digits: int = 3) -> str:
    """A number as people read it: ``digits`` significant digits, thin-spaced thousands, a true minus.

    Parameters
    ----------
    value : float
        Number in the unit it is shown in.
    digits : int
        Significant digits of the part that may be rounded.

    Returns
    -------
    str
        The text, "not known" for NaN, "unlimited" for infinity.
    """
    if math.isnan(value):
        return "not known"
    if math.isinf(value):
        return "unlimited"
    if value == 0:
        return "0"
    if not SMALLEST_PLAIN <= abs(value) < LARGEST_PLAIN:
        mantissa, exponent = f"{value:.{digits - 1}e}".split("e")
        power = str(int(exponent)).translate(_RAISED)
        return f"{number(float(mantissa), digits)} × 10{power}"
    places = places_of(value, digits) or 0
    rounded = round(value, places)
    text = f"{abs(rounded):,.{max(places, 0)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    text = text.replace(",", THOUSANDS)
    return f"\N{MINUS SIGN}{text}" if rounded < 0 else text


def places_of(value: float, digits: int) -> int | None:
    """Decimal places of so many significant digits; None of what is nothing or not finite."""
    return digits - 1 - math.floor(math.log10(abs(value))) if value and math.isfinite(value) else None


def stepped(value: float, steps: tuple[float, float], digits: int, places: int | None = None) -> float:
    """A number at the nearest step that is told of it.

    Parameters
    ----------
    value : float
        Number in the unit it is shown in.
    steps : tuple of two floats
        The step from ten on, and below ten.
    digits : int
        Significant digits that are asked for; each beyond four, which tell two numbers apart, makes the step a tenth.
    places : int, optional
        Decimal places to which it is rounded then. Where a step is no coarser, they alone round it: what is rounded
        twice may end at the wrong neighbour.

    Returns
    -------
    float
        The number told; what is not finite stays.
    """
    if not math.isfinite(value):
        return value
    coarse, fine = steps
    step = (coarse if abs(value) >= _TEN else fine) * 10.0 ** min(0, STEPPED - digits)
    if places is not None and 10.0**-places >= step:
        return value
    return round(round(value / step) * step, _ALL_DIGITS)


def joined(shown: str, unit: str) -> str:
    """A number and its unit by a no-break space; a degree of angle stands close to its number."""
    return f"{shown}{'' if unit in ('', '°') else NO_BREAK}{unit}"


def fraction(value: float, parts: int) -> str:
    """A size as it is sold: whole numbers and a fraction.

    Parameters
    ----------
    value : float
        Number in the unit it is shown in.
    parts : int
        Parts of the unit that sizes are counted in, a power of two.

    Returns
    -------
    str
        Such as "3/4" or "1 1/2"; empty where it is no whole number of parts.
    """
    count = round(value * parts) if math.isfinite(value) else 0
    if count <= 0 or abs(value * parts - count) > _NO_PART:
        return ""
    whole, rest = divmod(count, parts)
    shared = math.gcd(rest, parts)
    return " ".join(filter(None, (str(whole or ""), f"{rest // shared}/{parts // shared}" if rest else "")))


def plain(value: float) -> str:
    """A number as a file holds it: twelve significant digits, no thin spaces.

    Parameters
    ----------
    value : float
        Number in the unit it is written in.

    Returns
    -------
    str
        A text that reads back to the same number within one part in 10¹¹.
    """
    return f"{value:.12g}"
