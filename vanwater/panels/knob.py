"""One field of a plan under a hand: its label, its slider, its number box, the saved value as a mark.

A knob that nobody touched follows the plan, so that it never shows another value than the one that was reckoned
with.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any, TypeAlias

import ipywidgets as widgets

from vanwater.answers.wording import plain
from vanwater.panels.fit import has_part
from vanwater.panels.labels import choices_of, heading, label
from vanwater.panels.scale import even, scale, told_in
from vanwater.plan.address import note
from vanwater.plan.model import Plan
from vanwater.plan.problems import Problem
from vanwater.quantities import number

__all__ = ["Choice", "Knob", "Number", "Switch", "Value", "Whole", "knob"]

Value: TypeAlias = float | int | bool | str | None

_UNDECIDED = "not decided"
_ALIKE = 1e-9


class Knob:
    """What every knob has in common.

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
        self.saved: Value = _decided(plan, address)
        self.value: Value = self.saved
        self.touched = False
        self._base: Value = self.saved  # what the plan says without this knob
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
        return _UNDECIDED if value is None else str(value)

    def written(self) -> str | int | bool:
        """The value as the plan's file holds it."""
        assert self.value is not None and not isinstance(self.value, float)
        return self.value

    def follow(self, plan: Plan) -> None:
        """Show what the plan says now, unless a hand has set something else."""
        if not self.touched:
            now = _decided(plan, self.address)
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
        self.saved = _decided(plan, self.address)
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
        label = plain(self.label, "html")
        return f'<div class="vw-label"><span title="{label}">{label}</span><span>{saved}</span></div>'


class _Slid(Knob):
    """A knob with a slider, its mark, and a number box."""

    head: Any
    slider: Any
    mark: Any
    box: Any

    def _assemble(self, slider: Any, box: Any) -> None:
        self.slider, self.box = slider, box
        self.head, self.mark = widgets.HTML(), widgets.HTML()
        self.head.add_class("vw-head")
        self.mark.add_class("vw-saved")
        self.slider.observe(self._slid, "value")
        self.box.observe(self._changed(self._read), "value")
        track = widgets.VBox([self.slider, self.mark])
        track.add_class("vw-track")
        self.widget = widgets.VBox([self.head, widgets.HBox([track, self.box])])
        self.widget.add_class("vw-knob")
        self._display()

    def _slid(self, change: Any) -> None:
        """A hand moved the slider; or the page drew a value between two steps at the nearer one, which says nothing."""
        drawn = abs(change["new"] - float(self.box.value)) <= self.slider.step / 2 * (1 + _ALIKE)
        if not self._quiet and not drawn:
            self.turn(self._read(change["new"]))

    def refusal(self) -> Problem | None:
        """What is wrong with a number that nobody can believe, in the unit that is shown."""
        low, high = self._bounds()
        if self.value is None or low <= self._shown(self.value) <= high:
            return None
        ends = " to ".join(self.text(self._read(end)) for end in (low, high))
        return Problem(self.address, f"{self.text(self.value)} is not believable.", ends)

    def _read(self, shown: Any) -> Value:
        return int(shown)

    def _shown(self, value: Any) -> float | int:
        """The number on slider and box."""
        return int(value)

    def _start(self) -> float | int:
        return self._shown(self.saved)

    def _bounds(self) -> tuple[float, float]:
        """Between which numbers a value is believable."""
        assert self.note.whole is not None
        return self.note.whole

    def _put(self) -> None:
        shown = self._start() if self.value is None else self._shown(self.value)
        low, high = self._bounds()
        if low <= shown <= high:  # what nobody can believe is shown on the box alone, and refused by the plan
            self.slider.max, self.slider.min = max(self.slider.max, shown), min(self.slider.min, shown)
            self.slider.value = shown
        self.box.value = shown
        self.head.value = self._head()
        self.mark.value = self._mark()

    def _mark(self) -> str:
        """A faint stroke below the slider where the saved value stands."""
        if self.saved is None:
            return ""
        low, high = self.slider.min, self.slider.max
        at = (self._shown(self.saved) - low) / (high - low) if high > low else 0.0
        return f'<i style="left:{100 * at:.1f}%"></i>' if 0 <= at <= 1 else ""


