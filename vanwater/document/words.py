"""Amounts, sentences and a plan's own texts as they stand on a page: escaped, one line, in one system of units."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from markupsafe import Markup

from vanwater.answers.core.cell import in_cell
from vanwater.answers.core.dates import dated
from vanwater.answers.core.escaping import plain
from vanwater.answers.core.statement import Amount, Count, Range, Say
from vanwater.quantities import BORE, DURATION, LENGTH, SECONDS, Quantity, number, retold

__all__ = ["Shows", "Words", "dated", "in_css"]

Shows: TypeAlias = "Say | Amount | Range | Count | str | None"

_INDEX = re.compile(r"(?<=\w)_(\w+)")

_FINER = ((LENGTH, BORE, 0.1), (DURATION, SECONDS, 180.0))
"""Below these many metres and seconds a length is told as bores are (mm, in) and a time in seconds."""


@dataclass(frozen=True, slots=True)
class Words:
    """What writes everything on a page, in metric or in US units.

    Parameters
    ----------
    us : bool
        US units instead of metric ones.
    """

    us: bool = False

    def __call__(self, value: Shows) -> Markup:
        """A sentence, number or text as harmless HTML."""
        return self._html(value, "{}")

    def own(self, text: str) -> Markup:
        """A text of the program itself, with its values in the reader's units."""
        return self(retold(text, self.us))

    def bold(self, value: Shows) -> Markup:
        """The same with every number in bold type."""
        return self._html(value, "<b>{}</b>")

    def bare(self, value: Shows) -> str:
        """The same without any markup, for measuring and comparing."""
        if isinstance(value, Say):
            return value.text(self.us)
        return plain(value or "", "terminal") if value is None or isinstance(value, str) else value.text(self.us)

    def _html(self, value: Shows, strong: str) -> Markup:
        if value is None:
            return Markup("")
        if isinstance(value, str):
            return Markup(self.escape(value))
        if isinstance(value, Say):
            return Markup(value.text(self.us, self.escape, strong.format))
        return Markup(strong.format(plain(value.text(self.us), "html")))

    def escape(self, text: str) -> str:
        """A plan's own text, kept from turning its neighbours round where it reads from right to left."""
        escaped = plain(text, "html")
        turned = not text.isascii() and any(unicodedata.bidirectional(letter) in ("R", "AL") for letter in text)
        return f"<bdi>{escaped}</bdi>" if turned else escaped

    def attribute(self, text: str) -> Markup:
        """A text as the value of an attribute, or as a title."""
        return Markup(plain(text, "html"))

    def formula(self, text: str) -> Markup:
        """A formula, or a letter of one, with its indices set low."""
        return self.letters(plain(text, "html"))

    def letters(self, text: str) -> Markup:
        """The same of a text that is harmless HTML."""
        return Markup(_INDEX.sub(r"<sub>\1</sub>", str(text)))

    def unit(self, quantity: Quantity | None) -> str:
        """The unit that a heading names."""
        return quantity.unit(self.us) if quantity is not None else ""

    def cell(self, value: Shows, quantity: Quantity | None) -> tuple[Markup, Markup]:
        """A cell below a heading that names the unit: the number, and the ends of its range.

        Parameters
        ----------
        value : Say, Amount, Range, Count, str or None
            What the cell holds.
        quantity : Quantity, optional
            The quantity of the column.

        Returns
        -------
        tuple of Markup
            The number without the unit where it is the heading's, and its ends or an empty text.
        """
        if isinstance(value, Count):
            return self(value), Markup("")
        text, ends = in_cell(value, self.unit(quantity), self.us, self.escape)
        return Markup(text), Markup(ends)

    def told_in(self, quantity: Quantity, values: Sequence[float]) -> Quantity:
        """The quantity by whose unit numbers of a plan are told: small lengths as bores are, short times in seconds."""
        most = max(map(abs, values), default=0.0)
        for wide, fine, below in _FINER:
            if quantity.si == wide.si and quantity.unit(self.us) == wide.unit(self.us) and 0 < most < below:
                return fine
        return quantity

    def count(self, value: int) -> Markup:
        """A whole number."""
        return Markup(number(value, 12))


def in_css(text: str) -> Markup:
    r"""A text as a CSS string: every sign but letters and digits written by its number.

    Parameters
    ----------
    text : str
        A plan's own text.

    Returns
    -------
    Markup
        In quotes, safe within a style element.

    Examples
    --------
    >>> print(in_css('Tom"; }'))
    "Tom\000022\00003b\000020\00007d"
    """
    line = plain(text, "terminal")
    kept = (sign if sign.isascii() and sign.isalnum() else f"\\{ord(sign):06x}" for sign in line)
    return Markup(f'"{"".join(kept)}"')
