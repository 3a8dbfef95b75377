"""Changes on their way into a plan's file: which lines would change, a part that is picked, a new file."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any, TypeAlias

from vanwater.panels.control_part import has_part, part_at
from vanwater.panels.part_picks import is_pick, picked
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem, shown
from vanwater.plan.saving import create
from vanwater.plan.tables import resource

__all__ = ["changed_lines", "folder_of", "is_example", "new_file", "revised"]


Written: TypeAlias = str | int | bool
"""A value as a plan's file holds it."""


def revised(file: PlanFile, values: Mapping[str, Written]) -> PlanFile:
    """The file with several values changed, in an order in which each step is a possible plan.

    Parameters
    ----------
    file : PlanFile
        As it was read.
    values : mapping of str to str, int or bool
        New values by address, as the file would hold them; a part that the file lacks is added whole, at its end.

    Returns
    -------
    PlanFile
        Not saved yet.

    Raises
    ------
    PlanError
        When no order leads there.
    """
    for address, value in values.items():
        if is_pick(address):
            file = _with_pick(file, address, str(value))
    waiting: dict[str, dict[str, Written]] = {}
    for address, value in values.items():
        if is_pick(address):
            continue
        step = address if has_part(file.plan, address) else part_at(address)
        waiting.setdefault(step, {})[address.removeprefix(f"{step}.")] = value
    while waiting:
        refused: PlanError | None = None
        for address, fields in tuple(waiting.items()):
            try:
                file = (
                    file.revised(address, fields[address]) if address in fields else _with_part(file, address, fields)
                )
            except PlanError as error:
                refused = refused or error
            else:
                del waiting[address]
                break
        else:
            assert refused is not None
            raise refused
    return file


def _with_part(file: PlanFile, part: str, fields: Mapping[str, Written]) -> PlanFile:
    """The file with a part of a name of its own added at its end."""
    import tomlkit

    names = ".".join(tomlkit.key(name).as_string() for name in part.split("."))
    lines = [f"[{names}]", *(f"{key} = {tomlkit.item(value).as_string()}" for key, value in fields.items())]
    ending = "\r\n" if "\r\n" in file.text else "\n"
    text = "".join((file.text.rstrip("\r\n"), 2 * ending, ending.join(lines), ending))
    return replace(file, text=text, plan=Plan.of(tomllib.loads(text), file=True, shelf=file.plan.own_shelf))


def _with_pick(file: PlanFile, address: str, name: str) -> PlanFile:
    """The file with a part of the stock in the place of one of its parts; what the stock says leaves the file."""
    tomlkit: Any = import_module("tomlkit")
    table, part, _ = address.split(".")
    wanted = picked(file.plan, address, name)
    document = tomlkit.parse(file.text)
    lines = document[table][part]
    for key in [key for key in lines if key not in wanted]:
        del lines[key]
    lines["stock"] = name
    text: str = tomlkit.dumps(document)
    return replace(file, text=text, plan=Plan.of(tomllib.loads(text), file=True, shelf=file.plan.own_shelf))


def new_file(file: PlanFile, path: Path) -> PlanFile:
    """Write a plan's file under another name.

    Parameters
    ----------
    file : PlanFile
        What is to be written.
    path : Path
        Where there is no file yet.

    Returns
    -------
    PlanFile
        As it lies there.

    Raises
    ------
    PlanError
        When something lies there, the name is none, or the plan's shelf does not lie beside it.
    """

    def refuse(message: str, expected: str) -> PlanError:
        return PlanError([Problem("", message, expected).at(path.name or str(path), None)])

    if path.suffix.lower() != ".toml" or not path.stem.strip("."):
        raise refuse(f"{shown(str(path))} is no name for a plan.", "a name such as my-van.toml")
    if "shelf" in file.plan.own and path.absolute().parent.resolve() != file.path.absolute().parent.resolve():
        raise refuse("The plan's shelf does not lie there.", "a name beside the plan's file")
    try:
        create(path, file.data)
    except FileExistsError:
        raise refuse("There is such a file already; it stays as it is.", "another name") from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "this cannot be the name of a file"
        raise refuse(f"It cannot be written there: {why}.", "a folder that you may write into") from None
    return read(path)


def changed_lines(before: PlanFile, after: PlanFile) -> tuple[tuple[str, str], ...]:
    """What differs between two texts of a file.

    Parameters
    ----------
    before, after : PlanFile
        The file as it lies there, and as it would be.

    Returns
    -------
    tuple of (mark, line)
        "-" for a line that goes, "+" for one that comes.
    """
    lines = difflib.unified_diff(before.text.splitlines(), after.text.splitlines(), n=0, lineterm="")
    return tuple((line[0], line[1:]) for line in lines if line[0] in "+-" and line[:3] not in ("---", "+++"))


def is_example(file: PlanFile) -> bool:
    """Whether a file is one of those that ship with the package, which nobody should write into."""
    return resource("data").resolve() in file.path.resolve().parents


def folder_of(file: PlanFile | None) -> Path:
    """Where new files go: beside the plan's own, an example's into the folder of the notebook."""
    return Path() if file is None or is_example(file) else file.path.parent
