"""The card that stays in the van: first use, before frost, cautions, and the tags as strips to cut out."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from vanwater.answers.core.answer import Caution, gravest_first
from vanwater.answers.core.escaping import plain
from vanwater.answers.core.handover import When
from vanwater.answers.core.statement import Say, say
from vanwater.answers.questions import Answers
from vanwater.document.handover import handover
from vanwater.document.html import page_of
from vanwater.document.words import Words, dated
from vanwater.figures.schematic.lists import numbered_pieces, numbered_runs
from vanwater.figures.schematic.piping import piping

__all__ = ["Card", "Tag", "card", "tags", "tags_csv"]

_HEADS = ("tag", "what", "where")


@dataclass(frozen=True, slots=True)
class Tag:
    """A strip that is cut out and fixed to a piece or a run.

    Parameters
    ----------
    tag : str
        Its number, that of the drawing.
    what, where : Say
        What it is; what the plan calls it, or from where to where it leads.
    """

    tag: str
    what: Say
    where: Say


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What stands on the card.

    Parameters
    ----------
    date : str
        The day in words.
    steps : mapping of str to tuple of Say
        What is done, in order, by when.
    cautions : tuple of Caution
        Those that the plan raises, the gravest first, each once.
    tags : tuple of Tag
        Pieces, then runs, along the water.
    """

    date: str
    steps: Mapping[When, tuple[Say, ...]]
    cautions: tuple[Caution, ...]
    tags: tuple[Tag, ...]


def card(answers: Answers, *, us: bool | None = None, date: dt.date | None = None) -> str:
    """Write the card of a plan.

    Parameters
    ----------
    answers : Answers
        A plan and its answers.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    date : datetime.date, optional
        The day on the card; today without it.

    Returns
    -------
    str
        The whole page.
    """
    words = Words(answers.plan.us if us is None else us)
    answers = answers.read_in(words.us)
    each = tuple(answers.each.values())
    contents = Card(
        date=dated(date or dt.date.today(), words.us),
        steps=handover(answers.plan, each).steps,
        cautions=gravest_first(caution for answer in each for caution in answer.cautions),
        tags=tuple(tags(answers)),
    )
    return page_of("card.html", answers.plan, words, book=contents)


def tags(answers: Answers) -> Iterator[Tag]:
    """The tags of a plan.

    Parameters
    ----------
    answers : Answers
        A plan and its answers.

    Yields
    ------
    Tag
        Pieces, then runs, by their numbers.
    """
    drawn = piping(answers)
    for number, what, name in numbered_pieces(drawn).rows:
        yield Tag(_said(number).text(), _said(what), _said(name))
    for number, name, ends, *_ in numbered_runs(answers.plan, drawn).rows:
        yield Tag(_said(number).text(), _said(name), _said(ends))


def _said(cell: object) -> Say:
    return cell if isinstance(cell, Say) else say("{text}", text=str(cell))


def tags_csv(answers: Answers, us: bool) -> str:
    """The tags of a plan, for a label printer.

    Parameters
    ----------
    answers : Answers
        A plan and its answers.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    str
        Comma-separated values with one line of headings; names of a plan cannot act as formulas.
    """
    file = io.StringIO()
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(_HEADS)
    for tag in tags(answers):
        writer.writerow([plain(text, "csv") for text in (tag.tag, tag.what.text(us), tag.where.text(us))])
    return file.getvalue()
