"""What moves the water: pumps of every kind, and the inlet for the water of a campsite."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Annotated, Literal, TypeAlias

from pydantic_core import PydanticCustomError

from vanwater.plan.joint import Connection
from vanwater.plan.part import Part, Stocked, above, asked, such_as, wrong
from vanwater.plan.places import ACROSS, ALONG, Across, Along, Height
from vanwater.plan.problems import shown
from vanwater.quantities import (
    COMPLIANCE,
    CURRENT,
    FLOW,
    LENGTH,
    PRESSURE,
    STROKES,
    VOLTAGE,
    VOLUME,
    Flow,
    Pressure,
    Quantity,
)

__all__ = ["BELONGS", "BY_HAND", "DROOP_AT", "ELECTRIC", "SWITCHED", "Kind", "Mains", "Pump", "curve_example"]

Kind: TypeAlias = Literal["diaphragm", "by-pass", "speed-controlled", "submersible", "hand", "foot"]

SWITCHED = ("diaphragm", "by-pass")
"""Kinds that a pressure switch starts and stops."""

BY_HAND = ("hand", "foot")
"""Kinds that people work, without electricity."""

ELECTRIC = (*SWITCHED, "speed-controlled", "submersible")
"""Kinds that have a curve and volts."""

DROOP_AT = 10e-3 / 60.0
"""Flow at which the droop of a regulator is told, m³/s (10 L/min)."""

BELONGS: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(("curve", "curve_volts", "volts", "current"), ELECTRIC),
    **dict.fromkeys(("cut_in", "cut_out", "trickle"), SWITCHED),
    "by_pass": ("by-pass",),
    "line_gives": (*SWITCHED, "speed-controlled"),
    **dict.fromkeys(("holds", "least_flow"), ("speed-controlled",)),
    "tank": ("submersible",),
    **dict.fromkeys(("stroke", "strokes", "stall"), BY_HAND),
    **dict.fromkeys(("priming_lift", "npsh", "x", "y", "z"), (*SWITCHED, "speed-controlled", *BY_HAND)),
}
"""The kinds that a field belongs to; every other field belongs to all of them."""

_HOLDS = 'Say holds = "{}", the pressure that it holds.'
_INSTEAD = {
    ("cut_in", "speed-controlled"): _HOLDS,
    ("cut_out", "speed-controlled"): _HOLDS,
    **{(way, "submersible"): "It hangs in its tank; the tank says its place." for way in "xyz"},
    ("priming_lift", "submersible"): "It stands in the water and lifts nothing to itself.",
    ("npsh", "submersible"): "It stands in the water and lifts nothing to itself.",
}


def curve_example() -> str:
    """A curve as a builder would write it, in the units that errors are told in now."""
    shut = f'["{FLOW.told("0 L/min")}", "{PRESSURE.told("2.9 bar")}"]'
    free = f'["{FLOW.told("11 L/min")}", "{PRESSURE.told("0 bar")}"]'
    return f"[{shut}, {free}]"


class Pump(Stocked):
    """A pump: electric ones by their curve, as measured at a stated voltage, others by their strokes."""

    kind: Kind = asked("kind of pump", "diaphragm")
    curve: tuple[tuple[Flow, Pressure], ...] | None = asked("measured points: flow and pressure rise")
    curve_volts: Annotated[float, VOLTAGE.within("5 V", "60 V")] | None = asked("volts at which the curve was measured")
    volts: Annotated[float, VOLTAGE.within("5 V", "60 V")] | None = asked("volts that reach it, while it runs")
    current: Annotated[float, CURRENT.within("0.1 A", "60 A")] | None = asked("current while it runs")
    cut_in: Annotated[float, PRESSURE.within("0.1 bar", "7 bar")] | None = asked("pressure at which it starts")
    cut_out: Annotated[float, PRESSURE.within("0.2 bar", "8 bar")] | None = asked("pressure at which it stops")
    by_pass: Annotated[float, PRESSURE.within("0.2 bar", "8 bar")] | None = asked("pressure at which its by-pass opens")
    holds: Annotated[float, PRESSURE.within("0.2 bar", "8 bar")] | None = asked("pressure that its speed control holds")
    least_flow: Annotated[float, such_as(FLOW.within("0 L/min", "10 L/min"), "1 L/min")] | None = asked(
        "flow below which its speed control starts and stops it"
    )
    tank: str | None = asked("tank in which a submersible pump hangs")
    stroke: Annotated[float, such_as(VOLUME.within("5 mL", "2 L"), "0.1 L")] | None = asked(
        "water that one stroke gives"
    )
    strokes: Annotated[float, STROKES.within("3 a minute", "200 a minute")] | None = asked("strokes of its user")
    stall: Annotated[float, such_as(PRESSURE.within("0.05 bar", "5 bar"), "0.8 bar")] | None = asked(
        "pressure at which its user can no longer work it"
    )
    priming_lift: Annotated[float, LENGTH.within("0 m", "8 m")] | None = asked(
        "lift that it can prime, as rated at sea level"
    )
    npsh: Annotated[float, such_as(LENGTH.within("0.1 m", "9 m"), "3 m")] | None = asked(
        "head above boiling that it needs at its inlet (NPSH required); 3 m if not said"
    )
    line_gives: Annotated[float, such_as(COMPLIANCE.within("0.01 mL/bar", "1000 mL/bar"), "8 mL/bar")] | None = asked(
        "water that the hoses behind it take up under pressure, if measured"
    )
    trickle: Annotated[float, such_as(FLOW.within("0.01 L/min", "10 L/min"), "2 L/min")] | None = asked(
        "steady draw that its starts are told for"
    )
    rated: Annotated[float, such_as(PRESSURE.within("0.5 bar", "20 bar"), "6 bar")] | None = asked(
        "pressure that it is made for, as its plate says"
    )
    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its two connections are")

    def belongs(self, field: str) -> bool:
        """Whether a field means anything for this kind of pump."""
        return self.kind in BELONGS.get(field, (self.kind,))

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether its fields belong to its kind, its curve falls and its pressures stand in order."""
        strange = [field for field in BELONGS if getattr(self, field) is not None and not self.belongs(field)]
        for field in strange:
            yield self._strange(field)
        if strange:
            return
        if self.curve is not None:
            yield from self._curve(self.curve)
        if self.cut_in is not None and self.cut_out is not None and not above(self.cut_out, self.cut_in):
            yield wrong(
                "cut_in",
                "The switch starts the pump at or above the pressure at which it stops it.",
                "cut_in below cut_out",
                "Are the two swapped?" if above(self.cut_in, self.cut_out) else "",
                ("cut_out",),
            )
        if self.by_pass is not None and self.cut_out is not None and not above(self.cut_out, self.by_pass):
            yield wrong(
                "by_pass",
                f"The switch stops the pump at {PRESSURE.said(self.cut_out)}, before its by-pass opens at "
                f"{PRESSURE.said(self.by_pass)}.",
                "by_pass below cut_out",
                "Are the two swapped?" if above(self.by_pass, self.cut_out) else "",
                ("cut_out",),
            )
        for field in ("by_pass", "holds"):
            yield from self._above_curve(field, getattr(self, field))

    def _strange(self, field: str) -> PydanticCustomError:
        value = getattr(self, field)
        hint = type(self).model_fields[field]
        quantity = next((extra for extra in _extras(hint.annotation) if isinstance(extra, Quantity)), None)
        told = quantity.said(value) if quantity is not None and isinstance(value, float) else shown(value)
        meant = [known for known in BELONGS if self.belongs(known)]
        mend = f'Did you mean kind = "{BELONGS[field][0]}"?'
        return wrong(
            field,
            f"{told} stands in {field}, which a {self.kind} pump does not have.",
            f"what belongs to it: {', '.join(meant)}",
            _INSTEAD.get((field, self.kind), mend).format(PRESSURE.told("2.4 bar")),
            ("kind",),
        )

    def _above_curve(self, field: str, value: float | None) -> Iterator[PydanticCustomError]:
        most = self.curve[0][1] if self.curve else None
        if value is not None and most is not None and not above(most, value):
            yield wrong(
                field,
                f"{PRESSURE.said(value)} is not below the {PRESSURE.said(most)} with which the curve starts: the pump "
                "never reaches it.",
                f"{field} below the curve's first pressure",
                about=("curve",),
            )

    def _curve(self, curve: tuple[tuple[float, float], ...]) -> Iterator[PydanticCustomError]:
        if self.curve_volts is None:
            yield wrong(
                "curve_volts",
                "The pump's curve says no volts.",
                'curve_volts = "13.6 V", the volts at the pump when it was measured',
                about=("curve",),
            )
        if len(curve) < 2:
            expected = f"two or more, as in curve = {curve_example()}"
            yield wrong("curve", "The pump's curve has fewer than two points.", expected)
        if any(not above(later[0], point[0]) for point, later in pairwise(curve)):
            expected = "points from shut-off to open flow"
            yield wrong("curve", "The curve's flows do not rise from point to point.", expected)
        if any(not above(point[1], later[1]) for point, later in pairwise(curve)):
            expected = "a pressure that falls from point to point"
            yield wrong("curve", "The curve's pressure does not fall as the flow rises.", expected)
        if curve and curve[0][1] <= 0:
            expected = "the first point at no or little flow, with its pressure"
            yield wrong("curve", "The curve starts without pressure.", expected)


