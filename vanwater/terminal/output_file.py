"""Where a document may be written: never over a plan, never over anything that is no earlier document."""

from __future__ import annotations

from pathlib import Path

from vanwater.terminal.refusal import RefusedError

__all__ = ["page_target"]

ENDINGS = (".html", ".htm")
WRITTEN_BY = b'<meta name="generator" content="vanwater">'
"""What every document says of itself in its head."""
LOOKED_AT = 1024


def page_target(path: Path, plan: Path) -> Path:
    """See that a web page may be written at a place.

    Parameters
    ----------
    path : Path
        Where it is wanted.
    plan : Path
        The plan that it is made of.

    Returns
    -------
    Path
        The same place.

    Raises
    ------
    RefusedError
        When the name is none of a web page, the folder is missing, or something else lies there.
    """
    try:
        return _allowed(path, plan, "Nothing was written.")
    except OSError as error:  # a name that no file can have, a folder that may not be looked into
        raise RefusedError(f"{path} cannot be written: {error.strerror}.") from None


def _allowed(path: Path, plan: Path, kept: str) -> Path:
    if path.is_dir():
        raise RefusedError(f"{path} is a folder. {kept}\nGive a file, such as -o {path / 'van.html'}.")
    if path.suffix.lower() not in ENDINGS:
        raise RefusedError(f"{path} is no name of a web page. {kept}\nThe name must end in .html.")
    if not path.parent.is_dir():
        raise RefusedError(f"{path.parent} is no folder. {kept}\nMake the folder first.")
    if path.exists():
        if plan.exists() and path.samefile(plan):
            raise RefusedError(f"{path} is the plan itself. {kept}")
        if not path.is_file() or not _is_document(path):
            raise RefusedError(f"{path} holds something that vanwater did not write. {kept}\nChoose another name.")
    return path


def _is_document(path: Path) -> bool:
    """Whether a file is empty, or a document that was written before."""
    try:
        with path.open("rb") as file:
            begins = file.read(LOOKED_AT)
    except OSError:
        return False
    return not begins or WRITTEN_BY in begins
