"""Where papers, drawings and copies of a plan may be written: never over a plan, nor over what is no earlier one."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

__all__ = ["DRAWING", "PAGE", "PAPERS", "Kind", "NotWrittenError", "target"]

PAPERS = ("customer", "workshop", "file")
"""The papers made of a plan, by their readers; the file with every sum is called as the plan is."""


LOOKED_AT = 1024  # bytes at a file's beginning


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
        What it says of itself at its beginning.
    """

    name: str
    endings: tuple[str, ...]
    written_by: bytes


PAGE = Kind("a web page", (".html", ".htm"), b'<meta name="generator" content="vanwater">')
DRAWING = Kind("a drawing", (".svg",), b'data-generator="vanwater"')


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
        When the name is none of its kind, the folder is missing, or something else lies there.
    """
    try:
        return _allowed(path, plan, kind, "Nothing was written.")
    except OSError as error:  # a name that no file can have, a folder that may not be looked into
        raise NotWrittenError(f"{path} cannot be written: {error.strerror}.") from None


def _allowed(path: Path, plan: Path, kind: Kind, kept: str) -> Path:
    if path.is_dir():
        raise NotWrittenError(f"{path} is a folder. {kept}\nGive a file, such as {path / f'van{kind.endings[0]}'}.")
    if path.suffix.lower() not in kind.endings:
        raise NotWrittenError(f"{path} is no name of {kind.name}. {kept}\nThe name must end in {kind.endings[0]}.")
    if not path.parent.is_dir():
        raise NotWrittenError(f"{path.parent} is no folder. {kept}\nMake the folder first.")
    if path.exists():
        if plan.exists() and path.samefile(plan):
            raise NotWrittenError(f"{path} is the plan itself. {kept}")
        if not path.is_file() or not _is_earlier(path, kind):
            raise NotWrittenError(f"{path} holds something that vanwater did not write. {kept}\nChoose another name.")
    return path


def _is_earlier(path: Path, kind: Kind) -> bool:
    """Whether a file is empty, or one of the kind that was written before."""
    try:
        with path.open("rb") as file:
            begins = file.read(LOOKED_AT)
    except OSError:
        return False
    return not begins or kind.written_by in begins
