"""The document: one self-contained page of HTML, on screen and on paper.

No script, no request to anywhere; a plan's own text is only ever text. The same answers and the same date give the
same bytes. Print it from a browser to get a PDF: page numbers, plan, revision and date stand in the foot.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeAlias

from jinja2 import Environment, FileSystemBytecodeCache, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup

from vanwater.document.book import Asked, book
from vanwater.document.glossary import terms_in
from vanwater.document.history import history
from vanwater.document.words import Words, in_css
from vanwater.plan.model import Plan

if TYPE_CHECKING:
    from vanwater.answers.core.chart import Chart

__all__ = ["Paper", "page_of", "render"]

Paper: TypeAlias = Literal["A4", "letter"]

_TEMPLATES = Path(__file__).parent / "templates"


def render(
    answers: Asked,
    *,
    us: bool | None = None,
    date: dt.date | None = None,
    charts: Mapping[str, Sequence[Chart]] | None = None,
    paper: Paper | None = None,
) -> str:
    """Write the document of a plan.

    Parameters
    ----------
    answers : Answers
        A plan and its answers.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    date : datetime.date, optional
        The day on the document; today without it.
    charts : mapping of str to sequence of Chart, optional
        Charts by question; those of the figures without it.
    paper : {"A4", "letter"}, optional
        The sheet that it is printed on; letter for US units, A4 else.

    Returns
    -------
    str
        The whole page.
    """
    words = Words(answers.plan.us if us is None else us)
    answers = answers.read_in(words.us)
    drawn = _charts(answers) if charts is None else charts
    contents = book(answers, words, date or dt.date.today(), drawn)
    return page_of("body.html", contents.plan, words, paper=paper, book=contents)


_FOR_THE_TRADE = ("workshop.html", "card.html")
"""Bodies whose readers know the trade's terms, or have them beside it."""


def page_of(
    template: str, plan: Plan, words: Words, *, paper: Paper | None = None, last: str = "", **given: object
) -> str:
    """A whole page out of the template of its body.

    Parameters
    ----------
    template : str
        Of the body.
    plan : Plan
        The plan.
    words : Words
        What writes it.
    paper : {"A4", "letter"}, optional
        The sheet that it is printed on; letter for US units, A4 else.
    last : str, optional
        Template of what stands behind the terms: a drawing fills a page of its own, and what would follow it waits.
    **given : object
        What the body shows.

    Returns
    -------
    str
        One self-contained page.
    """
    environment = _environment()
    known = {
        "plan": plan,
        "words": words,
        "in_css": in_css,
        "css": Markup(_css()),
        "history": history(plan, whole=template == "body.html"),
        "paper": paper or ("letter" if words.us else "A4"),
        **given,
    }
    body = environment.get_template(template).render(known)
    terms = None if template in _FOR_THE_TRADE else terms_in(_visible(body))
    return environment.get_template("page.html").render(
        known,
        body=Markup(body),
        last=Markup(environment.get_template(last).render(known) if last else ""),
        terms=terms,
        lettered=template == "body.html",
    )


def _charts(answers: Asked) -> Mapping[str, Sequence[Chart]]:
    return {name: answer.charts for name, answer in answers.each.items()}


class _Compiled(FileSystemBytecodeCache):
    """Templates as an earlier process compiled them, in a folder of temporary files that is the user's alone."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


@lru_cache(maxsize=1)
def _environment() -> Environment:
    compiled: _Compiled | None = None
    with suppress(RuntimeError, OSError):  # no such folder that is the user's alone
        compiled = _Compiled()
    return Environment(
        loader=FileSystemLoader(_TEMPLATES),
        bytecode_cache=compiled,
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )


@lru_cache(maxsize=1)
def _css() -> str:
    return (_TEMPLATES / "page.css").read_text(encoding="utf-8")


def _visible(html: str) -> str:
    """The words of a page without its tags and drawings."""
    return re.sub(r"<[^>]*>", " ", re.sub(r"<svg.*?</svg>", " ", html, flags=re.DOTALL))
