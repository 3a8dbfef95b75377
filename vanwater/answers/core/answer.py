"""What an answer is made of beside its numbers, tables and findings: assumptions and cautions."""

from __future__ import annotations

from dataclasses import dataclass

from vanwater.answers.core.statement import Say

__all__ = ["Assumption", "Caution"]


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something that was taken to be so.

    Parameters
    ----------
    key : str
        Short name.
    statement : Say
        What was assumed, and how far it may lie off.
    measure : str
        What to measure or decide to know it; empty where nothing can be done.
    source : str
        Published source or "common practice".
    address : str
        Where in the plan it can be said otherwise.
    """

    key: str
    statement: Say
    measure: str = ""
    source: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning that belongs beside a number.

    Parameters
    ----------
    key : str
        Short name; the same caution stands once on a page.
    text : str
        The warning in plain words.
    grave : bool
        Whether somebody can be hurt at once; a grave one is never folded away.
    source : str
        Published source or "common practice".
    short : str
        The warning in a few words, for where there is little room; the whole text without it.
    """

    key: str
    text: str
    grave: bool = False
    source: str = "common practice"
    short: str = ""
