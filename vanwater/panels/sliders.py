"""Knobs with a slider, its mark at the saved value, and a box for typing: quantities and counts."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.panels.control_base import Control
from vanwater.panels.field import ALIKE, Field, Value
from vanwater.panels.slider_scale import even, scale

__all__ = ["Slid"]


class Slid(Control):
    """A slider with a mark, and a box that takes a number in the unit that is shown, or a text with a unit of its own.

    Where no value is decided it begins at the field's first one.
    """

    def __init__(self, field: Field) -> None:
        super().__init__(field)
        full = plain(field.full, "terminal")
        look = {"tooltip": full, "description": full}
        self._first = self._begin()
        if field.quantity is None:
            low, high = self._bounds()
            first = int(self._first)
            whole = {"min": int(min(low, first)), "max": int(max(high, first))}
            self.slider = widgets.IntSlider(value=first, readout=False, **whole, **look)
        else:
            own = field.quantity
            keeps_its_sign = own.si == "W" and field.first >= 0  # a load or a charge
            lowest = max(own.low, 0.0) if keeps_its_sign else own.low
            about = self._first or field.shown(own.read(own.example))
            ends_of = (field.shown(lowest), field.shown(own.high))
            span = scale(about, *ends_of).holding(self._first)
            ends = {"min": span.low, "max": span.high, "step": span.step}
            self.slider = widgets.FloatSlider(value=self._first, readout=False, **ends, **look)
        self.box = widgets.Text(value=field.typed(self._value()), continuous_update=False, **look)
        self.mark = widgets.HTML()
        self.mark.add_class("vw-saved")
        self.slider.observe(self._changed(self._slid), "value")
        self.box.observe(self._changed(self.type_in), "value")
        track = widgets.VBox([self.slider, self.mark])
        track.add_class("vw-track")
        self._assemble(widgets.HBox([track, self.box]))

    def _slid(self, shown: Any) -> None:
        """A hand moved the slider; or the page drew a value between two steps at the nearer one, which says nothing."""
        step: float = self.slider.step
        if abs(shown - self._shown(self._value())) > step / 2 * (1 + ALIKE):
            self.turn(int(shown) if self.field.quantity is None else self.field.si(even(float(shown))))

    def _begin(self) -> float:
        """Where the slider stands while nothing is decided, else where the plan's value is."""
        if self.field.quantity is not None:
            return self.field.shown(self.field.first)
        return self._bounds()[0] if self.field.saved is None else float(self.field.saved)

    def _value(self) -> Value:
        """Where it stands, or would."""
        if self.value is not None:
            return self.value
        return int(self._first) if self.field.quantity is None else self.field.si(self._first)

    def _shown(self, value: Any) -> float:
        """The number on slider and box."""
        return float(value) if self.field.quantity is None else self.field.shown(value)

    def _bounds(self) -> tuple[float, float]:
        """Between which numbers a value is believable."""
        own = self.field.note.quantity
        if own is not None:
            return self.field.shown(own.low), self.field.shown(own.high)
        assert self.field.note.whole is not None
        return self.field.note.whole

    def _put(self) -> None:
        shown = self._shown(self._value())
        low, high = self._bounds()
        if low <= shown <= high:
            at = shown if self.field.quantity is not None else int(shown)
            self.slider.max, self.slider.min = max(self.slider.max, at), min(self.slider.min, at)
            self.slider.value = at
        self.box.value = self.field.typed(self._value())
        self.mark.value = self._mark()

    def _mark(self) -> str:
        """A faint stroke below the slider where the saved value stands."""
        if self.field.saved is None:
            return ""
        low, high = self.slider.min, self.slider.max
        at = (self._shown(self.field.saved) - low) / (high - low) if high > low else 0.0
        return f'<i style="left:{100 * at:.1f}%"></i>' if 0 <= at <= 1 else ""
