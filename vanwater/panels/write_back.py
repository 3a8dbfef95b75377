"""Changes on their way into a plan's file: which lines would change, and the saving."""

from __future__ import annotations

import difflib
import html
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TypeAlias

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.control_group import ControlGroup
from vanwater.panels.control_part import has_part, part_at
from vanwater.panels.guard import alert, guarded, reason
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import resource

__all__ = ["WriteBack", "changed_lines", "is_example", "revised"]


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
    waiting: dict[str, dict[str, Written]] = {}
    for address, value in values.items():
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


class WriteBack:
    """The fold that writes changes into the plan's file, only when its button is pressed.

    Parameters
    ----------
    file : PlanFile or None
        The file, if the plan has one.
    group : ControlGroup
        What was changed.
    written : callable
        Called with the file as it lies there afterwards.
    """

    def __init__(self, file: PlanFile | None, group: ControlGroup, written: Callable[[PlanFile], None]) -> None:
        self.file, self._group, self._written = file, group, written
        self._told = ""
        self.button = widgets.Button(description="write these lines", disabled=True)
        self.button.on_click(guarded(lambda _: self._write(), self._refused))
        self.collapsible = Collapsible("write to the plan's file", self._lines, [self.button])

    def _lines(self) -> str:
        """The lines that would change."""
        text, self._told = self._told, ""
        self.button.disabled = True
        if self.file is None:
            return "<p>This plan was not read from a file.</p>"
        values, name = self._group.written, html.escape(plain(self.file.path.name, "terminal"))
        if not values:
            return text or f"<p>Nothing is changed; {name} stays as it is.</p>"
        try:
            after = revised(self.file, values)
        except PlanError as error:
            return alert(reason(error))
        lines = "\n".join(f"{mark} {html.escape(line)}" for mark, line in changed_lines(self.file, after))
        if is_example(self.file):
            text = "This example ships with the package and stays as it is; copy it, and open the copy."
        else:
            text = "The lines marked - go, those marked + come; nothing else in the file changes."
            self.button.disabled = False
        return f'<p>{name}. {text}</p><pre class="vw-data">{lines}</pre>'

    def _write(self) -> None:
        if self.file is None or is_example(self.file):
            return
        after = revised(self.file, self._group.written)
        after.save(before=self.file)
        self.file = after
        self._told = f"<p>Written into {html.escape(plain(after.path.name, 'terminal'))}.</p>"
        self._written(after)

    def _refused(self, message: str) -> None:
        self.collapsible.text.value = message
