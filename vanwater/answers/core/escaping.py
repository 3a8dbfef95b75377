"""A plan's own text made harmless: names and notes are markup in every medium until proven otherwise."""

from __future__ import annotations

import html
import re
import unicodedata
from collections.abc import Callable
from functools import partial
from typing import Literal, TypeAlias

__all__ = ["Medium", "harmless", "plain"]

Medium: TypeAlias = Literal["html", "rich", "plotly", "markdown", "markdown page", "csv", "terminal"]

_PUNCTUATION = re.compile(r"[!-/:-@\[-`{-~]")
_SIGNS = re.compile(r"[\\`*_\[\]<>|~&$^{}@]|(?<=www)\.|:(?=//)", re.IGNORECASE)
"""What may act as markup within a line of a Markdown file, or becomes a link by itself."""
_RICH = re.compile(r"(\\*)(\[|$)")
_JOINERS = "\N{ZERO WIDTH JOINER}\N{ZERO WIDTH NON-JOINER}"


def plain(text: str, medium: Medium) -> str:
    """Make a plan's own text harmless where it is shown: one line, no markup, no control codes.

    Parameters
    ----------
    text : str
        A name or note as somebody wrote it.
    medium : {"html", "rich", "plotly", "markdown", "markdown page", "csv", "terminal"}
        Where it goes: a web page or attribute; rich's markup; plotly's labels and hover texts; a Markdown
        cell; within a line of a Markdown file that people read as it is; a cell of a table file; bare text.

    Returns
    -------
    str
        The same words, to be read in that medium.

    Raises
    ------
    ValueError
        When the medium is not known.

    Examples
    --------
    >>> plain("Tom's <b>tank</b>", "html")
    'Tom&#x27;s &lt;b&gt;tank&lt;/b&gt;'
    >>> plain("=1+1", "csv")
    "'=1+1"
    """
    line = _one_line(text)
    if medium == "terminal":
        return line
    if medium == "html":
        return html.escape(line)
    if medium == "rich":
        return _RICH.sub(lambda match: match[1] * 2 + ("\\[" if match[2] else ""), line)
    if medium == "plotly":
        return html.escape(line, quote=False).replace("$", "&#36;").replace("%{", "&#37;{")
    if medium == "markdown":
        return _PUNCTUATION.sub(lambda match: f"&#{ord(match[0])};", line)
    if medium == "markdown page":
        return _SIGNS.sub(lambda match: f"\\{match[0]}", line)
    if medium == "csv":
        return f"'{line}" if line[:1] in set("=+-@＝＋－＠") else line
    raise ValueError(f'medium: "{medium}" is not one of html, rich, plotly, markdown, markdown page, csv, terminal')


def harmless(medium: Medium) -> Callable[[str], str]:
    """What makes texts harmless in a medium, as one function of a text."""
    return partial(plain, medium=medium)


def _one_line(text: str) -> str:
    """Drop what a reader cannot see: control codes, direction marks, line breaks, broken characters."""
    if text.isascii() and text.isprintable():
        return " ".join(text.split())
    kept = []
    for letter in text:
        category = unicodedata.category(letter)
        if letter in "\t\n\r\v\f" or category in ("Zl", "Zp"):
            kept.append(" ")
        elif category == "Cs" or ord(letter) & 0xFFFE == 0xFFFE:
            kept.append("\N{REPLACEMENT CHARACTER}")
        elif category != "Cc" and (category != "Cf" or letter in _JOINERS):
            kept.append(letter)
    return re.sub(" +", " ", "".join(kept)).strip(" ")
