"""Within which a measured value is still well: the number's own range with the uncertainty of what it is read on.

This is the only place where a band is made. A number that has a range needs no other; a number without one has the
trade's tolerance in its place.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from vanwater.answers.core.number import Number, difference_of
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import limit, stated
from vanwater.quantities import SHARE, Quantity, QuantityError

__all__ = ["NONE", "SOURCE", "Band", "Lies", "Side", "Tolerance", "band_of", "instrument_of", "instrument_said"]

Side: TypeAlias = Literal["both", "at most", "at least"]

Lies: TypeAlias = Literal["", "above", "below"]
"""On which side of a band a value lies; empty for within."""

SOURCE = "JCGM 100:2008, 5.1 (independent uncertainties by root-sum-square), from memory"
"""How the number's range and the instrument's uncertainty are put together."""

_MEMORY = "common practice, from memory"

_USUAL: Mapping[str, tuple[float, float]] = {
    "pressure": (5e3, 0.0),  # a gauge of 0 to 4 bar, class 1.6
    "pressure difference": (5e3, 0.0),
    "flow": (0.0, 0.05),  # bucket and watch
    "volume": (0.0, 0.02),  # weighed cans
    "duration": (2.0, 0.01),  # a watch, and the hand on it
    "temperature": (1.0, 0.0),  # a probe in running water
    "voltage": (0.05, 0.005),
    "current": (0.1, 0.03),  # a clamp
    "power": (2.0, 0.03),
    "mass": (10.0, 0.0),  # a public scale, axle by axle
    "length": (5e-3, 0.0),
    "concentration": (0.0, 0.25),  # the steps of a test strip
}
"""Usual uncertainty of what each quantity is read on, in SI, and as a share of what is read."""

_ELSE = (0.0, 0.05)


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far off is still well where the number has no range of its own (common practice, from memory).

    Parameters
    ----------
    share : float
        Of the expected value.
    by : float
        Beside it, in SI.
    side : {"both", "at most", "at least"}
        What is expected is a limit where it is not "both"; a limit is not widened by an instrument.
    """

    share: float = 0.0
    by: float = 0.0
    side: Side = "both"


_WIDE = 0.15
"""Share of the expected value; the ends of a wider band are told to two digits, for nobody judges by the third."""

NONE = Tolerance()
"""Of a number that needs none, or of which none is known."""


@dataclass(frozen=True, slots=True)
class Band:
    """Between what a measured value is still well.

    Parameters
    ----------
    low, high : Number or None
        None where that side is open.
    """

    low: Number | None
    high: Number | None

    @property
    def told(self) -> Say:
        """In words: "4.7 L/min to 6.7 L/min", "at most 0.1 bar"."""
        if self.low is None or self.high is None:
            return say("at most {end}", end=self.high) if self.high else say("at least {end}", end=self.low or "")
        return say("{low} to {high}", low=self.low, high=self.high)

    def side(self, value: float) -> Lies:
        """On which side of it a value lies [SI]; empty for within."""
        if self.high is not None and value > self.high.likely:
            return "above"
        return "below" if self.low is not None and value < self.low.likely else ""


def band_of(number: Number, tolerance: Tolerance, instrument: Number) -> Band | None:
    """Within which a measured value of a number is still well.

    Parameters
    ----------
    number : Number
        What is expected.
    tolerance : Tolerance
        What stands in the place of its range where it has none.
    instrument : Number
        Uncertainty of what it is read on, a difference in the number's unit.

    Returns
    -------
    Band or None
        None where the expected value, or an end of its range, is not known.
    """
    likely, range_ = number.likely, number.range
    if tolerance.side == "both":
        spare = tolerance.share * abs(likely) + tolerance.by
        below, above = (likely - range_[0], range_[1] - likely) if range_ is not None else (spare, spare)
        ends = likely - math.hypot(below, instrument.likely), likely + math.hypot(above, instrument.likely)
    else:
        ends = (-math.inf, likely) if tolerance.side == "at most" else (likely, math.inf)
    if not math.isfinite(likely) or any(math.isnan(end) for end in ends):
        return None
    digits = 2 if ends[1] - ends[0] > _WIDE * abs(likely) else max(2, min(number.digits, 3))
    low, high = (
        _end(number, which, end, instrument, digits) if math.isfinite(end) else None
        for which, end in zip(("lower", "upper"), ends, strict=True)
    )
    return Band(low, high) if low is not None or high is not None else None


def _end(number: Number, which: str, value: float, instrument: Number, digits: int) -> Number:
    """One end; of a quantity that cannot be less than nothing, never less."""
    quantity = number.quantity
    least = 0.0 if quantity.low >= 0.0 and number.likely >= 0.0 else -math.inf
    return stated(
        f"{which} end of the band of {number.name}",
        max(value, least),
        quantity,
        "The expected value with its range, or where it has none with the trade's tolerance, and the instrument's "
        "uncertainty: the two by root-sum-square, each side for itself. A limit stays as it is.",
        facts=[("expected", number), ("instrument", instrument)],
        source=SOURCE,
    ).keyed("band", *number.key, which, exact="the end of a band", digits=digits)


def instrument_of(number: Number, value: float) -> Number:
    """The usual uncertainty of what a number is read on.

    Parameters
    ----------
    number : Number
        What is read.
    value : float
        About how much [SI].

    Returns
    -------
    Number
        A difference in the number's unit.
    """
    fixed, share = _USUAL.get(number.quantity.name, _ELSE)
    return _instrument(number, fixed + share * abs(value), _MEMORY)


def instrument_said(number: Number, value: float, text: str) -> Number:
    """The uncertainty of an instrument as somebody wrote it.

    Parameters
    ----------
    number : Number
        What was read.
    value : float
        What it said [SI].
    text : str
        A value with its unit, or a share of what was read: "0.1 bar", "4 %".

    Returns
    -------
    Number
        A difference in the number's unit.

    Raises
    ------
    QuantityError
        When it is neither.
    """
    difference = _difference(number.quantity)
    try:
        off = difference.read(text)
    except QuantityError as error:
        try:
            off = SHARE.read(text) * abs(value)
        except QuantityError:
            raise error from None
    return _instrument(number, off, "the plan")


def _instrument(number: Number, off: float, source: str) -> Number:
    name = f"uncertainty of the instrument for {number.name}"
    told = limit(name, off, _difference(number.quantity), source, "How far what is read may be off.", digits=2)
    return told.keyed("instrument", *number.key, exact="as it is known", digits=2)


def _difference(quantity: Quantity) -> Quantity:
    """The quantity of how far something is off, from nothing on."""
    return replace(difference_of(quantity), low=0.0)
