"""Sentences with holes: amounts that still know their unit, and a plan's text made harmless.

Findings keep sentences as :class:`Say` and not as finished text, so that one answer can be read in metric or
US units, in a terminal, on a page or in a panel, and every number in it can be traced.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from string import Formatter
from typing import Protocol, TypeAlias

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.escaping import Medium, harmless, plain
from vanwater.quantities import NO_BREAK, THOUSANDS, retold

__all__ = [
    "Amount",
    "BySystem",
    "Count",
    "Given",
    "Medium",
    "Numbered",
    "Range",
    "Say",
    "harmless",
    "in_either",
    "plain",
    "say",
]

_MOST_DIGITS = 6
_NEAR = 1e-5
"""What differs by less is one number to everybody who reads it."""
_MARKUP = frozenset("<>&$[]`*_|\\")


class Numbered(Protocol):
    """A number with its key and sum: :class:`vanwater.answers.core.number.Number`."""

    @property
    def shown(self) -> Amount | Range:
        """As it is told: with its range, where it has one."""


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
class BySystem:
    """Words that name a size, as they are said in either system of units: "10 mm bore", "0.39 in bore".

    Parameters
    ----------
    metric, us : str
        The words.
    """

    metric: str
    us: str

    def text(self, us: bool = False) -> str:
        """The words of one system."""
        return self.us if us else self.metric


def in_either(name: str) -> BySystem:
    """A name of the stock with its values in the reader's units: "pvc hose 10 mm", "pvc hose 0.39 in"."""
    return BySystem(retold(name, False), retold(name, True))


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
        shown.update(_told_apart(self.given, us, strong))
        return self.template.format_map(shown)

    @property
    def likely(self) -> Say:
        """The same sentence without the ranges of its numbers."""
        return Say(self.template, tuple((name, _likely(given)) for name, given in self.given))

    @property
    def wording(self) -> str:
        """The sentence without its numbers."""
        parts = (given.wording if isinstance(given, Say) else given for _, given in self.given)
        return "|".join((self.template, *(part for part in parts if isinstance(part, str))))

    @property
    def amounts(self) -> tuple[Amount | Range, ...]:
        """Every number in the sentence, in order of the given ones, nested sentences included."""
        return tuple(amount for _, given in self.given for amount in _amounts(given))


Given: TypeAlias = "str | int | Amount | Range | Numbered | Count | BySystem | Say | tuple[Given, ...]"


def _likely(given: Given) -> Given:
    if isinstance(given, Say):
        return given.likely
    told = given if isinstance(given, Amount | str | int | Count | BySystem | tuple | Range) else given.shown
    return Amount(told.likely, told.quantity, told.digits, told.number) if isinstance(told, Range) else told


def say(template: str, /, **given: Given) -> Say:
    r"""Make a sentence whose numbers keep their units.

    Parameters
    ----------
    template : str
        The sentence, with a ``{hole}`` for each given; itself free of markup, so that it reads the same in
        every medium.
    **given : str, int, Number, Amount, Range, Count, BySystem, Say or tuple of these
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
    holes = set()
    for literal, hole, form, conversion in Formatter().parse(template):
        if _MARKUP & set(literal):
            raise ValueError(f'template "{template}" holds markup; a sentence is free of {"".join(sorted(_MARKUP))}')
        if hole is not None:
            if not hole.isidentifier() or form or conversion:
                raise ValueError(f'template "{template}": "{hole}" is no plain name of a hole')
            holes.add(hole)
    return frozenset(holes)


def _text(given: Given, us: bool, escape: Callable[[str], str], strong: Callable[[str], str]) -> str:
    if isinstance(given, Say):
        return given.text(us, escape, strong)
    if isinstance(given, Range):
        head, ends = given.parts(us)
        return f"{strong(head)} {ends}" if ends else strong(head)
    if isinstance(given, Amount | Count):
        return strong(given.text(us))
    if isinstance(given, tuple):
        words = [_text(thing, us, escape, strong) for thing in given]
        return " and ".join(part for part in (", ".join(words[:-1]), *words[-1:]) if part)
    if isinstance(given, BySystem):
        return escape(given.text(us))
    if isinstance(given, int):
        return strong(f"{given:,}".replace(",", THOUSANDS))
    return escape(given) if isinstance(given, str) else _text(given.shown, us, escape, strong)


def _told_apart(
    given: Iterable[tuple[str, Given]], us: bool, strong: Callable[[str], str]
) -> Iterator[tuple[str, str]]:
    """What reads alike and is not, with as many more digits as tell it apart."""
    amounts = [(name, amount) for name, value in given if (amount := _lone(value)) is not None]
    for (name, amount), (other_name, other) in combinations(amounts, 2):
        quantity = amount.quantity
        if quantity is not other.quantity or amount.text(us) != other.text(us) or _same(amount.value, other.value):
            continue
        for digits in range(max(amount.digits, other.digits), _MOST_DIGITS):
            texts = [quantity.text(each.value, us, digits) for each in (amount, other)]
            if texts[0] != texts[1]:
                yield from zip((name, other_name), map(strong, texts), strict=True)
                break


def _lone(given: Given) -> Amount | None:
    """The number that stands there alone, without a range."""
    shown = given if isinstance(given, Amount | str | int | Count | BySystem | Say | tuple | Range) else given.shown
    return shown if isinstance(shown, Amount) and math.isfinite(shown.value) else None


def _same(value: float, other: float) -> bool:
    return math.isclose(value, other, rel_tol=_NEAR, abs_tol=_NEAR)


def _amounts(given: Given) -> Iterator[Amount | Range]:
    if isinstance(given, Amount | Range):
        yield given
    elif isinstance(given, Say):
        yield from given.amounts
    elif isinstance(given, tuple):
        for part in given:
            yield from _amounts(part)
    elif not isinstance(given, str | int | Count | BySystem):
        yield given.shown
