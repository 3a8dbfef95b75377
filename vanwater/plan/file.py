"""A plan's file: read with every problem and its line, one value written back, saved whole or not at all."""

from __future__ import annotations

import re
import stat
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from vanwater.plan.address import nearest
from vanwater.plan.change import put
from vanwater.plan.model import Plan
from vanwater.plan.not_toml import not_toml, too_deep
from vanwater.plan.patch import spliced
from vanwater.plan.problems import PlanError, Problem, shown
from vanwater.plan.raw import copied
from vanwater.plan.saving import replace_file
from vanwater.plan.shelf import no_shelf, shelf_of
from vanwater.plan.statements import lines_by_address, nearest_line, statements
from vanwater.plan.stock import Shelf
from vanwater.quantities import errors_in

__all__ = ["LARGEST", "PlanFile", "read"]

LARGEST = 1_000_000
"""Bytes that a plan's file may have."""

_US = re.compile(r"""^[ \t]*units[ \t]*=[ \t]*["']us["']""", re.MULTILINE)
MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"


@dataclass(frozen=True, slots=True)
class PlanFile:
    """A plan with the text it was read from.

    Parameters
    ----------
    path : Path
        Where it lies.
    text : str
        The file's text when it was read, line ends as they are.
    plan : Plan
        What it says.
    mark : bool
        Whether the file begins with a byte order mark, as some editors write one.
    """

    path: Path
    text: str
    plan: Plan
    mark: bool = False

    def __repr__(self) -> str:
        return f"PlanFile({self.path.name!r}, {self.plan!r})"

    @property
    def data(self) -> bytes:
        """The file's bytes."""
        return self.text.encode("utf-8-sig" if self.mark else "utf-8")

    def revised(self, address: str, value: str | int | bool) -> PlanFile:
        """The same file with one value changed; comments, order and spacing stay.

        Parameters
        ----------
        address : str
            Where: "tanks.fresh.capacity".
        value : str, int or bool
            The new value as the file would hold it: a text with its unit.

        Returns
        -------
        PlanFile
            Not saved yet.

        Raises
        ------
        PlanError
            When the new value is not possible.
        ValueError
            When the statement cannot be patched without changing something else.
        """
        wanted = tomllib.loads(self.text)
        try:
            put(wanted, address, value)
            text = spliced(self.text, tuple(address.split(".")), value)
        except PlanError as error:
            raise PlanError(problem.at(self.path.name, None) for problem in error.problems) from None
        if _loaded(text) != wanted:
            raise ValueError(f"{address} cannot be changed in {self.path.name} without changing something else.")
        return PlanFile(self.path, text, _plan(text, wanted, self.path), self.mark)

    def located(self, error: PlanError) -> PlanError:
        """The same problems, each with its place in this file, where it has none yet."""
        lines = lines_by_address(statements(self.text))
        return PlanError(
            problem if problem.file else problem.at(self.path.name, nearest_line(lines, problem.address))
            for problem in error.problems
        )

    def save(self, before: PlanFile | None = None) -> None:
        """Put the text in the place of the file: the old or the new plan, whole, whatever happens.

        Parameters
        ----------
        before : PlanFile, optional
            What the file is believed to hold; a file that changed meanwhile is left alone.

        Raises
        ------
        PlanError
            When the file is not as it was believed to be.
        OSError
            When the folder cannot be written.
        """
        replace_file(self.path, self.data, None if before is None else lambda: _unchanged(self.path, before.data))


def read(path: Path | str) -> PlanFile:
    """Read a plan's file.

    Parameters
    ----------
    path : Path or str
        A TOML file in UTF-8.

    Returns
    -------
    PlanFile
        The plan and the text.

    Raises
    ------
    PlanError
        With every problem, its file, line and address.
    """
    path = Path(path)
    text = _text(path)
    mark = text.startswith(MARK)
    text = text.removeprefix(MARK)
    deep = too_deep(text)
    if deep is not None:
        raise PlanError([deep.at(path.name, deep.line)])
    try:
        raw = tomllib.loads(text)
    except ValueError as error:  # also of a number with thousands of digits
        with errors_in(_US.search(text) is not None):
            problem = not_toml(text, str(error))
        raise PlanError([problem.at(path.name, problem.line)]) from None
    if not raw:
        raise PlanError(
            [
                Problem(
                    "",
                    "The file holds only comments." if text.strip() else "The file is empty.",
                    "a plan with at least [van] and [household]",
                    "`vanwater new FILE` writes one to start from.",
                    path.name,
                )
            ]
        )
    return PlanFile(path, text, _plan(text, raw, path), mark)


def _text(path: Path) -> str:
    def refuse(message: str, expected: str, slip: str = "", line: int | None = None) -> PlanError:
        return PlanError([Problem("", message, expected, slip).at(path.name or str(path), line)])

    try:
        mode = path.stat().st_mode
        data = b""
        if stat.S_ISREG(mode):
            with path.open("rb") as file:
                data = file.read(LARGEST + 1)
    except (FileNotFoundError, NotADirectoryError):
        beside = nearest(path.name, tuple(other.name for other in path.absolute().parent.glob("*.toml")))
        slip = f"Did you mean {shown(beside)}?" if beside else ""
        raise refuse("There is no such file.", "a plan's file", slip) from None
    except OSError as error:
        raise refuse(f"The file cannot be read: {error.strerror}.", "a file that you may read") from None
    except ValueError:
        raise refuse("This cannot be the name of a file.", "a plan's file, such as van.toml") from None
    if stat.S_ISDIR(mode):
        raise refuse("This is a folder.", "a plan's file, such as van.toml")
    if not stat.S_ISREG(mode):
        raise refuse("This is no ordinary file.", "a plan's file, such as van.toml")
    if len(data) > LARGEST:
        raise refuse("The file is larger than 1 MB.", "a plan of some kilobytes", "Is it another kind of file?")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise refuse("The file is not UTF-8 text.", "a text file saved as UTF-8", line=line) from None


def _unchanged(path: Path, believed: bytes) -> None:
    """See that a file is as it was read."""
    if not path.exists() or path.read_bytes() != believed:
        message = f"{shown(path.name)[1:-1]} was changed by somebody else since it was read."
        slip = "Read it again, then make the change."
        raise PlanError([Problem("", message, "the file as it was read", slip).at(path.name, None)])


def _loaded(text: str) -> object:
    try:
        return tomllib.loads(text)
    except ValueError:
        return None


def _plan(text: str, raw: Mapping[str, Any], path: Path) -> Plan:
    name = path.name
    try:
        return Plan.of(copied(dict(raw)), file=True, shelf=_shelf(raw, path.parent))
    except PlanError as error:
        lines = lines_by_address(statements(text))
        raise PlanError(
            problem if problem.file else problem.at(name, nearest_line(lines, problem.address))
            for problem in error.problems
        ) from None


def _shelf(raw: Mapping[str, Any], folder: Path) -> Shelf:
    """The shelf that a plan names; an empty one where it names none."""
    name = raw.get("shelf")
    if not isinstance(name, str):
        return Shelf()
    missing = no_shelf(name, folder)
    if missing is not None:
        raise PlanError([missing])
    return shelf_of(name, _text(folder / name).removeprefix(MARK))
