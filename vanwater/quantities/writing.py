"""From a number to what people read: three digits, thin-spaced thousands, a true minus."""

from __future__ import annotations

import math

__all__ = ["NO_BREAK", "THOUSANDS", "number", "plain"]

NO_BREAK = "\N{NO-BREAK SPACE}"
THOUSANDS = "\N{NARROW NO-BREAK SPACE}"
SMALLEST_PLAIN, LARGEST_PLAIN = 1e-6, 1e15
"""Numbers outside are written with a power of ten."""

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
    places = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, places)
    text = f"{abs(rounded):,.{max(places, 0)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    text = text.replace(",", THOUSANDS)
    return f"\N{MINUS SIGN}{text}" if rounded < 0 else text


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
