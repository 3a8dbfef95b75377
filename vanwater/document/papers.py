"""The three papers of a plan, and the forms in which a paper, a drawing or a table is wanted."""

from __future__ import annotations

import datetime as dt

from vanwater.answers.questions import Answers
from vanwater.document.html import render
from vanwater.document.lean import lean_page
from vanwater.document.markdown import markdown
from vanwater.document.output_file import MARKDOWN, PAGE, PDF, TABLE, Kind, sealed
from vanwater.document.pdf import printed
from vanwater.document.short import READERS, render_for

__all__ = ["in_form", "paper"]


def paper(reader: str, answers: Answers, *, us: bool | None = None, date: dt.date | None = None) -> str:
    """Write one of the papers of a plan.

    Parameters
    ----------
    reader : {"customer", "workshop", "file"}
        Whom it is for.
    answers : Answers
        A plan and its answers.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    date : datetime.date, optional
        The day on the paper; today without it.

    Returns
    -------
    str
        The whole page.
    """
    for short in READERS:
        if reader == short:
            return render_for(short, answers, us=us, date=date)
    return render(answers, us=us, date=date)


def in_form(page: str, form: Kind, date: dt.date | None = None) -> bytes:
    """A paper, a drawing or a table in the form in which it is wanted.

    Parameters
    ----------
    page : str
        The paper as a page, the drawing, or the table as comma-separated values.
    form : Kind
        A page, Markdown, PDF, a drawing or a table.
    date : datetime.date, optional
        The day on the paper; today without it.

    Returns
    -------
    bytes
        What its file holds.

    Raises
    ------
    NotWrittenError
        When it is to be a PDF, and nothing here prints one.
    """
    if form is PDF:
        return printed(page, date or dt.date.today())
    if form is MARKDOWN:
        return markdown(page).encode("utf-8")
    if form is TABLE:  # with the mark by which spreadsheets know UTF-8
        heads, line, rows = page.partition("\n")
        return sealed(TABLE, f"\N{BYTE ORDER MARK}{heads},".encode(), f"{line}{rows}".encode())
    return (lean_page(page) if form is PAGE else page).encode("utf-8")
