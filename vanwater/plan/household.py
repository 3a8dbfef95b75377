"""Who lives in the van, how they use water, and where the van stands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic_core import PydanticCustomError

from vanwater.plan.part import Part, Whole, YesNo, asked, such_as, wrong
from vanwater.quantities import (
    ANGLE,
    DURATION,
    FLOW,
    RATIO,
    SHARE,
    SPEED,
    STAY,
    TEMPERATURE,
    VOLUME,
    Altitude,
    Rate,
    Share,
)

__all__ = ["Agreed", "Household", "Revision", "Site", "Use", "Van"]


class Van(Part):
    """The plan's title block."""

    name: str = asked("name of the van or the order", ..., min_length=1, max_length=80)
    revision: str = asked("revision of the plan", "1", max_length=20)
    units: Literal["metric", "us"] = asked("units to show: metric or us", "metric")
    note: str = asked("a line for the customer", "", max_length=400)
    builder: str = asked("who builds it, for the title block", "", max_length=80)
    customer: str = asked("whom it is built for", "", max_length=80)
    chassis: str = asked("chassis or registration number", "", max_length=40)
    drawing: str = asked("number of the drawing", "", max_length=40)
    checked: str = asked("who checked it, and when", "", max_length=80)
    without: tuple[Literal["battery", "pump", "outlets"], ...] = asked(
        "what the van is built without: battery, pump, outlets", ()
    )


class Agreed(Part):
    """A finding that fails and was agreed so with the customer."""

    finding: str = asked("key of the finding, such as stay.days", ..., min_length=1, max_length=120)
    situation: str = asked(
        "situation for which it was agreed; the plan as it is written if not said", "", max_length=80
    )
    on: str = asked("day on which it was agreed", ..., min_length=1, max_length=40)
    words: str = asked("what was agreed, in the customer's words", "", max_length=400)


class Revision(Part):
    """A revision of the plan: what changed, who answers for it."""

    on: str = asked("day of the revision", ..., min_length=1, max_length=40)
    what: str = asked("what changed", "", max_length=400)
    by: str = asked("who made it", "", max_length=80)
    checked: str = asked("who checked it, and when", "", max_length=80)
    signed: str = asked("who signed it, and when", "", max_length=80)
    fingerprint: str = asked("fingerprint of the plan that was signed, as its papers print it", "", max_length=40)


class Household(Part):
    """Who travels, and how careful they are with water."""

    people: Whole = asked("people who live in the van", ..., ge=1, le=12)
    habits: Literal["careful", "moderate", "home-like"] | None = asked("ready habits: careful, moderate or home-like")
    days_wanted: Annotated[float, STAY.within("0.5 days", "120 days")] | None = asked("days to stay out")
    run_off: Annotated[float, RATIO.within("1", "5")] = asked(
        "how many times the hot pipe's content is run off while waiting for hot", 1.4
    )
    unsure: Annotated[float, such_as(SHARE.within("0 %", "60 %"), "25 %")] = asked(
        "how far the real use may lie off, either way", 0.25
    )


class Use(Part):
    """One use of water: how often, how much, how warm, and where it goes."""

    a_day: Rate = asked("times a day", ...)
    per: Literal["person", "van"] = asked("counted for each person or once for the van", "person")
    volume: Annotated[float, VOLUME.within("0 L", "150 L")] | None = asked("fresh water each time")
    flow: Annotated[float, FLOW.within("0.1 L/min", "30 L/min")] | None = asked("flow while the tap is open")
    duration: Annotated[float, DURATION.within("1 s", "60 min")] | None = asked("time the tap is open")
    adds: Annotated[float, such_as(VOLUME.within("0 L", "5 L"), "0.35 L")] = asked(
        "what people add to it each time (urine)", 0.0
    )
    temperature: Annotated[float, TEMPERATURE.within("0 °C", "60 °C")] | None = asked("temperature wanted, if warm")
    returns: Share = asked("share of the water that comes back to a tank", 1.0)
    to: str | None = asked("tank that it runs into; 'outside' for none")
    tank: str | None = asked("fresh tank that it draws from, if not the main one")
    hot: YesNo = asked("whether one waits for hot water", False)
    outlet: str | None = asked("outlet that is used")

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether it is said in one way, and only one, how much water is used."""
        about = ("volume", "flow", "duration")
        if self.volume is not None and (self.flow is not None or self.duration is not None):
            yield wrong("volume", "A use has either a volume or a flow with a duration.", "one of the two", about=about)
        if self.volume is None and (self.flow is None or self.duration is None):
            missing = "duration" if self.flow is not None else "flow" if self.duration is not None else "volume"
            expected = f'volume = "{VOLUME.told("8 L")}", or flow = "{FLOW.told("6 L/min")}" and duration = "60 s"'
            yield wrong(missing, f"This use says no {missing}.", expected, about=about)

    @property
    def each_time(self) -> float:
        """Fresh water each time [m³]."""
        if self.volume is not None:
            return self.volume
        assert self.flow is not None and self.duration is not None
        return self.flow * self.duration


class Site(Part):
    """Where the van stands: height, cold water, slope."""

    altitude: Altitude = asked("height above the sea", 0.0)
    cold_water: Annotated[float, such_as(TEMPERATURE.within("0.5 °C", "35 °C"), "12 °C")] = asked(
        "temperature of the fresh water as it is filled", 285.15
    )
    pitch: Annotated[float, ANGLE.within("-15°", "15°")] = asked("parked slope, nose down positive", 0.0)
    roll: Annotated[float, ANGLE.within("-15°", "15°")] = asked("parked slope, left side down positive", 0.0)
    highest: Altitude | None = asked("highest place that the van goes to")
    coldest: Annotated[float, such_as(TEMPERATURE.within("-40 °C", "40 °C"), "0 °C")] = asked(
        "coldest that the cupboards get while the water is in use", 273.15
    )
    warmest: Annotated[float, such_as(TEMPERATURE.within("0 °C", "60 °C"), "35 °C")] = asked(
        "warmest that the cupboards get", 308.15
    )
    wind: Annotated[float, SPEED.within("0 m/s", "40 m/s")] = asked("wind on the parked van", 2.0)
