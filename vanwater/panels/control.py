"""One field of a plan under a hand: the control that suits its kind."""

from __future__ import annotations

from collections.abc import Mapping

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.panels.control_base import UNDECIDED, Control, Value, decided
from vanwater.panels.labels import choices_of
from vanwater.panels.sliders import Number, Whole
from vanwater.plan.address import note
from vanwater.plan.model import Plan

__all__ = ["Choice", "Control", "Number", "Switch", "Value", "Whole", "control_for"]


class Choice(Control):
    """One of several words."""

    def __init__(self, plan: Plan, address: str, us: bool = False) -> None:
        super().__init__(plan, address, us)
        known = choices_of(self.note)
        self.label = self.label.partition(":")[0]  # the list itself names the choices
        self._undecided = self.saved is None
        words = known if self.saved in (None, *known) else (str(self.saved), *known)
        options: list[tuple[str, str | None]] = [(plain(word, "terminal"), word) for word in words]
        if self._undecided:
            options.insert(0, (UNDECIDED, None))
        self.box = widgets.Dropdown(options=options, value=self.saved, tooltip=self.label, description=self.label)
        self.box.observe(self._changed(lambda chosen: chosen), "value")
        self.head = widgets.HTML()
        self.head.add_class("vw-head")
        self.widget = widgets.VBox([self.head, self.box])
        self.widget.add_class("vw-control")
        self._display()

    def _put(self) -> None:
        if self.value is None and not self._undecided:
            self._undecided = True
            self.box.options = [(UNDECIDED, None), *self.box.options]
        self.box.value = self.value
        self.head.value = self._head()


class Switch(Control):
    """Yes or no."""

    def __init__(self, plan: Plan, address: str, us: bool = False) -> None:
        super().__init__(plan, address, us)
        self.box = widgets.Checkbox(value=bool(self.saved), description=self.label, indent=False)
        self.box.observe(self._changed(bool), "value")
        self.widget = widgets.VBox([self.box])
        self.widget.add_class("vw-control")

    def text(self, value: Value) -> str:
        """In a word."""
        return UNDECIDED if value is None else "yes" if value else "no"

    def _put(self) -> None:
        self.box.value = bool(self.value)


def control_for(plan: Plan, address: str, us: bool = False, fit: Mapping[str, str] | None = None) -> Control:
    """The control that suits a field.

    Parameters
    ----------
    plan : Plan
        The plan as it is saved.
    address : str
        The field.
    us : bool
        US units instead of metric ones.
    fit : mapping of str to str, optional
        Fields that the control's part would begin with, where the plan lacks it; without it the part must be there.

    Returns
    -------
    Control
        A slider for a quantity or a count, a list for a choice, a box to tick for yes or no.

    Raises
    ------
    KeyError
        When the plan has no such field.
    ValueError
        When the field is a free text.
    """
    known = note(type(plan), address)
    value = plan.at(address) if fit is None else decided(plan, address)
    if known.quantity is not None:
        return Number(plan, address, us, (fit or {}).get(address.rpartition(".")[2], ""))
    if known.whole is not None:
        return Whole(plan, address, us)
    if choices_of(known):
        return Choice(plan, address, us)
    if isinstance(value, bool):
        return Switch(plan, address, us)
    raise ValueError(f"{address} is a free text; a control wants a quantity, a count, a choice or yes or no")
