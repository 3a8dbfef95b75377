"""What a physical quantity is: read from text, bounded by what is believable, written for people."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np
import numpy.typing as npt

from vanwater.quantities.reading import SUGGESTED, Bare, QuantityError, feet_and_inches, in_us, quoted, split
from vanwater.quantities.writing import STEPPED, fraction, joined, number, places_of, plain, stepped

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler
    from pydantic_core import CoreSchema, core_schema

__all__ = ["OTHERS", "Array", "Quantity", "Real", "Unit"]

Array: TypeAlias = npt.NDArray[np.float64]
Real: TypeAlias = float | Array

_DIGITS, _ALL_DIGITS = 3, 12

OTHERS: dict[str, list[str]] = {}
"""Which quantities know a unit text: filled by the vocabulary, read for the hint of an error."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as a straight line to SI: ``si = number * factor + offset``."""

    factor: float
    offset: float = 0.0

    def to_si(self, number: Real) -> Real:
        """The SI value of a number in this unit."""
        return number * self.factor + self.offset

    def from_si(self, value: Real) -> Real:
        """The number in this unit of an SI value."""
        return (value - self.offset) / self.factor


@dataclass(frozen=True, slots=True, eq=False)
class Quantity:
    """A physical quantity: how it is named, read, bounded and written.

    Parameters
    ----------
    name : str
        The field's word for it ("volume").
    si : str
        Coherent SI unit of the value inside ("m³"; "1" when it has none).
    metric, us : str
        Display units; both are among the spellings.
    low, high : float
        Believable range in a van, in SI, both ends included.
    spellings : mapping of str to Unit
        The closed list of unit texts that are read.
    slips : mapping of str to str
        Unit texts that are often meant but ambiguous or wrong, and what to write instead.
    example : str
        A value as a builder would write it.
    us_example : str
        The same in US units; worked out of the other where none is said.
    steps : mapping of str to tuple of two floats
        The finest step of a unit from ten of it on, and below ten: what is told is never finer, whatever its digits.
    fractions : mapping of str to int
        Parts of a unit in which sizes are sold: what is a whole number of them is told as a fraction ("3/4 in").
    places : int, optional
        Decimal places that it is rounded to, whatever its size; one more where four digits are asked for. Without
        them significant digits count.
    nothing : float
        What is less is told as nothing [SI].
    lowest_told : float
        What is less is told as "below" it [SI].
    smaller : mapping of str to (str, float)
        The unit that is told instead of a display unit, and below how many of it.
    """

    name: str
    si: str
    metric: str
    us: str
    low: float
    high: float
    spellings: Mapping[str, Unit]
    example: str
    slips: Mapping[str, str] = field(default_factory=dict)
    us_example: str = ""
    places: int | None = None
    nothing: float = 0.0
    lowest_told: float = -math.inf
    smaller: Mapping[str, tuple[str, float]] = field(default_factory=dict)
    steps: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    fractions: Mapping[str, int] = field(default_factory=dict)

    # --- reading -------------------------------------------------------------------------------------

    def read(self, text: object) -> float:
        """Read a text such as ``"40 mm"`` or ``"1/2 in"`` into SI.

        Parameters
        ----------
        text : str, int or float
            Text with a unit. A bare number is taken only where the quantity has no unit.

        Returns
        -------
        float
            Value [SI unit of the quantity].

        Raises
        ------
        QuantityError
            When it is no number, has a missing or unknown unit, or lies outside the believable range.
        """
        if isinstance(text, bool) or not isinstance(text, str | int | float):
            raise QuantityError(f"{quoted(text)} is no {self.name}.", self.expected)
        if not isinstance(text, str):
            value = self.finite(text)
            if self.si != "1":
                raise QuantityError(f"{quoted(text)} has no unit.", self.expected, self._meant(value))
            return self.bounded(value, quoted(text), value)
        inches = feet_and_inches(text, self.expected) if {"ft", "in"} <= self.spellings.keys() else None
        if inches is not None:
            return self.bounded(float(self.spellings["in"].to_si(inches)), quoted(text))
        number, unit = split(text, self.expected)
        return self.bounded(float(self._unit(unit, text, number).to_si(number)), quoted(text), number)

    def bounded(self, value: float, written: str = "", number: float | None = None) -> float:
        """The value itself, if it is finite and believable.

        Parameters
        ----------
        value : float
            Value [SI unit of the quantity].
        written : str
            How the user wrote it, for the message.
        number : float, optional
            The number as written, to look for the unit that was meant.

        Returns
        -------
        float
            The same value, a rounding error beyond a bound trimmed [SI unit of the quantity].

        Raises
        ------
        QuantityError
            When it is not finite or outside ``low`` to ``high``.
        """
        us = in_us()
        written = written or self.text(value, us, digits=STEPPED + bool(self.steps))
        if not math.isfinite(value):
            raise QuantityError(f"{written} is not a finite number.", self.expected)
        slack = 1e-9 * max(abs(self.low), abs(self.high))
        if self.low - slack <= value <= self.high + slack:
            return min(max(value, self.low), self.high)
        raise QuantityError(
            f"{written} is not believable as {_article(self.name)} {self.name}.",
            f"{self.text(self.low, us)} to {self.text(self.high, us)}",
            self._meant(number) if number else "",
        )

    def finite(self, value: float | np.floating[Any]) -> float:
        """The value as a finite float.

        Parameters
        ----------
        value : float or int
            Any number.

        Returns
        -------
        float
            The same number.

        Raises
        ------
        QuantityError
            When it is infinite, NaN or beyond what a float holds.
        """
        try:
            number = float(value)
        except OverflowError:
            number = math.inf
        if not math.isfinite(number):
            raise QuantityError(f"{quoted(value)} is not a finite number.", self.expected)
        return number

    @property
    def expected(self) -> str:
        """What a user may write, in one phrase."""
        return f'{_article(self.name)} {self.name} such as "{self.told_example}"'

    @property
    def told_example(self) -> str:
        """Its example, in the units that errors are told in now."""
        return self.us_example if in_us() and self.us_example else self.told(self.example)

    def told(self, text: str) -> str:
        """An example as an error tells it: as it is, or in US units of two digits where these are told.

        Parameters
        ----------
        text : str
            A metric value as a builder would write it.

        Returns
        -------
        str
            A text that can be read, and is believable where the other one is.
        """
        if not in_us() or self.us == self.metric:
            return text
        number, unit = split(text, "")
        value = float(self.spellings[unit].to_si(number))
        rounded = f"{plain(float(f'{float(self.show(value, us=True)):.2g}'))} {self.us}"
        return rounded if self.low <= self.spellings[self.us].to_si(float(rounded.split()[0])) <= self.high else text

    def within(self, low: str, high: str) -> Quantity:
        """The same quantity with a narrower believable range, given as texts.

        Raises
        ------
        QuantityError
            When a bound cannot be read, or the lower one is above the higher one.
        """
        narrowed = replace(self, low=self.read(low), high=self.read(high))
        if narrowed.low > narrowed.high:
            raise QuantityError(f'"{low}" lies above "{high}".', "the lower bound first")
        return narrowed

    def _meant(self, number: float) -> str:
        """The likely slip behind a number without a unit or with the wrong one: the first unit that is believable."""
        units: Iterable[str] = (self.metric, *self.spellings)
        if self.us != self.metric:
            units = (self.unit(in_us()), *(name for name in self.spellings if name in SUGGESTED[in_us()]))
        for name in dict.fromkeys(units):
            if name and self.low <= self.spellings[name].to_si(number) <= self.high:
                return f'Did you mean "{plain(number)} {name}"?'
        return ""

    def _unit(self, unit: str, text: str, number: float) -> Unit:
        known = self.spellings.get(unit)
        if known is not None:
            return known
        if unit in self.slips:
            raise QuantityError(f"{quoted(text)}: the unit is not clear.", self.expected, self.slips[unit])
        if not unit:
            raise QuantityError(f"{quoted(text)} has no unit.", self.expected, self._meant(number))
        folded = {name.lower(): name for name in reversed(list(self.spellings))}
        if unit.lower() in folded:
            slip = f'Did you mean "{folded[unit.lower()]}"?'
        elif any(part in self.spellings for part in unit.split()) and any(letter.isdigit() for letter in unit):
            slip = "Write it as one number with one unit."
        else:
            slip = next((f'"{unit}" is a unit of {other}.' for other in OTHERS.get(unit, ()) if other != self.name), "")
        raise QuantityError(f"{quoted(text)}: {quoted(unit)} is not a unit of {self.name}.", self.expected, slip)

    # --- writing -------------------------------------------------------------------------------------

    def unit(self, us: bool = False) -> str:
        """The display unit, metric or US."""
        return self.us if us else self.metric

    def show(self, value: Real, us: bool = False) -> Real:
        """The number in the display unit.

        Parameters
        ----------
        value : float or array
            Value [SI unit of the quantity].
        us : bool
            US units instead of metric ones.

        Returns
        -------
        float or array
            Number in the display unit.
        """
        return self.spellings[self.unit(us)].from_si(value)

    def unit_for(self, us: bool, *values: float) -> str:
        """The unit in which some values are told in a sentence: a smaller one than the display unit for small ones."""
        unit = self.unit(us)
        smaller, below = self.smaller.get(unit, (unit, 0.0))
        largest = max((abs(value) for value in values if math.isfinite(value)), default=0.0)
        return smaller if 0.0 < largest < below * self.spellings[unit].factor else unit

    def number(self, value: float, us: bool = False, digits: int = 3, unit: str = "") -> str:
        """The number in the display unit, or another, as people read it: so many significant digits, or its places."""
        shown = 0.0 if abs(value) < self.nothing else float(self.spellings[unit or self.unit(us)].from_si(value))
        if self.places is not None and math.isfinite(shown):
            return number(round(shown, self.places + (digits > _DIGITS)), _ALL_DIGITS)
        unit = unit or self.unit(us)
        size = fraction(shown, self.fractions[unit]) if unit in self.fractions else ""
        return size or number(self.stepped(shown, unit, digits, places_of(shown, digits)), digits)

    def stepped(self, shown: float, unit: str, digits: int = 3, places: int | None = None) -> float:
        """A number in a unit, at the nearest step that is told of it: from five digits on a tenth of the step each."""
        return stepped(shown, self.steps[unit], digits, places) if unit in self.steps else shown

    def text(self, value: float, us: bool = False, digits: int = 3) -> str:
        """Number and unit, joined by a no-break space."""
        unit = self.unit_for(us, value)
        shown = self.number(value, us, digits, unit)
        if unit == "days" and shown == "1":
            unit = "day"
        return joined(shown, unit)

    def said(self, value: float) -> str:
        """Number and unit as an error tells them now."""
        return self.text(value, in_us())

    def written(self, value: float, us: bool = False) -> str:
        """A text that :meth:`read` takes back to the same value within one part in 10⁹."""
        shown = float(self.show(value, us))
        return f"{plain(float(f'{shown:.12g}'))} {self.unit(us)}".strip()

    # --- pydantic finds this by its name -------------------------------------------------------------

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Let a plan's field read text (from a file) or SI numbers (from Python)."""
        from pydantic_core import PydanticCustomError, core_schema

        def read(value: object, info: core_schema.ValidationInfo) -> float:
            try:
                from_file = isinstance(value, Bare) or bool(info.context and info.context.get("file"))
                if isinstance(value, int | float | np.floating) and not isinstance(value, bool) and not from_file:
                    return self.bounded(self.finite(value))
                return self.read(value)
            except QuantityError as error:
                raise PydanticCustomError(
                    "quantity",
                    "{message}",
                    {"message": error.message, "expected": error.expected, "slip": error.slip},
                ) from None

        return core_schema.with_info_before_validator_function(read, handler(source))


def _article(word: str) -> str:
    return "an" if word[:1] in "aeio" else "a"
