"""What a physical quantity is: read from text, bounded by what is believable, written for people."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np
import numpy.typing as npt

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler
    from pydantic_core import CoreSchema, core_schema

Array: TypeAlias = npt.NDArray[np.float64]
Real: TypeAlias = float | Array

OTHERS: dict[str, list[str]] = {}
"""Which quantities know a unit text: filled by the vocabulary, read for the hint of an error."""

NO_BREAK = "\N{NO-BREAK SPACE}"
THOUSANDS = "\N{NARROW NO-BREAK SPACE}"
LONGEST_NUMBER = 40

_NUMBER = re.compile(
    r"(?P<sign>[+-]?)\s*"
    r"(?:(?P<whole>\d+)\s+(?P<top>\d+)/(?P<bottom>\d+)"  # 1 1/2
    r"|(?P<top2>\d+)/(?P<bottom2>\d+)"  # 1/2
    r"|(?P<decimal>(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?))"  # 7.5, .5, 1e-3
    r"\s*(?P<unit>\D.*|)$",
)
_COMMA = re.compile(r"^\s*([+-]?\d+),(\d+)\s*(\D.*|)$")


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
            raise QuantityError(f"{_short(text)} is no {self.name}.", self.expected)
        if not isinstance(text, str):
            if self.si != "1":
                raise QuantityError(
                    f"{text} has no unit.", self.expected, f'Did you mean "{_plain(text)} {self.metric}"?'
                )
            return self.bounded(float(text), _short(text))
        number, unit = self._split(text)
        return self.bounded(float(self._unit(unit, text).to_si(number)), _short(text), number)

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
            The same value [SI unit of the quantity].

        Raises
        ------
        QuantityError
            When it is not finite or outside ``low`` to ``high``.
        """
        written = written or self.text(value, digits=4)
        if not math.isfinite(value):
            raise QuantityError(f"{written} is not a finite number.", self.expected)
        slack = 1e-9 * max(abs(self.low), abs(self.high))
        if self.low - slack <= value <= self.high + slack:
            return value
        slip = ""
        if number is not None and number != 0:
            fits = [
                name
                for name in dict.fromkeys((self.metric, self.us, *self.spellings))
                if name and self.low <= self.spellings[name].to_si(number) <= self.high
            ]
            if fits:
                slip = f'Did you mean "{_plain(number)} {fits[0]}"?'
        raise QuantityError(
            f"{written} is not believable as {_article(self.name)} {self.name}.",
            f"{self.text(self.low)} to {self.text(self.high)}",
            slip,
        )

    @property
    def expected(self) -> str:
        """What a user may write, in one phrase."""
        return f'{_article(self.name)} {self.name} such as "{self.example}"'

    def within(self, low: str, high: str) -> Quantity:
        """The same quantity with a narrower believable range, given as texts.

        Raises
        ------
        QuantityError
            When a bound cannot be read.
        """
        return replace(self, low=self.read(low), high=self.read(high))

    def _split(self, text: str) -> tuple[float, str]:
        cleaned = text.strip().replace("\N{MINUS SIGN}", "-").replace(NO_BREAK, " ").replace(THOUSANDS, "")
        if not cleaned:
            raise QuantityError("The text is empty.", self.expected)
        comma = _COMMA.match(cleaned)
        if comma:
            raise QuantityError(
                f"{_short(text)} has a comma in its number.",
                self.expected,
                f'Write a decimal point: "{comma[1]}.{comma[2]} {comma[3].strip()}".',
            )
        match = _NUMBER.match(cleaned) if len(cleaned) <= LONGEST_NUMBER else None
        if match is None:
            raise QuantityError(f"{_short(text)} does not start with a number.", self.expected)
        got = match.groupdict()
        bottom = int(got["bottom"] or got["bottom2"] or 1)
        if bottom == 0:
            raise QuantityError(f"{_short(text)} divides by zero.", self.expected)
        if got["decimal"]:
            number = float(got["decimal"])
        else:
            number = float(int(got["whole"] or 0) + Fraction(int(got["top"] or got["top2"]), bottom))
        if not math.isfinite(number):
            raise QuantityError(f"{_short(text)} is not a finite number.", self.expected)
        return (-number if got["sign"] == "-" else number), " ".join(got["unit"].split())

    def _unit(self, unit: str, text: str) -> Unit:
        found = self.spellings.get(unit)
        if found is not None:
            return found
        if unit in self.slips:
            raise QuantityError(f"{_short(text)}: the unit is not clear.", self.expected, self.slips[unit])
        if not unit:
            number = text.strip()
            raise QuantityError(
                f"{_short(text)} has no unit.", self.expected, f'Did you mean "{number} {self.metric}"?'
            )
        folded = {name.lower(): name for name in reversed(list(self.spellings))}
        slip = ""
        if unit.lower() in folded:
            slip = f'Did you mean "{folded[unit.lower()]}"?'
        else:
            slip = next((f'"{unit}" is a unit of {other}.' for other in OTHERS.get(unit, ()) if other != self.name), "")
        raise QuantityError(f"{_short(text)}: {_short(unit)} is not a unit of {self.name}.", self.expected, slip)

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

    def number(self, value: float, us: bool = False, digits: int = 3) -> str:
        """The number in the display unit as people read it: at most three significant digits."""
        return number(float(self.show(value, us)), digits)

    def text(self, value: float, us: bool = False, digits: int = 3) -> str:
        """Number and unit, joined by a no-break space."""
        unit = self.unit(us)
        shown = self.number(value, us, digits)
        if unit == "days" and shown == "1":
            unit = "day"
        return f"{shown}{NO_BREAK}{unit}" if unit else shown

    def written(self, value: float, us: bool = False) -> str:
        """A text that :meth:`read` takes back to the same value within one part in 10⁹."""
        shown = float(self.show(value, us))
        return f"{_plain(float(f'{shown:.12g}'))} {self.unit(us)}".strip()

    # --- pydantic finds this by its name -------------------------------------------------------------

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Let a plan's field read text (from a file) or SI numbers (from Python)."""
        from pydantic_core import PydanticCustomError, core_schema

        def read(value: object, info: core_schema.ValidationInfo) -> float:
            try:
                from_file = bool(info.context and info.context.get("file"))
                if isinstance(value, int | float | np.floating) and not isinstance(value, bool) and not from_file:
                    return self.bounded(float(value))
                return self.read(value)
            except QuantityError as error:
                raise PydanticCustomError(
                    "quantity",
                    "{message}",
                    {"message": error.message, "expected": error.expected, "slip": error.slip},
                ) from None

        return core_schema.with_info_before_validator_function(read, handler(source))


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
    places = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, places)
    if rounded != 0:
        places = digits - 1 - math.floor(math.log10(abs(rounded)))
    text = f"{abs(rounded):,.{max(places, 0)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    text = text.replace(",", THOUSANDS)
    return f"\N{MINUS SIGN}{text}" if rounded < 0 else text


def _plain(value: float) -> str:
    return f"{value:.12g}"


def _short(value: object) -> str:
    text = repr(value) if not isinstance(value, str) else f'"{value}"'
    text = "".join(letter if letter.isprintable() else "?" for letter in text)
    return text if len(text) <= LONGEST_NUMBER + 2 else text[: LONGEST_NUMBER - 1] + '…"'


def _article(word: str) -> str:
    return "an" if word[:1] in "aeio" else "a"
