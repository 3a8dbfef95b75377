"""The trade's terms that a document uses, each explained once: those of every question in one list."""

from __future__ import annotations

import re

from vanwater.answers.core.terms import TERMS as SHARED
from vanwater.answers.core.terms import Term
from vanwater.answers.questions import QUESTIONS

__all__ = ["TERMS", "terms_in"]

TERMS: tuple[Term, ...] = tuple(
    sorted((*SHARED, *(term for each in QUESTIONS.values() for term in each.terms)), key=lambda term: term.name)
)
"""In the order of the alphabet."""


def terms_in(text: str) -> tuple[Term, ...]:
    """The terms that a text uses.

    Parameters
    ----------
    text : str
        The text of a document.

    Returns
    -------
    tuple of Term
        In the order of the alphabet.
    """
    words = " ".join(re.findall(r"[\w-]+", text.casefold()))
    return tuple(
        term
        for term in TERMS
        if any(form in words and re.search(rf"\b{re.escape(form)}\b", words) for form in (term.name, *term.forms))
    )
