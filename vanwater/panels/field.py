"""One field of a plan in words: what it is called, how a value of it is told, typed and written into a file."""

from __future__ import annotations

import math
import re

from vanwater.answers.core.statement import plain
from vanwater.panels.control_part import has_part
from vanwater.panels.labels import choices_of, heading, label
from vanwater.panels.part_picks import fitting, is_pick
from vanwater.panels.slider_scale import even, told_in
from vanwater.plan.address import note
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem
from vanwater.quantities import Quantity, QuantityError, errors_in, number

__all__ = ["ALIKE", "UNDECIDED", "Field", "Value", "alike", "decided"]

Value = float | int | bool | str | None
"""What a hand can set: SI for quantities, the field's own words else."""

UNDECIDED = "not decided"
"""What is told of a value that the plan does not have."""

AS_SAID = "own values"
"""What is told of a part that is not taken from the stock."""

ALIKE = 1e-9
"""Share by which two numbers may differ and still be the same."""

_BARE = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)([eE][+\-]?\d+)?|\d+/\d+|\d+ \d+/\d+")


class Field:
    """A field of a plan in words.

    Parameters
    ----------
    plan : Plan
        The plan without what a hand has set.
    address : str
        The field.
    us : bool
        US units instead of metric ones.
    first : str
        Where a value that is not decided begins.
    """

    def __init__(self, plan: Plan, address: str, us: bool = False, first: str = "") -> None:
        self.address, self.us = address, us
        self.note = note(type(plan), address)
        self.saved = decided(plan, address)
        self.heading = heading(plan, address)
        self.quantity: Quantity | None = None
        self.first = 0.0
        own = self.note.quantity
        if own is not None:
            begin = min(max(own.read(first or own.example), own.low), own.high)
            self.first = begin if self.saved is None else float(self.saved)
            self.quantity = told_in(own, self.first)
            if self.saved is None:  # a round number in any unit
                self.first = min(max(self.si(float(f"{self.shown(begin):.2g}")), own.low), own.high)
        self.choices = fitting(plan, address) if is_pick(address) else choices_of(self.note)
        words = label(self.note, self.quantity, us)
        self.label = words.partition(":")[0] if self.choices else words  # the list itself names the choices

    @property
    def name(self) -> str:
        """What people call it: the part and the field, without a unit."""
        return f"{self.heading}, {self.label.partition(' (')[0]}"

    @property
    def full(self) -> str:
        """What a screen reader tells: the part, the field, its unit."""
        return f"{self.heading}, {self.label}"

    def shown(self, value: float) -> float:
        """The number on slider and box of a value in SI."""
        assert self.quantity is not None
        return even(float(self.quantity.show(float(value), self.us)))

    def si(self, shown: float) -> float:
        """The value in SI of a number on slider and box."""
        assert self.quantity is not None
        return float(self.quantity.spellings[self.quantity.unit(self.us)].to_si(shown))

    def text(self, value: Value) -> str:
        """A value as it is told, a plan's own text as it is."""
        if value is None:
            return AS_SAID if is_pick(self.address) else UNDECIDED
        if isinstance(value, bool):
            return "yes" if value else "no"
        if self.quantity is not None:
            return self.quantity.text(float(value), self.us, 4)
        return number(float(value), 12) if isinstance(value, int) else str(value)

    def typed(self, value: Value) -> str:
        """A value as it stands in a box: without its unit."""
        assert isinstance(value, float | int)
        return f"{self.shown(value) if self.quantity is not None else value:.10g}"

    def written(self, value: Value) -> str | int | bool | None:
        """A value as the plan's file holds it."""
        if self.quantity is not None and value is not None:
            return self.quantity.written(float(value), self.us)
        assert not isinstance(value, float)
        return value

    def read(self, text: str) -> Value:
        """A typed text: a number in the unit that is shown, or one with a unit of its own.

        Parameters
        ----------
        text : str
            Such as "0.9", "90 cm", "5 ft 2 in".

        Returns
        -------
        float, int or str
            Value [SI], count or the text itself.

        Raises
        ------
        PlanError
            When it is no believable value, told in the unit that is shown.
        """
        words = text.strip()
        own = self.note.quantity
        if own is not None:
            assert self.quantity is not None
            bare = _BARE.fullmatch(words) is not None
            try:
                with errors_in(self.us):
                    value = own.read(f"{words} {self.quantity.unit(self.us)}".strip() if bare else words)
                    return self.si(even(float(words))) if bare and _plain(words) else value
            except QuantityError as error:
                raise PlanError([Problem(self.address, error.message, error.expected, error.slip)]) from None
        if self.note.whole is None:
            return text
        low, high = self.note.whole
        if re.fullmatch(r"\d{1,9}", words) is None or not low <= int(words) <= high:
            said = plain(words[:40], "terminal")
            raise PlanError([Problem(self.address, f'"{said}" is not believable.', f"{low} to {high}")])
        return int(words)


def _plain(words: str) -> bool:
    """Whether a bare number is one that Python reads, so that typing back what is shown changes no digit."""
    try:
        float(words)
    except ValueError:
        return False
    return True


def decided(plan: Plan, address: str) -> Value:
    """The value at an address; None also where the part that it belongs to is not planned."""
    value: Value = plan.at(address) if has_part(plan, address) else None
    return value


def alike(first: Value, second: Value) -> bool:
    """Whether two values differ by no more than arithmetic does."""
    if isinstance(first, float) and isinstance(second, float):
        return math.isclose(first, second, rel_tol=ALIKE, abs_tol=ALIKE * 1e-6)
    return first == second
