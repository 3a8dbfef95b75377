"""What every control has in common: its field, where it stands, the way back to the plan.

A control shows where the bench stands and tells what a hand does; it holds no value of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.panels.field import Field, Value, alike
from vanwater.panels.guard import alert, reason
from vanwater.panels.labels import brief
from vanwater.plan.problems import PlanError

__all__ = ["Control"]


class Control:
    """What every control has in common.

    Parameters
    ----------
    field : Field
        What it moves.
    """

    def __init__(self, field: Field) -> None:
        self.field = field
        self.address = field.address
        self.value: Value = field.saved
        self.handed = False  # whether a hand has set it; else it follows the plan
        self.turned: Callable[[Value], None] = lambda _: None
        self.reset: Callable[[], None] = lambda: None
        self._quiet = False
        self.head, self.problem = widgets.HTML(), widgets.HTML(layout={"display": "none"})
        self.head.add_class("vw-head")
        self.home = widgets.Button(description="↺", layout={"display": "none"})
        self.home.add_class("vw-reset")
        self.home.on_click(lambda _: self.reset())
        self.widget: Any = None

    def show(self, field: Field, value: Value, handed: bool = False) -> None:
        """Stand where the bench stands.

        Parameters
        ----------
        field : Field
            With the plan's own value.
        value : float, int, bool, str or None
            Where it stands.
        handed : bool
            Whether a hand has set it.
        """
        if field is self.field and (value, handed) == (self.value, self.handed) and not self.problem.value:
            return
        self.field, self.value, self.handed = field, value, handed
        self._display()

    def turn(self, value: Value) -> None:
        """Set a value as a hand would, in SI or the field's own words."""
        self.value, self.handed = value, not alike(value, self.field.saved)
        self._display()
        self.turned(value)

    def type_in(self, text: str) -> None:
        """Take a text that a hand has typed; one that cannot be read is told, and the value stays."""
        try:
            value = self.field.read(text)
        except PlanError as error:
            self._display()
            stays = f"It stays at {self.field.text(self.value)}."
            self._tell(alert(tuple((what, f"{do} {stays}".strip()) for what, do in reason(error))))
        else:
            self.turn(value)

    def _assemble(self, *rows: Any) -> None:
        head = widgets.HBox([self.head, self.home])
        head.add_class("vw-head-row")
        self.widget = widgets.VBox([head, *rows, self.problem])
        self.widget.add_class("vw-control")
        self._display()

    def _display(self) -> None:
        self._tell("")
        back = f"{self.field.full}: back to the plan's {self.field.text(self.field.saved)}"
        with self._silently():
            self._put()
            self.head.value = self._head()
            self.home.tooltip = plain(back, "terminal")
            self.home.layout.display = "" if self.handed else "none"

    def _tell(self, problem: str) -> None:
        self.problem.value = problem
        self.problem.layout.display = "" if problem else "none"

    def _put(self) -> None:
        raise TypeError(f"{type(self).__name__} shows nothing")

    def _changed(self, take: Callable[[Any], None]) -> Callable[[Any], None]:
        """A callback of a widget that hears hands alone."""

        def changed(change: Any) -> None:
            if not self._quiet:
                take(change["new"])

        return changed

    @contextmanager
    def _silently(self) -> Iterator[None]:
        before, self._quiet = self._quiet, True
        try:
            yield
        finally:
            self._quiet = before

    def _head(self) -> str:
        field = self.field
        saved = plain(f"plan: {field.text(field.saved)}", "html")
        says, full = plain(field.note.said(field.us), "html"), plain(field.full, "html")
        words, bracket, unit = plain(brief(field.label), "html").partition(" (")
        told = f'<span title="{says}">{words}</span>{f"<i>({unit}</i>" if bracket else ""}<span>{saved}</span>'
        return f'<div class="vw-label" data-name="{full}">{told}</div>'
