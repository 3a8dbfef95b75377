"""What can be written of a plan, one row a thing: what it is, what its file is called, in which forms, what makes it.

The command and the bench both write by this table, so that what the one hands on the other does too.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from vanwater.document.output_file import DRAWING, FORMS, PAPERS, TABLE, Kind

if TYPE_CHECKING:  # each brings much along, and is imported when it is first written
    from vanwater.answers.questions import Answers
    from vanwater.figures.schematic.parts import Shows
    from vanwater.options.comparison import Comparison

__all__ = ["WRITINGS", "Subject", "Writing", "file_name"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """Of what something is written.

    Parameters
    ----------
    answers : Answers
        A plan and its answers.
    us : bool
        US units instead of metric ones.
    date : datetime.date, optional
        The day on a paper; today without it.
    change : Comparison, optional
        From another plan to this one, for a change order.
    shows : {"size", "loss"}
        What stands beside each run of the plumbing.
    outlet : str
        The open outlet, for losses.
    """

    answers: Answers
    us: bool
    date: dt.date | None = None
    change: Comparison | None = None
    shows: Shows = "size"
    outlet: str = ""

    @property
    def read(self) -> Answers:
        """The answers in the units that are read."""
        return self.answers.read_in(self.us)


@dataclass(frozen=True, slots=True, kw_only=True)
class Writing:
    """Something that can be written of a plan.

    Parameters
    ----------
    key : str
        By what it is asked for.
    about : str
        What it is, in words.
    behind : str
        What stands behind the plan's name in the name of its file.
    forms : tuple of Kind
        In what it may be written, the usual form first.
    text : callable
        Gives it as a page, a drawing or a table.
    """

    key: str
    about: str
    behind: str
    forms: tuple[Kind, ...]
    text: Callable[[Subject], str]


def file_name(writing: Writing, stem: str, situation: str = "", form: Kind | None = None) -> str:
    """What the file of something that is written is called.

    Parameters
    ----------
    writing : Writing
        What is written.
    stem : str
        Name of the plan's file without its ending.
    situation : str
        The situation that it is of; empty for the plan as it is written.
    form : Kind, optional
        In what it is written; its usual form without it.

    Returns
    -------
    str
        Such as "van ski week workshop.html".
    """
    name = " ".join(filter(None, (stem, situation, writing.behind)))
    return f"{name}{(form or writing.forms[0]).endings[0]}"


def _paper(reader: str, of: Subject) -> str:
    from vanwater.document.papers import paper

    return paper(reader, of.answers, us=of.us, date=of.date)


def _card(of: Subject) -> str:
    from vanwater.document.card import card

    return card(of.answers, us=of.us, date=of.date)


def _tags(of: Subject) -> str:
    from vanwater.document.card import tags_csv

    return tags_csv(of.read, of.us)


def _parts(of: Subject) -> str:
    from vanwater.document.order_csv import order_csv

    return order_csv(of.answers.plan.read_in(of.us))


def _plumbing(of: Subject) -> str:
    from vanwater.figures.schematic.drawing import schematic
    from vanwater.figures.themed import themed

    return themed(schematic(of.read, of.us, of.shows, of.outlet))


def _scale(of: Subject) -> str:
    from vanwater.figures.themed import themed
    from vanwater.figures.to_scale.drawing import to_scale

    return themed(to_scale(of.read, of.us))


def _change(of: Subject) -> str:
    from vanwater.document.change_order import render_change

    if of.change is None:
        raise TypeError("a change order is made of two plans")
    return render_change(of.change, date=of.date)


_ABOUT = ("the pages for the customer", "the sheet for the workshop", "the file with every sum")

WRITINGS: Mapping[str, Writing] = {
    writing.key: writing
    for writing in (
        *(
            Writing(
                key=reader,
                about=about,
                behind="" if reader == "file" else reader,
                forms=FORMS,
                text=partial(_paper, reader),
            )
            for reader, about in zip(PAPERS, _ABOUT, strict=True)
        ),
        Writing(key="card", about="the card that stays in the van", behind="card", forms=FORMS, text=_card),
        Writing(key="tags", about="the tags of the card, for labels", behind="tags", forms=(TABLE,), text=_tags),
        Writing(key="parts", about="the list of parts, for an order", behind="parts", forms=(TABLE,), text=_parts),
        Writing(key="schematic", about="the drawing of the plumbing", behind="", forms=(DRAWING,), text=_plumbing),
        Writing(key="scale", about="the van drawn to scale", behind="scale", forms=(DRAWING,), text=_scale),
        Writing(key="change", about="the change order", behind="change", forms=FORMS, text=_change),
    )
}
"""All of them by their keys, in the order in which they are offered."""
