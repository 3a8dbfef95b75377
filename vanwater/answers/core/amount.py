"""A number as it is shown: an amount, or a likely value with the two ends between which it is expected.

Both are views of a :class:`vanwater.answers.core.number.Number`, which knows its key, its sum and its source;
only the core makes them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from vanwater.quantities import NO_BREAK, THOUSANDS, Quantity, joined, number

if TYPE_CHECKING:
    from vanwater.answers.core.number import Number

__all__ = ["Amount", "Range"]

_RANGE_UNKNOWN = "range not known"


@dataclass(frozen=True, slots=True)
class Amount:
    """A number of a quantity.

    Parameters
    ----------
    value : float
        Value in the SI unit of the quantity.
    quantity : Quantity
        What it is a number of.
    digits : int
        Significant digits that are shown.
    number : Number, optional
        What it is a view of.
    """

    value: float
    quantity: Quantity
    digits: int = 3
    number: Number | None = field(default=None, compare=False, repr=False)

    def text(self, us: bool = False) -> str:
        """Number and unit, such as "5.82 L/min"; "not known" or "unlimited" stand alone."""
        if not math.isfinite(self.value):
            return number(self.value)
        if self.value < self.quantity.lowest_told:
            return f"below {self.quantity.text(self.quantity.lowest_told, us)}"
        ranged = self.number.shown if self.number is not None and self.value == self.number.likely else None
        if isinstance(ranged, Range) and ranged.quantity is self.quantity:  # never finer than its range
            return replace(ranged, digits=min(self.digits, ranged.digits)).parts(us)[0]
        return self.quantity.text(self.value, us, self.digits)


@dataclass(frozen=True, slots=True)
class Range:
    """A likely value and the two ends between which it is expected.

    Parameters
    ----------
    low, likely, high : float
        Values in the SI unit of the quantity.
    quantity : Quantity
        What they are numbers of.
    digits : int
        Significant digits that are shown at most; the width of the range may allow fewer.
    number : Number, optional
        What it is a view of.
    none : str
        What it means where the low end is none and the likely value is not; told in its place.
    """

    low: float
    likely: float
    high: float
    quantity: Quantity
    digits: int = 3
    number: Number | None = field(default=None, compare=False, repr=False)
    none: str = ""

    @property
    def amount(self) -> Amount:
        """The likely value alone."""
        return Amount(self.likely, self.quantity, self.digits, self.number)

    def parts(self, us: bool = False) -> tuple[str, str]:
        """The likely value with its unit, and the two ends in brackets ("" when there is no width)."""
        quantity = self.quantity
        unit = quantity.unit_for(us, self.low, self.likely, self.high)
        ends = [0.0 if abs(end) < quantity.nothing else end for end in (self.low, self.likely, self.high)]
        exact = [float(quantity.spellings[unit].from_si(end)) for end in ends]
        shown = [quantity.stepped(end, unit, self.digits) for end in exact]
        if not math.isfinite(shown[1]):
            least = f"(from {quantity.text(self.low, us, 2)})"
            return number(shown[1]), least if math.isinf(shown[1]) and math.isfinite(shown[0]) else ""
        if self.likely < quantity.lowest_told:
            reach = "" if not self.high >= quantity.lowest_told else f"(to {quantity.text(self.high, us)})"
            return self.amount.text(us), reach.replace(f"{NO_BREAK}{unit}", "")
        places = _places(shown, self.digits) if quantity.places is None else quantity.places
        low, likely, high = _alike([quantity.stepped(end, unit, self.digits, places) for end in exact], places)
        if self.low < quantity.lowest_told:
            low = f"below {quantity.number(quantity.lowest_told, us)}"
        elif low == "0" and shown[0] > 0.0 and math.isinf(shown[2]):  # no width says that it may as well be nothing
            low = quantity.number(self.low, us, 1, unit)
        if unit == "days" and likely == "1":
            unit = "day"
        head = joined(likely, unit)
        if math.isnan(shown[0]) or math.isnan(shown[2]):
            return head, f"({_RANGE_UNKNOWN})"
        if self.none and shown[0] <= 0.0 < shown[1]:
            return head, f"(up to {high}; {self.none})"
        return head, "" if low == likely == high else f"({low} to {high})"

    def text(self, us: bool = False) -> str:
        """The likely value and its ends, such as "3.4 days (2.6 to 4.3)"."""
        return " ".join(part for part in self.parts(us) if part)


def _places(shown: list[float], digits: int) -> int:
    """Decimal places that a range deserves: its width keeps two digits below 35, one above, as in particle tables."""
    low, likely, high = shown
    most = max((abs(value) for value in shown if math.isfinite(value) and value), default=1.0)
    finest = digits - 1 - math.floor(math.log10(most))
    ends = [value for value in (low, high) if math.isfinite(value)] or [likely]
    width = max([likely, *ends]) - min([likely, *ends])
    if width <= 0:
        return finest
    scale = math.floor(math.log10(width))
    fair = (1 if width / 10**scale < 3.5 else 0) - scale
    coarsest = -math.floor(math.log10(abs(likely))) if likely else fair
    return min(finest, max(fair, coarsest))


def _alike(shown: list[float], places: int) -> list[str]:
    """Numbers with the same decimal places; those that none of them needs are left out."""
    rounded = [round(value, places) if math.isfinite(value) else value for value in shown]
    while places > 0 and all(round(value, places - 1) == value for value in rounded if math.isfinite(value)):
        places -= 1
    texts = []
    for value in rounded:
        if not math.isfinite(value):
            texts.append(number(value))
            continue
        digits = f"{abs(value):,.{max(places, 0)}f}".replace(",", THOUSANDS)
        texts.append(f"\N{MINUS SIGN}{digits}" if value < 0 else digits)
    return texts