def _extras(hint: object) -> Iterator[object]:
    """What an annotation carries, looked for inside unions too."""
    yield from getattr(hint, "__metadata__", ())
    for option in getattr(hint, "__args__", ()):
        yield from _extras(option)


class Mains(Part):
    """An inlet for the water of a campsite, instead of tank and pump."""

    lowest: Annotated[float, such_as(PRESSURE.within("0.2 bar", "12 bar"), "2 bar")] = asked(
        "least pressure that a campsite's tap gives", 2e5
    )
    highest: Annotated[float, such_as(PRESSURE.within("0.2 bar", "16 bar"), "6 bar")] = asked(
        "most pressure that a campsite's tap gives", 6e5
    )
    regulator: Annotated[float, such_as(PRESSURE.within("0.3 bar", "8 bar"), "2.5 bar")] | None = asked(
        "pressure that the regulator at the inlet is set to"
    )
    droop: Annotated[float, PRESSURE.within("0 bar", "3 bar")] = asked(
        "how far the regulator lets its pressure fall at 10 L/min; 0.5 bar if not said", 5e4
    )
    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its connection is")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether the range of the tap's pressure is the right way round."""
        if above(self.lowest, self.highest):
            yield wrong(
                "lowest",
                f"The least pressure, {PRESSURE.said(self.lowest)}, lies above the most, "
                f"{PRESSURE.said(self.highest)}.",
                "lowest at or below highest",
                "Are the two swapped?",
                ("highest",),
            )
