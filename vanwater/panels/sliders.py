"""Knobs with a slider, its mark at the saved value, and a number box: quantities and counts."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from vanwater.panels.control_base import ALIKE, UNDECIDED, Control, Value
from vanwater.panels.labels import label
from vanwater.panels.slider_scale import even, scale, told_in
from vanwater.plan.model import Plan
from vanwater.plan.problems import Problem
from vanwater.quantities import number

__all__ = ["Number", "Slid", "Whole"]


class Slid(Control):
    """A control with a slider, its mark, and a number box."""

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
        self.widget.add_class("vw-control")
        self._display()

    def _slid(self, change: Any) -> None:
        """A hand moved the slider; or the page drew a value between two steps at the nearer one, which says nothing."""
        drawn = abs(change["new"] - float(self.box.value)) <= self.slider.step / 2 * (1 + ALIKE)
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


class Number(Slid):
    """A quantity; where none is decided its slider begins at the one given, else at an example."""

    def __init__(self, plan: Plan, address: str, us: bool = False, first: str = "") -> None:
        super().__init__(plan, address, us)
        own = self.note.quantity
        assert own is not None
        begin = min(max(own.read(first or own.example), own.low), own.high)
        self._first = begin if self.saved is None else float(self.saved)
        self.quantity = told_in(own, self._first)
        if self.saved is None:  # a round number in any unit
            self._first = min(max(self._si(float(f"{self._shown(begin):.2g}")), own.low), own.high)
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
        return UNDECIDED if value is None else self.quantity.text(float(value), self.us, 4)

    def written(self) -> str:
        """Number and unit as the file holds them."""
        assert self.value is not None
        return self.quantity.written(float(self.value), self.us)

    def _read(self, shown: Any) -> Value:
        return self._si(even(float(shown)))

    def _si(self, shown: float) -> float:
        return float(self.quantity.spellings[self.quantity.unit(self.us)].to_si(shown))

    def _shown(self, value: Any) -> float:
        return even(float(self.quantity.show(float(value), self.us)))

    def _start(self) -> float:
        return self._shown(self._first)

    def _bounds(self) -> tuple[float, float]:
        own = self.note.quantity
        assert own is not None
        return self._shown(own.low), self._shown(own.high)


class Whole(Slid):
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
        return number(float(value), 12) if isinstance(value, int) else UNDECIDED
