"""Sentences with holes: amounts that still know their unit, and a plan's text made harmless.

Findings keep sentences as :class:`Say` and not as finished text, so that one answer can be read in metric or
US units, in a terminal, on a page or in a panel, and every number in it can be traced.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from string import Formatter
from typing import TypeAlias

from vanwater.answers.core.escaping import Medium, harmless, plain
from vanwater.quantities import NO_BREAK, THOUSANDS, Quantity, number

__all__ = ["Amount", "Count", "Given", "Medium", "Range", "Say", "harmless", "plain", "say"]

_RANGE_UNKNOWN = "range not known"
_MARKUP = frozenset("<>&$[]`*_|\\")


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
    """

    value: float
    quantity: Quantity
    digits: int = 3

    def text(self, us: bool = False) -> str:
        """Number and unit, such as "5.82 L/min"; "not known" or "unlimited" stand alone."""
        if not math.isfinite(self.value):
            return number(self.value)
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
    """

    low: float
    likely: float
    high: float
    quantity: Quantity
    digits: int = 3

    @property
    def amount(self) -> Amount:
        """The likely value alone."""
        return Amount(self.likely, self.quantity, self.digits)

    def parts(self, us: bool = False) -> tuple[str, str]:
        """The likely value with its unit, and the two ends in brackets ("" when there is no width)."""
        shown = [float(self.quantity.show(value, us)) for value in (self.low, self.likely, self.high)]
        if not math.isfinite(shown[1]):
            least = f"(from {self.quantity.text(self.low, us, 2)})"
            return number(shown[1]), least if math.isinf(shown[1]) and math.isfinite(shown[0]) else ""
        unit = self.quantity.unit(us)
        places = _places(shown, self.digits)
        low, likely, high = _alike(shown, places)
        if unit == "days" and likely == "1":
            unit = "day"
        head = f"{likely}{NO_BREAK}{unit}" if unit else likely
        if math.isnan(shown[0]) or math.isnan(shown[2]):
            return head, f"({_RANGE_UNKNOWN})"
        return head, "" if low == likely == high else f"({low} to {high})"

    def text(self, us: bool = False) -> str:
        """The likely value and its ends, such as "3.4 days (2.6 to 4.3)"."""
        return " ".join(part for part in self.parts(us) if part)


@dataclass(frozen=True, slots=True)
class Count:
    """A number of things, in the singular where it is one.

    Parameters
    ----------
    number : int
        How many.
    one : str
        The thing in the singular ("shower").
    many : str
        Its plural where that is more than the singular with an s.
    """

    number: int
    one: str
    many: str = ""

    def text(self, us: bool = False) -> str:  # noqa: ARG002 - a count reads the same in both
        """The count with its noun, such as "2 showers"."""
        shown = f"{self.number:,}".replace(",", THOUSANDS).replace("-", "\N{MINUS SIGN}")
        return f"{shown}{NO_BREAK}{self.one if self.number == 1 else self.many or self.one + 's'}"


@dataclass(frozen=True, slots=True)
class Say:
    """A sentence with holes and what fills them; made by :func:`say`.

    Parameters
    ----------
    template : str
        The sentence with ``{holes}``.
    given : tuple of pairs
        Name of each hole and what fills it.
    """

    template: str
    given: tuple[tuple[str, Given], ...] = ()

    def text(
        self,
        us: bool = False,
        escape: Callable[[str], str] | None = None,
        strong: Callable[[str], str] = str,
    ) -> str:
        """The finished sentence.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.
        escape : callable, optional
            What makes a plan's own text harmless where the sentence is shown; without one, control codes
            and line breaks are taken out.
        strong : callable
            What sets the numbers off, for instance into bold type.

        Returns
        -------
        str
            The sentence.
        """
        escape = escape or harmless("terminal")
        shown = {name: _text(given, us, escape, strong) for name, given in self.given}
        return self.template.format_map(shown)

    @property
    def amounts(self) -> tuple[Amount | Range, ...]:
        """Every number in the sentence, in order of the given ones, nested sentences included."""
        return tuple(amount for _, given in self.given for amount in _amounts(given))


Given: TypeAlias = "str | int | Amount | Range | Count | Say | tuple[Given, ...]"


def say(template: str, /, **given: Given) -> Say:
    r"""Make a sentence whose numbers keep their units.

    Parameters
    ----------
    template : str
        The sentence, with a ``{hole}`` for each given; itself free of markup, so that it reads the same in
        every medium.
    **given : str, int, Amount, Range, Count, Say or tuple of these
        What fills the holes. A text is taken as a plan's own and made harmless where it is shown; a tuple
        becomes an enumeration.

    Returns
    -------
    Say
        The sentence.

    Raises
    ------
    ValueError
        When holes and givens do not match, or the template holds markup.

    Examples
    --------
    >>> from vanwater.quantities import FLOW
    >>> say("The {outlet} gives {flow}.", outlet="shower", flow=Amount(9.7e-5, FLOW)).text(us=True)
    'The shower gives 1.54\xa0gal/min.'
    """
    holes = _holes(template)
    if holes != given.keys():
        unmatched = ", ".join(sorted(holes ^ given.keys()))
        raise ValueError(f'template "{template}": holes and givens do not match at {unmatched}')
    return Say(template, tuple(given.items()))


@lru_cache(maxsize=1024)
def _holes(template: str) -> frozenset[str]:
    found = set()
    for literal, hole, form, conversion in Formatter().parse(template):
        if _MARKUP & set(literal):
            raise ValueError(f'template "{template}" holds markup; a sentence is free of {"".join(sorted(_MARKUP))}')
        if hole is not None:
            if not hole.isidentifier() or form or conversion:
                raise ValueError(f'template "{template}": "{hole}" is no plain name of a hole')
            found.add(hole)
    return frozenset(found)


def _text(given: Given, us: bool, escape: Callable[[str], str], strong: Callable[[str], str]) -> str:
    if isinstance(given, Say):
        return given.text(us, escape, strong)
    if isinstance(given, Range):
        head, ends = given.parts(us)
        return f"{strong(head)} {ends}" if ends else strong(head)
    if isinstance(given, Amount | Count):
        return strong(given.text(us))
    if isinstance(given, tuple):
        words = [_text(one, us, escape, strong) for one in given]
        return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)
    return strong(f"{given:,}".replace(",", THOUSANDS)) if isinstance(given, int) else escape(given)


def _amounts(given: Given) -> Iterator[Amount | Range]:
    if isinstance(given, Amount | Range):
        yield given
    elif isinstance(given, Say):
        yield from given.amounts
    elif isinstance(given, tuple):
        for one in given:
            yield from _amounts(one)


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
