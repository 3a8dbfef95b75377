"""The way of the water: runs of hose, fittings, mixing taps, outlets, accumulator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field
from pydantic_core import PydanticCustomError

from vanwater.plan.joint import Connection
from vanwater.plan.part import Part, Stocked, Whole, YesNo, above, asked, such_as, wrong
from vanwater.plan.places import ACROSS, ALONG, Across, Along, Height
from vanwater.plan.problems import shown
from vanwater.plan.tables import fittings, pipes
from vanwater.plan.winter import Beside, Foam, FoamConductivity
from vanwater.quantities import (
    BORE,
    FLOW,
    LENGTH,
    OUTLET_CONSTANT,
    PRESSURE,
    RATIO,
    TEMPERATURE,
    TEMPERATURE_DIFFERENCE,
    VOLUME,
    Altitude,
    Ratio,
    Roughness,
    Share,
)

__all__ = ["Accumulator", "Fitting", "Mixer", "Outlet", "Run", "Tee", "Together"]


class Run(Stocked):
    """One run of hose or pipe from one piece to the next, with its fittings."""

    start: str = asked("piece where it begins", ..., alias="from")
    end: str = asked("piece where it ends", ..., alias="to")
    size: str | None = asked("stock size: key of a row in the table of pipes and hoses")
    bore: Annotated[float, BORE.within("2 mm", "100 mm")] | None = asked("inside diameter, if no stock size is named")
    roughness: Roughness | None = asked("roughness of the bore; 1.5 µm for smooth plastic if not said")
    length: Annotated[float, LENGTH.within("0 m", "50 m")] | None = asked("length of the run")
    fittings: dict[str, Annotated[Whole, Field(ge=0, le=60)]] = asked(
        "how many of each fitting, by key of the table or of an own one", {}
    )
    k: Annotated[float, RATIO.within("0", "1000")] = asked(
        "loss coefficients known otherwise, summed, on this run's bore", 0.0
    )
    clogged: Share = asked("how clogged it is, strainer or filter", 0.0)
    lowest: Height | None = asked("its lowest point above the van's floor, where water stays when the van is drained")
    highest: Height | None = asked("its highest point above the van's floor, if it lies above both ends")
    beside: Beside | None = asked("where it lies: outside, box or room; room if not said")
    outside: Annotated[float, BORE.within("3 mm", "150 mm")] | None = asked(
        "outside diameter; that of the stock size if not said"
    )
    material: str | None = asked(
        "material of its wall, a row of the table of materials, where no stock size says it; what freezes soonest if "
        "not said"
    )
    foam: Foam | None = asked("insulation around it")
    foam_conductivity: FoamConductivity | None = asked("of that insulation; 0.037 W/mK if not said")
    slope: Share | None = asked("how much a waste run falls where it is flattest; enough to empty it if not said")
    trap: YesNo = asked("whether a waste run holds water in a trap of its own", False)
    run_back: YesNo = asked("whether it leads the cooled water of the hot line back to the tank while one waits", False)
    start_joint: Connection | None = asked("connection in which it begins")
    end_joint: Connection | None = asked("connection in which it ends")

    def fitted(self, kind: str) -> tuple[str, ...]:
        """The fittings of a kind that sit in it, such as "filter"; of one's own ones those that are called so."""
        rows = fittings()
        return tuple(
            key
            for key, count in self.fittings.items()
            if count and (rows[key].kind == kind if key in rows else kind in key)
        )

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether it has one bore and leads somewhere."""
        if self.size is not None and self.bore is not None:
            yield wrong("bore", "A run has either a stock size or a bore.", "one of the two", about=("size",))
        if self.size is not None and self.material is not None:
            told = "A stock size says what its wall is made of."
            yield wrong("material", told, "one of the two", about=("size",))
        if self.outside is not None and self.bore is not None and not above(self.outside, self.bore):
            yield wrong(
                "outside", "The outside is no larger than the bore.", "outside larger than bore", about=("bore",)
            )
        if self.lowest is not None and self.highest is not None and self.lowest > self.highest:
            yield wrong(
                "lowest",
                "Its lowest point lies above its highest.",
                "lowest at or below highest",
                "Are the two swapped?",
                ("highest",),
            )
        row = pipes().get(self.size or "")
        bore = row.bore if row is not None else self.bore
        if self.roughness is not None and bore is not None and self.roughness >= bore / 2:
            yield wrong(
                "roughness", "So rough a wall closes the bore.", "far less than half the bore", about=("size", "bore")
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
            expected = f'loss = "{PRESSURE.told("0.2 bar")}" and loss_at = "{FLOW.told("6 L/min")}", or k = 2.5'
            yield wrong(missing, f"The fitting says no {missing}.", expected, about=about)


class Tee(Part):
    """A tee or manifold: where runs part or meet; its loss stands among the fittings of the runs."""

    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its connections are")


class Mixer(Stocked):
    """A mixing tap set by hand, or a thermostatic mixing valve: joins hot and cold."""

    kind: Literal["hand", "thermostatic"] = asked("kind of mixing tap: set by hand, or thermostatic", "hand")
    kv: Annotated[float, such_as(OUTLET_CONSTANT.within("1 L/min at 1 bar", "100 L/min at 1 bar"), "1.2 Kv")] | None = (
        asked("flow through a thermostatic valve at a pressure of one; that of its runs' fittings if not said")
    )
    set: Annotated[float, such_as(TEMPERATURE.within("20 °C", "65 °C"), "38 °C")] | None = asked(
        "temperature that a thermostatic valve is set to; that wanted at the outlet if not said"
    )
    least_flow: Annotated[float, such_as(FLOW.within("0 L/min", "20 L/min"), "4 L/min")] | None = asked(
        "flow that a thermostatic valve needs to hold its temperature"
    )
    hot_excess: Annotated[float, such_as(TEMPERATURE_DIFFERENCE.within("0 K", "40 K"), "10 K")] | None = asked(
        "how much hotter than the mix a thermostatic valve needs the hot water"
    )
    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Height | None = asked("height above the van's floor")
    joint: Connection | None = asked("what its connections are")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether what only a thermostatic valve has is said of one."""
        for name in ("kv", "set", "least_flow", "hot_excess"):
            if self.kind == "hand" and getattr(self, name) is not None:
                expected = 'kind = "thermostatic"'
                yield wrong(name, f"A mixing tap set by hand has no {name}.", expected, about=("kind",))


