"""Where papers, drawings, tables, copies of a plan may be written: never over a plan, nor what is no earlier one."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from errno import EACCES, EDQUOT, ENOSPC, EPERM, EROFS
from pathlib import Path

__all__ = [
    "COPY",
    "DRAWING",
    "FORMS",
    "MARKDOWN",
    "PAGE",
    "PAPERS",
    "PDF",
    "TABLE",
    "Kind",
    "NotWrittenError",
    "form_of",
    "not_written",
    "sealed",
    "target",
]

PAPERS = ("customer", "workshop", "file")
"""The papers made of a plan, by their readers; the file with every sum is called as the plan is."""


LOOKED_AT = 1024  # bytes at a file's beginning, and at its end


class NotWrittenError(Exception):
    """A place where nothing may be written; the message says why, and what to do."""


@dataclass(frozen=True, slots=True)
class Kind:
    """What is written.

    Parameters
    ----------
    name : str
        In words.
    endings : tuple of str
        How its file's name ends, the usual ending first.
    written_by : bytes
        What it says of itself at its beginning, or at its end.
    sealed : bool
        Whether builders go on writing in it, so that one that a hand has changed is no earlier one any more.
    """

    name: str
    endings: tuple[str, ...]
    written_by: bytes
    sealed: bool = False


PAGE = Kind("a web page", (".html", ".htm"), b'<meta name="generator" content="vanwater">')
MARKDOWN = Kind("a Markdown text", (".md",), b"[//]: # (written by vanwater)")
PDF = Kind("a PDF", (".pdf",), b"\n% written by vanwater\n")
FORMS = (PAGE, MARKDOWN, PDF)
"""In what a paper may be written, by the ending of its name."""

PAPER = Kind("a web page, a PDF or a Markdown text", (".html", ".pdf", ".md"), PAGE.written_by)
"""What a name is asked for that is none of these forms."""

DRAWING = Kind("a drawing", (".svg",), b'data-generator="vanwater"')

TABLE = Kind("a table", (".csv",), b"written by vanwater:", sealed=True)
"""A list for spreadsheets, into which somebody may have put prices."""

COPY = Kind("a plan", (".toml",), b"# Written by vanwater beside its papers:", sealed=True)
"""A copy of a plan as its papers tell it."""

_DIGITS = 16  # of a digest


def form_of(path: Path | None) -> Kind:
    """In what form a paper is written, by the name that somebody chose for it; a page without one."""
    if path is None:
        return PAGE
    return next((form for form in FORMS if path.suffix.lower() in form.endings), PAPER)


def sealed(kind: Kind, before: bytes, after: bytes) -> bytes:
    """What a file holds, with a mark by which it is known again while nobody has changed it.

    Parameters
    ----------
    kind : Kind
        What it is.
    before, after : bytes
        What stands before the mark, on the first line, and after it.

    Returns
    -------
    bytes
        All of it.
    """
    return b"".join((before, kind.written_by, b" ", _digest(before + after), after))


def not_written(place: Path | str, error: OSError) -> NotWrittenError:
    """What a disk refuses, with what to do.

    Parameters
    ----------
    place : Path or str
        What was to be written; what lay there before is kept.
    error : OSError
        Why it is not.

    Returns
    -------
    NotWrittenError
        To be raised.
    """
    do = "Try again, or choose another folder"
    if error.errno in (ENOSPC, EDQUOT):
        do = "Make room on the disk, then write it again"
    elif error.errno in (EACCES, EPERM, EROFS):
        do = "Close it where it is open, or choose a folder that you may write into"
    why = error.strerror or str(error)
    return NotWrittenError(
        f"{place} cannot be written: {why}. Nothing was written.\n{do}; what lay there before is kept."
    )


def target(path: Path, plan: Path, kind: Kind) -> Path:
    """See that a document or a drawing may be written at a place.

    Parameters
    ----------
    path : Path
        Where it is wanted.
    plan : Path
        The plan that it is made of.
    kind : Kind
        What is written.

    Returns
    -------
    Path
        The same place.

    Raises
    ------
    NotWrittenError
        When the name is none of its kind, the folder is missing, something else lies there, or what a hand has
        changed since.
    """
    try:
        return _allowed(path, plan, kind, "Nothing was written.")
    except OSError as error:  # a name that no file can have, a folder that may not be looked into
        raise not_written(path, error) from None


def _allowed(path: Path, plan: Path, kind: Kind, kept: str) -> Path:
    if path.is_dir():
        raise NotWrittenError(f"{path} is a folder. {kept}\nGive a file, such as {path / f'van{kind.endings[0]}'}.")
    if path.suffix.lower() not in kind.endings:
        raise NotWrittenError(
            f"{path} is no name of {kind.name}. {kept}\nThe name must end in {' or '.join(kind.endings)}."
        )
    if not path.parent.is_dir():
        raise NotWrittenError(f"{path.parent} is no folder. {kept}\nMake the folder first.")
    if path.exists():
        if plan.exists() and path.samefile(plan):
            raise NotWrittenError(f"{path} is the plan itself. {kept}")
        if not path.is_file() or not _is_earlier(path, kind):
            raise NotWrittenError(f"{path} holds something that vanwater did not write. {kept}\nChoose another name.")
        if kind.sealed and not _untouched(path.read_bytes(), kind):
            raise NotWrittenError(
                f"{path} was changed since vanwater wrote it. {kept}\nGive it another name, to keep it."
            )
    return path


def _is_earlier(path: Path, kind: Kind) -> bool:
    """Whether a file is empty, or one of the kind that was written before."""
    try:
        with path.open("rb") as file:
            begins = file.read(LOOKED_AT)
            file.seek(max(path.stat().st_size - LOOKED_AT, 0))
            ends = file.read(LOOKED_AT)
    except OSError:
        return False
    return not begins or kind.written_by in begins or kind.written_by in ends


def _untouched(data: bytes, kind: Kind) -> bool:
    """Whether a sealed file is as it was written."""
    before, _, behind = data.partition(kind.written_by)
    seal, after = behind[1 : 1 + _DIGITS], behind[1 + _DIGITS :]
    return not data or seal == _digest(before + after)


def _digest(data: bytes) -> bytes:
    return hashlib.sha256(data).hexdigest()[:_DIGITS].encode("ascii")
