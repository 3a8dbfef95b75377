"""One field of a plan under a hand: the control that suits its kind."""

from __future__ import annotations

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.panels.control_base import Control
from vanwater.panels.field import Field
from vanwater.panels.sliders import Slid

__all__ = ["Choice", "Control", "Slid", "Switch", "control_for"]


class Choice(Control):
    """One of several words."""

    def __init__(self, field: Field) -> None:
        super().__init__(field)
        self._undecided = field.saved is None
        known = field.choices
        words = known if field.saved in (None, *known) else (str(field.saved), *known)
        options: list[tuple[str, str | None]] = [(plain(word, "terminal"), word) for word in words]
        if self._undecided:
            options.insert(0, (field.text(None), None))
        full = plain(field.full, "terminal")
        self.box = widgets.Dropdown(options=options, value=field.saved, tooltip=full, description=full)
        self.box.observe(self._changed(self.turn), "value")
        self._assemble(self.box)

    def _put(self) -> None:
        known = [value for _, value in self.box.options]
        if self.value not in known:  # of another situation
            word = self.field.text(self.value)
            self.box.options = [(plain(word, "terminal"), self.value), *self.box.options]
        self.box.value = self.value


class Switch(Control):
    """Yes or no."""

    def __init__(self, field: Field) -> None:
        super().__init__(field)
        full = plain(field.full, "terminal")
        self.box = widgets.Checkbox(value=bool(field.saved), description="yes", tooltip=full, indent=False)
        self.box.observe(self._changed(self.turn), "value")
        self._assemble(self.box)

    def _put(self) -> None:
        self.box.value = bool(self.value)


def control_for(field: Field) -> Control:
    """The control that suits a field.

    Parameters
    ----------
    field : Field
        The field.

    Returns
    -------
    Control
        A slider for a quantity or a count, a list for a choice, a box to tick for yes or no.

    Raises
    ------
    ValueError
        When the field is a free text.
    """
    if field.quantity is not None or field.note.whole is not None:
        return Slid(field)
    if field.choices:
        return Choice(field)
    if isinstance(field.saved, bool):
        return Switch(field)
    raise ValueError(f"{field.address} is a free text; a control wants a quantity, a count, a choice or yes or no")
