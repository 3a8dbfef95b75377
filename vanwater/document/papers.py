"""All that is handed on of one plan: the three papers, and the plan itself as they were made of it."""

from __future__ import annotations

import datetime as dt
import hashlib
from pathlib import Path

from vanwater.answers.questions import Answers
from vanwater.document.html import render
from vanwater.document.lean import lean_page
from vanwater.document.markdown import markdown
from vanwater.document.output_file import DRAWING, MARKDOWN, PAGE, PAPERS, PDF, Kind, NotWrittenError, target
from vanwater.document.pdf import printed
from vanwater.document.short import READERS, render_for
from vanwater.plan.file import PlanFile
from vanwater.plan.saving import replace_files

__all__ = ["COPY", "copy_of", "hand_on", "in_form", "paper"]

_MARK = "# Written by vanwater beside its papers:"

COPY = Kind("a plan", (".toml",), _MARK.encode())
"""A copy of a plan as its papers tell it; one that a hand has changed is the builder's."""


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
    """A paper or a drawing in the form in which it is wanted.

    Parameters
    ----------
    page : str
        The paper as a page, or the drawing.
    form : Kind
        A page, Markdown, PDF or a drawing.
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
    return (page if form is DRAWING else lean_page(page)).encode("utf-8")


def hand_on(
    answers: Answers, plan: PlanFile, folder: Path, *, us: bool | None = None, date: dt.date | None = None
) -> tuple[Path, ...]:
    """Write the three papers of a plan, and a copy of the plan where its file says something else.

    Parameters
    ----------
    answers : Answers
        To the plan as it is handed on.
    plan : PlanFile
        The same plan, with the text that its file would have.
    folder : Path
        Where to.
    us, date
        As in :func:`paper`.

    Returns
    -------
    tuple of Path
        What was written; all of it, or nothing where one place is taken or finds no room.

    Raises
    ------
    NotWrittenError
        When something lies there that vanwater did not write.
    OSError
        When the folder cannot be written.
    """
    stem = plan.path.stem
    pages = {reader: folder / f"{stem if reader == 'file' else f'{stem} {reader}'}.html" for reader in PAPERS}
    copy = folder / f"{stem} handed on.toml"
    own = folder / plan.path.name
    needed = not own.is_file() or own.read_bytes() != plan.data

    def free() -> None:
        for place in pages.values():
            target(place, plan.path, PAGE)
        if needed:
            target(copy, plan.path, COPY)
            _untouched(copy)

    free()
    written = {place: in_form(paper(reader, answers, us=us, date=date), PAGE, date) for reader, place in pages.items()}
    if needed:
        written[copy] = copy_of(plan)
    replace_files(written, free)
    return tuple(written)


def copy_of(plan: PlanFile) -> bytes:
    """A plan's file with a first line that says what it is, by which it is known again while nobody has changed it.

    Parameters
    ----------
    plan : PlanFile
        The plan.

    Returns
    -------
    bytes
        The copy.
    """
    ending = "\r\n" if "\r\n" in plan.text else "\n"
    text = plan.text.encode("utf-8")
    return f"{_MARK} {_digest(text)}{ending}".encode() + text


def _digest(text: bytes) -> str:
    return hashlib.sha256(text).hexdigest()[:16]


def _untouched(copy: Path) -> None:
    """See that a copy that lies there is as it was written."""
    if not copy.exists():
        return
    first, _, text = copy.read_bytes().partition(b"\n")
    if first.strip() and first.decode("utf-8", "replace").split() != f"{_MARK} {_digest(text)}".split():
        raise NotWrittenError(
            f"{copy} was changed since vanwater wrote it. Nothing was written.\nGive it another name, to keep it."
        )
