"""The way of the water: pump, runs of hose, fittings, mixing taps, outlets, accumulator."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Annotated, Literal

from pydantic import Field
from pydantic_core import PydanticCustomError

from vanwater.plan.joint import Connection
from vanwater.plan.part import Part, Whole, YesNo, asked, such_as, wrong
from vanwater.plan.problems import shown
from vanwater.plan.winter import Beside, Foam, FoamConductivity
from vanwater.quantities import (
    BORE,
    COMPLIANCE,
    CURRENT,
    FLOW,
    LENGTH,
    PRESSURE,
    RATIO,
    TEMPERATURE,
    VOLTAGE,
    VOLUME,
    Flow,
    Pressure,
    Ratio,
    Roughness,
    Share,
)

__all__ = ["Accumulator", "Fitting", "Mixer", "Outlet", "Pump", "Run", "Tee", "Together"]

Height = Annotated[float, LENGTH.within("-3 m", "5 m")]


class Pump(Part):
    """A diaphragm pump with its pressure switch, as measured at a stated voltage."""

    kind: Literal["diaphragm"] = asked("kind of pump", "diaphragm")
    curve: tuple[tuple[Flow, Pressure], ...] | None = asked("measured points: flow and pressure rise")
    curve_volts: Annotated[float, VOLTAGE.within("5 V", "60 V")] | None = asked("volts at which the curve was measured")
    volts: Annotated[float, VOLTAGE.within("5 V", "60 V")] | None = asked("volts that reach the pump while it runs")
    current: Annotated[float, CURRENT.within("0.1 A", "60 A")] | None = asked("current while it runs")
    cut_in: Annotated[float, PRESSURE.within("0.1 bar", "7 bar")] | None = asked("pressure at which it starts")
    cut_out: Annotated[float, PRESSURE.within("0.2 bar", "8 bar")] | None = asked("pressure at which it stops")
    priming_lift: Annotated[float, LENGTH.within("0 m", "8 m")] | None = asked(
        "lift that it can prime, as rated at sea level"
    )
    line_gives: Annotated[float, such_as(COMPLIANCE.within("0.01 mL/bar", "1000 mL/bar"), "8 mL/bar")] | None = asked(
        "water that the hoses behind it take up for each bar, if measured"
    )
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its two connections are")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether the curve is one of a diaphragm pump and the switch the right way round."""
        if self.curve is not None:
            yield from self._curve(self.curve)
        if self.cut_in is not None and self.cut_out is not None and self.cut_in >= self.cut_out:
            yield wrong(
                "cut_in",
                "The switch starts the pump at or above the pressure at which it stops it.",
                "cut_in below cut_out",
                "Are the two swapped?" if self.cut_in > self.cut_out else "",
                ("cut_out",),
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
            expected = 'two or more, as in curve = [["0 L/min", "2.9 bar"], ["11 L/min", "0 bar"]]'
            yield wrong("curve", "The pump's curve has fewer than two points.", expected)
        if any(later[0] <= point[0] for point, later in pairwise(curve)):
            expected = "points from shut-off to open flow"
            yield wrong("curve", "The curve's flows do not rise from point to point.", expected)
        if any(later[1] >= point[1] for point, later in pairwise(curve)):
            expected = "a pressure that falls from point to point"
            yield wrong("curve", "The curve's pressure does not fall as the flow rises.", expected)
        if curve and curve[0][1] <= 0:
            expected = "the first point at no or little flow, with its pressure"
            yield wrong("curve", "The curve starts without pressure.", expected)


class Run(Part):
    """One run of hose or pipe from one piece to the next, with its fittings."""

    start: str = asked("piece where it begins", ..., alias="from")
    end: str = asked("piece where it ends", ..., alias="to")
    size: str | None = asked("key of a row in the table of pipes and hoses")
    bore: Annotated[float, BORE.within("2 mm", "100 mm")] | None = asked("inside diameter, if no stock size is named")
    roughness: Roughness | None = asked("roughness of the bore; 1.5 µm for smooth plastic if not said")
    length: Annotated[float, LENGTH.within("0 m", "50 m")] | None = asked("length of the run")
    fittings: dict[str, Annotated[Whole, Field(ge=0, le=60)]] = asked(
        "how many of each fitting, by key of the table or of an own one", {}
    )
    k: Annotated[float, RATIO.within("0", "1000")] = asked(
        "loss coefficients known otherwise, summed, on this run's bore", 0.0
    )
    clogged: Share = asked("how clogged its strainer or filter is", 0.0)
    lowest: Height | None = asked("its lowest point above the van's floor")
    beside: Beside | None = asked("where it lies: outside, box or room; room if not said")
    outside: Annotated[float, BORE.within("3 mm", "150 mm")] | None = asked(
        "outside diameter; that of the stock size if not said"
    )
    foam: Foam | None = asked("insulation around it")
    foam_conductivity: FoamConductivity | None = asked("of that insulation; 0.037 W/mK if not said")
    start_joint: Connection | None = asked("connection in which it begins")
    end_joint: Connection | None = asked("connection in which it ends")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether it has one bore and leads somewhere."""
        if self.size is not None and self.bore is not None:
            yield wrong("bore", "A run has either a stock size or a bore.", "one of the two", about=("size",))
        if self.outside is not None and self.bore is not None and self.outside <= self.bore:
            yield wrong(
                "outside", "The outside is no larger than the bore.", "outside larger than bore", about=("bore",)
            )
        if self.start == self.end:
            yield wrong(
                "to", f"The run leads from {shown(self.start)} to itself.", "another piece at its end", about=("from",)
            )


class Fitting(Part):
    """A fitting of one's own: measured, or from a data sheet."""

    k: Ratio | None = asked("loss coefficient on the bore of the run")
    loss: Annotated[float, PRESSURE.within("0 bar", "5 bar")] | None = asked("pressure it takes")
    loss_at: Annotated[float, FLOW.within("0.1 L/min", "60 L/min")] | None = asked(
        "flow at which it takes that pressure"
    )
    source: str = asked("where the value comes from", "measured by the builder", max_length=200)

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether its loss is said in one way, and only one."""
        about = ("k", "loss", "loss_at")
        if self.k is not None and (self.loss is not None or self.loss_at is not None):
            yield wrong("k", "A fitting has either a k or a loss at a flow.", "one of the two", about=about)
        if self.k is None and (self.loss is None or self.loss_at is None):
            missing = "loss" if self.loss is None else "loss_at"
            expected = 'loss = "0.2 bar" and loss_at = "6 L/min", or k = 2.5'
            yield wrong(missing, f"The fitting says no {missing}.", expected, about=about)


class Tee(Part):
    """A tee or manifold: where runs part or meet; its loss stands among the fittings of the runs."""

    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its connections are")


class Mixer(Part):
    """A mixing tap: joins hot and cold by hand."""

    kind: Literal["hand"] = asked("kind of mixing tap", "hand")
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its connections are")


class Outlet(Part):
    """Where the water leaves: handset, spout, outside shower."""

    type: str | None = asked("key of a row in the table of outlets")
    flow: Annotated[float, FLOW.within("0.2 L/min", "40 L/min")] | None = asked("flow measured at it")
    at: Annotated[float, PRESSURE.within("0.05 bar", "6 bar")] | None = asked(
        "pressure at which that flow was measured"
    )
    regulated: YesNo = asked("whether a flow regulator holds that flow", False)
    temperature: Annotated[float, TEMPERATURE.within("5 °C", "60 °C")] | None = asked("temperature wanted at it")
    wanted: Annotated[float, FLOW.within("0.2 L/min", "40 L/min")] | None = asked("flow wanted at it")
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its connection is")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether it is from the table or measured, and the measurement whole."""
        about = ("type", "flow", "at")
        if self.type is not None and (self.flow is not None or self.at is not None):
            expected = "one of the two"
            yield wrong("type", "An outlet has either a type from the table or a measured flow.", expected, about=about)
        if self.type is None and (self.flow is None) != (self.at is None):
            missing = "at" if self.at is None else "flow"
            expected = 'flow = "6 L/min" and at = "1 bar"'
            yield wrong(missing, f"The outlet's measurement says no {missing}.", expected, about=about)


class Together(Part):
    """Outlets that people really open at the same time."""

    outlets: tuple[str, ...] = asked("the outlets that are open together", ..., min_length=2)


class Accumulator(Part):
    """A small pressure vessel behind the pump."""

    at: str = asked("piece at which it sits", ...)
    volume: Annotated[float, such_as(VOLUME.within("0.1 L", "30 L"), "1 L")] = asked("gas volume, empty of water", ...)
    precharge: Annotated[float, PRESSURE.within("0 bar", "6 bar")] | None = asked(
        "gas pressure, set with the line empty"
    )
    set_at: Annotated[float, such_as(TEMPERATURE.within("-20 °C", "45 °C"), "20 °C")] = asked(
        "temperature at which it was set", 293.15
    )
