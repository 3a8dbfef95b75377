"""The line above a notebook that names the plan in hand: the van, its revision, the file and when it was saved."""

from __future__ import annotations

import hashlib
import html
import os
import tomllib
from collections.abc import Mapping
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from vanwater.answers.core.statement import harmless
from vanwater.panels.initial_plan import EXAMPLE, PLAN_VARIABLE
from vanwater.panels.pieces import Shown
from vanwater.plan.file import LARGEST, read
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import resource

__all__ = ["SHOWS", "START", "file_line", "fingerprint", "in_hand", "named_in_words", "path_in_hand"]

START = "start.ipynb"
"""Name of the page that leads to every notebook."""

SHOWS = "*This page shows "
"""How the paragraph of a notebook begins that names the plan that it was worked out for."""

_TEXT, _MARKDOWN = harmless("terminal"), harmless("markdown")
_LETTERS = 8
_STYLE = "<style>.jp-CodeCell:has(.vw-plan)>.jp-Cell-inputWrapper{display:none}</style>"  # the line stands alone


def path_in_hand(environment: Mapping[str, str] = os.environ) -> Path:
    """The file of the plan that was handed over, else that of the example.

    Parameters
    ----------
    environment : mapping
        Where the plan's file may be named.

    Returns
    -------
    Path
        It need not exist.
    """
    named = environment.get(PLAN_VARIABLE, "")
    return Path(named) if named else Path(str(resource("data", "plans", EXAMPLE)))


def fingerprint(path: Path) -> str:
    """Letters that tell one content of a plan's file, and of the shelf that it names, from another.

    Parameters
    ----------
    path : Path
        The plan's file.

    Returns
    -------
    str
        Eight letters; empty where the file cannot be read.
    """
    try:
        data = _content(path)
    except (OSError, ValueError):
        return ""
    with suppress(ValueError, OSError):
        shelf = tomllib.loads(data.decode("utf-8-sig")).get("shelf")
        if isinstance(shelf, str):
            data += _content(path.parent / shelf)
    return hashlib.sha256(data).hexdigest()[:_LETTERS]


def _content(path: Path) -> bytes:
    """As much of a file as a plan may have, and a byte more."""
    with path.open("rb") as file:
        return file.read(LARGEST + 1)


def file_line(path: Path, example: bool = False) -> str:
    """The plan's file, when it was saved, and what its content is known by.

    Parameters
    ----------
    path : Path
        The file.
    example : bool
        Whether it is the example that ships with the program; then nobody asks when it was saved.

    Returns
    -------
    str
        Bare text.
    """
    name = _TEXT(path.name)
    try:
        saved = datetime.fromtimestamp(path.stat().st_mtime).astimezone()
    except OSError:
        return f"{name}, which cannot be read"
    return name if example else f"{name}, saved {saved:%Y-%m-%d, %H:%M} (fingerprint {fingerprint(path)})"


def in_hand(environment: Mapping[str, str] = os.environ) -> Shown:
    """Name the plan in hand; it stands above a notebook's own cells.

    Parameters
    ----------
    environment : mapping
        Where the plan's file may be named.

    Returns
    -------
    Shown
        One line, with a link to the start page.
    """
    path, example = path_in_hand(environment), not environment.get(PLAN_VARIABLE, "")
    line = file_line(path, example)
    try:
        van = read(path).plan.van
    except PlanError:
        return said("", f"{line}, cannot be used as it is. The start page tells why.")
    kind = "Example: " * example
    return said(f"{kind}{_TEXT(van.name)}", f", revision {_TEXT(van.revision)} \N{EN DASH} {line}")


def said(strong: str, rest: str) -> Shown:
    """A line above a notebook, its first words strong, with a link to the start page."""
    told = f"<b>{html.escape(strong)}</b>{html.escape(rest)}"
    return Shown(f'{_STYLE}<p class="vw-plan">{told} · <a href="{START}">start page</a></p>', f"{strong}{rest}")


def named_in_words(text: str, environment: Mapping[str, str] = os.environ) -> str:
    """A notebook's words with the plan in hand in the paragraph that names the plan that it shows.

    Parameters
    ----------
    text : str
        Markdown of a cell.
    environment : mapping
        Where the plan's file may be named.

    Returns
    -------
    str
        The same where no paragraph of it names a plan.
    """
    paragraphs = text.split("\n\n")
    shows = [part.startswith(SHOWS) for part in paragraphs]
    if not any(shows):
        return text
    path, example = path_in_hand(environment), not environment.get(PLAN_VARIABLE, "")
    file = f"`{_TEXT(path.name).replace('`', '')}`"
    try:
        van = read(path).plan.van
    except PlanError:
        told = f"the plan in {file}, once it can be used."
    else:
        revision = "" if example else f", revision {_MARKDOWN(van.revision)}"
        told = f"{'an example until you run it: ' * example}{_MARKDOWN(van.name)}{revision}, of {file}."
    return "\n\n".join(f"{SHOWS}{told}*" if named else part for part, named in zip(paragraphs, shows, strict=True))