class Outlet(Stocked):
    """Where the water leaves: handset, spout, outside shower."""

    type: str | None = asked("kind of outlet: key of a row in the table of outlets")
    flow: Annotated[float, FLOW.within("0.2 L/min", "40 L/min")] | None = asked("flow measured at it")
    at: Annotated[float, PRESSURE.within("0.05 bar", "6 bar")] | None = asked(
        "pressure at which that flow was measured"
    )
    regulated: YesNo = asked("whether a flow regulator holds that flow", False)
    temperature: Annotated[float, TEMPERATURE.within("5 °C", "60 °C")] | None = asked("temperature wanted at it")
    wanted: Annotated[float, FLOW.within("0.2 L/min", "40 L/min")] | None = asked("flow wanted at it")
    micro_switch: YesNo | None = asked("whether it has a micro-switch that starts a submersible pump")
    rated: Annotated[float, such_as(PRESSURE.within("0.5 bar", "20 bar"), "10 bar")] | None = asked(
        "pressure that it is made for, as its plate says"
    )
    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
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
            expected = f'flow = "{FLOW.told("6 L/min")}" and at = "{PRESSURE.told("1 bar")}"'
            yield wrong(missing, f"The outlet's measurement says no {missing}.", expected, about=about)


class Together(Part):
    """Outlets that people really open at the same time."""

    outlets: tuple[str, ...] = asked("the outlets that are open together", ..., min_length=2)


class Accumulator(Stocked):
    """A small pressure vessel behind the pump."""

    at: str = asked("piece at which it sits", ...)
    volume: Annotated[float, such_as(VOLUME.within("0.1 L", "30 L"), "1 L")] = asked("gas volume, empty of water", ...)
    precharge: Annotated[float, PRESSURE.within("0 bar", "6 bar")] | None = asked(
        "gas pressure, set with the line empty"
    )
    rated: Annotated[float, such_as(PRESSURE.within("0.5 bar", "20 bar"), "8 bar")] | None = asked(
        "pressure that it is made for, as its plate says"
    )
    set_at: Annotated[float, such_as(TEMPERATURE.within("-20 °C", "45 °C"), "20 °C")] = asked(
        "temperature at which it was set", 293.15
    )
    set_altitude: Altitude | None = asked("height above the sea at which it was set; that of the site if not said")
    x: Along | None = asked(ALONG)
    y: Across | None = asked(ACROSS)
    z: Height | None = asked("height above the van's floor")
