"""What every control has in common: the field, its saved value, the value that a hand has set.

A control that nobody touched follows the plan, so that it never shows another value than the one that was reckoned
with.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, TypeAlias

from vanwater.answers.core.statement import plain
from vanwater.panels.control_part import has_part
from vanwater.panels.labels import brief, heading, label
from vanwater.plan.address import note
from vanwater.plan.model import Plan
from vanwater.plan.problems import Problem

__all__ = ["ALIKE", "UNDECIDED", "Control", "Value", "decided"]

Value: TypeAlias = float | int | bool | str | None

UNDECIDED = "not decided"
"""What is told of a value that the plan does not have."""

ALIKE = 1e-9
"""Share by which two numbers may differ and still be the same."""


class Control:
    """What every control has in common.

    Parameters
    ----------
    plan : Plan
        The plan as it is saved.
    address : str
        The field.
    us : bool
        US units instead of metric ones.
    """

    def __init__(self, plan: Plan, address: str, us: bool = False) -> None:
        self.address, self.us = address, us
        self.note = note(type(plan), address)
        self.saved: Value = decided(plan, address)
        self.value: Value = self.saved
        self.touched = False
        self._base: Value = self.saved  # what the plan says without this control
        self.heading = heading(plan, address)
        self.label = label(self.note, None)
        self.moved: Callable[[], None] = lambda: None
        self._quiet = False
        self.widget: Any = None

    @property
    def differs(self) -> bool:
        """Whether it stands on another value than the saved one."""
        return not _alike(self.value, self.saved)

    def text(self, value: Value) -> str:
        """A value as it is told, a plan's own text as it is."""
        return UNDECIDED if value is None else str(value)

    def written(self) -> str | int | bool:
        """The value as the plan's file holds it."""
        assert self.value is not None and not isinstance(self.value, float)
        return self.value

    def follow(self, plan: Plan) -> None:
        """Show what the plan says now, unless a hand has set something else."""
        if not self.touched:
            now = decided(plan, self.address)
            if not _alike(now, self.value):
                self._base = self.value = now
                self._display()

    def refusal(self) -> Problem | None:
        """What is wrong with the value by itself, if anything."""
        return None

    def back(self) -> None:
        """Stand on the saved value again, untouched."""
        self.value = self._base = self.saved
        self.touched = False
        self._display()

    def settle(self, plan: Plan) -> None:
        """Take a plan as the saved one."""
        self.saved = decided(plan, self.address)
        self.back()

    def turn(self, value: Value) -> None:
        """Set a value as a hand would, in SI or the field's own words.

        Parameters
        ----------
        value : float, int, bool, str or None
            The new value.
        """
        self.value = value
        self.touched = not _alike(value, self._base)
        self._display()
        self.moved()

    def _display(self) -> None:
        with self._silently():
            self._put()

    def _put(self) -> None:
        raise TypeError(f"{type(self).__name__} shows nothing")

    def _changed(self, read: Callable[[Any], Value]) -> Callable[[Any], None]:
        """A callback of a widget: take its value, show it on the others, tell the panel."""

        def changed(change: Any) -> None:
            if not self._quiet:
                self.turn(read(change["new"]))

        return changed

    @contextmanager
    def _silently(self) -> Iterator[None]:
        before, self._quiet = self._quiet, True
        try:
            yield
        finally:
            self._quiet = before

    def _head(self) -> str:
        saved = plain(f"plan: {self.text(self.saved)}", "html")
        label, short = plain(self.label, "html"), plain(brief(self.label), "html")
        return f'<div class="vw-label"><span title="{label}">{short}</span><span>{saved}</span></div>'


def decided(plan: Plan, address: str) -> Value:
    """The value at an address; None also where the part that it belongs to is not planned."""
    value: Value = plan.at(address) if has_part(plan, address) else None
    return value


def _alike(first: Value, second: Value) -> bool:
    if isinstance(first, float) and isinstance(second, float):
        return math.isclose(first, second, rel_tol=ALIKE, abs_tol=ALIKE * 1e-6)
    return first == second