class Number(_Slid):
    """A quantity; where none is decided its slider begins at the one given, else at an example."""

    def __init__(self, plan: Plan, address: str, us: bool = False, first: str = "") -> None:
        super().__init__(plan, address, us)
        own = self.note.quantity
        assert own is not None
        begin = min(max(own.read(first or own.example), own.low), own.high)
        self._first = begin if self.saved is None else float(self.saved)
        self.quantity = told_in(own, self._first)
        self.label = label(self.note, self.quantity, us)
        keeps_its_sign = own.si == "W" and self._first >= 0  # a load or a charge
        lowest = max(own.low, 0.0) if keeps_its_sign else own.low
        start = self._shown(self._first)
        about = start or self._shown(own.read(own.example))
        self.scale = scale(about, *(float(self.quantity.show(end, us)) for end in (lowest, own.high))).holding(start)
        look = {"step": self.scale.step, "value": start, "tooltip": self.label, "description": self.label}
        slider = widgets.FloatSlider(min=self.scale.low, max=self.scale.high, readout=False, **look)
        self._assemble(slider, widgets.FloatText(continuous_update=False, **look))

    def text(self, value: Value) -> str:
        """Number and unit."""
        return _UNDECIDED if value is None else self.quantity.text(float(value), self.us, 4)

    def written(self) -> str:
        """Number and unit as the file holds them."""
        assert self.value is not None
        return self.quantity.written(float(self.value), self.us)

    def _read(self, shown: Any) -> Value:
        return float(self.quantity.spellings[self.quantity.unit(self.us)].to_si(even(float(shown))))

    def _shown(self, value: Any) -> float:
        return even(float(self.quantity.show(float(value), self.us)))

    def _start(self) -> float:
        return self._shown(self._first)

    def _bounds(self) -> tuple[float, float]:
        own = self.note.quantity
        assert own is not None
        return self._shown(own.low), self._shown(own.high)


class Whole(_Slid):
    """A count."""

    def __init__(self, plan: Plan, address: str, us: bool = False) -> None:
        super().__init__(plan, address, us)
        assert self.note.whole is not None
        low, high = self.note.whole
        first = low if self.saved is None else int(self.saved)
        self._first = first
        look = {"value": first, "tooltip": self.label, "description": self.label}
        slider = widgets.IntSlider(min=min(low, first), max=max(high, first), readout=False, **look)
        self._assemble(slider, widgets.IntText(continuous_update=False, **look))

    def _start(self) -> int:
        return self._first

    def text(self, value: Value) -> str:
        """The count."""
        return number(float(value), 12) if isinstance(value, int) else _UNDECIDED


class Choice(Knob):
    """One of several words."""

    def __init__(self, plan: Plan, address: str, us: bool = False) -> None:
        super().__init__(plan, address, us)
        known = choices_of(self.note)
        self.label = self.label.partition(":")[0]  # the list itself names the choices
        self._undecided = self.saved is None
        words = known if self.saved in (None, *known) else (str(self.saved), *known)
        options: list[tuple[str, str | None]] = [(plain(word, "terminal"), word) for word in words]
        if self._undecided:
            options.insert(0, (_UNDECIDED, None))
        self.box = widgets.Dropdown(options=options, value=self.saved, tooltip=self.label, description=self.label)
        self.box.observe(self._changed(lambda chosen: chosen), "value")
        self.head = widgets.HTML()
        self.head.add_class("vw-head")
        self.widget = widgets.VBox([self.head, self.box])
        self.widget.add_class("vw-knob")
        self._display()

    def _put(self) -> None:
        if self.value is None and not self._undecided:
            self._undecided = True
            self.box.options = [(_UNDECIDED, None), *self.box.options]
        self.box.value = self.value
        self.head.value = self._head()


class Switch(Knob):
    """Yes or no."""

    def __init__(self, plan: Plan, address: str, us: bool = False) -> None:
        super().__init__(plan, address, us)
        self.box = widgets.Checkbox(value=bool(self.saved), description=self.label, indent=False)
        self.box.observe(self._changed(bool), "value")
        self.widget = widgets.VBox([self.box])
        self.widget.add_class("vw-knob")

    def text(self, value: Value) -> str:
        """In a word."""
        return _UNDECIDED if value is None else "yes" if value else "no"

    def _put(self) -> None:
        self.box.value = bool(self.value)


def knob(plan: Plan, address: str, us: bool = False, fit: Mapping[str, str] | None = None) -> Knob:
    """The knob that suits a field.

    Parameters
    ----------
    plan : Plan
        The plan as it is saved.
    address : str
        The field.
    us : bool
        US units instead of metric ones.
    fit : mapping of str to str, optional
        Fields that the knob's part would begin with, where the plan lacks it; without it the part must be there.

    Returns
    -------
    Knob
        A slider for a quantity or a count, a list for a choice, a box to tick for yes or no.

    Raises
    ------
    KeyError
        When the plan has no such field.
    ValueError
        When the field is a free text.
    """
    known = note(type(plan), address)
    value = plan.at(address) if fit is None else _decided(plan, address)
    if known.quantity is not None:
        return Number(plan, address, us, (fit or {}).get(address.rpartition(".")[2], ""))
    if known.whole is not None:
        return Whole(plan, address, us)
    if choices_of(known):
        return Choice(plan, address, us)
    if isinstance(value, bool):
        return Switch(plan, address, us)
    raise ValueError(f"{address} is a free text; a knob wants a quantity, a count, a choice or yes or no")


def _decided(plan: Plan, address: str) -> Value:
    """The value at an address; None also where the part that it belongs to is not planned."""
    value: Value = plan.at(address) if has_part(plan, address) else None
    return value


def _alike(one: Value, other: Value) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=_ALIKE, abs_tol=_ALIKE * 1e-6)
    return one == other
