"""Signs that an encoding lacks, written in plain letters, so that no terminal stops a sentence."""

from __future__ import annotations

import re
import unicodedata

__all__ = ["shows", "spelled"]

_PLAIN = {
    "\N{NO-BREAK SPACE}": " ",
    "\N{NARROW NO-BREAK SPACE}": " ",
    "\N{MINUS SIGN}": "-",
    "\N{EN DASH}": "-",
    "\N{EM DASH}": "-",
    "\N{MULTIPLICATION SIGN}": "x",
    "\N{MIDDLE DOT}": "*",
    "\N{DOT OPERATOR}": "*",
    "\N{HORIZONTAL ELLIPSIS}": "...",
    "\N{RIGHTWARDS ARROW}": "->",
    "\N{SQUARE ROOT}": "sqrt ",
    "\N{N-ARY SUMMATION}": "sum ",
    "\N{INTEGRAL}": "integral ",
    "\N{INFINITY}": "infinity",
    "\N{LESS-THAN OR EQUAL TO}": "<=",
    "\N{GREATER-THAN OR EQUAL TO}": ">=",
    "\N{NOT EQUAL TO}": "!=",
    "\N{ALMOST EQUAL TO}": "~",
    "\N{PLUS-MINUS SIGN}": "+-",
    "\N{DEGREE SIGN}": "deg ",
    "\N{MICRO SIGN}": "u",
    "\N{INCREMENT}": "delta",
    "\N{CHECK MARK}": "",
    "\N{MULTIPLICATION X}": "",
}
_RAISED = re.compile("[\N{SUPERSCRIPT MINUS}⁰¹²³⁴⁵⁶⁷⁸⁹]+")
_SIGN = "\N{SUPERSCRIPT MINUS}"


def shows(text: str, encoding: str) -> bool:
    """Whether an encoding has every letter of a text."""
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True


def spelled(text: str, encoding: str) -> str:
    """A text with what an encoding lacks written in plain letters.

    Parameters
    ----------
    text : str
        Any text without control codes.
    encoding : str
        Name of the encoding in which it will be written.

    Returns
    -------
    str
        A text that the encoding can hold.

    Examples
    --------
    >>> spelled("−12 °C, π D²/4 → 3 m³", "ascii")
    '-12 deg C, pi D^2/4 -> 3 m^3'
    """
    if shows(text, encoding):
        return text
    text = _RAISED.sub(lambda run: run[0] if shows(run[0], encoding) else _power(run[0]), text)
    return "".join(letter if shows(letter, encoding) else _letter(letter, encoding) for letter in text)


def _power(run: str) -> str:
    digits = "".join("-" if letter == _SIGN else unicodedata.normalize("NFKC", letter) for letter in run)
    return f"^{digits}"


def _letter(letter: str, encoding: str) -> str:
    """One letter by its plain form: a known sign, a letter without its accent, a Greek letter's name."""
    if letter in _PLAIN:
        return _PLAIN[letter]
    simple = "".join(part for part in unicodedata.normalize("NFKD", letter) if shows(part, encoding))
    if simple:
        return simple
    kind, _, greek = unicodedata.name(letter, "").partition(" LETTER ")
    if kind in ("GREEK SMALL", "GREEK CAPITAL"):
        word = greek.split(" ")[0].lower()
        return word.capitalize() if kind == "GREEK CAPITAL" else word
    return "" if unicodedata.combining(letter) else "?"
