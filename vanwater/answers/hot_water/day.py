"""A day of hot water: what the heater takes, what it loses between its hours, and how warm the water comes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated
from vanwater.answers.hot_water.battery import at_battery, battery_share, usable_energy
from vanwater.plan.model import Plan
from vanwater.quantities import ENERGY, HOURS, TEMPERATURE, VOLUME, Array, Quantity
from vanwater.system.batch import Batch
from vanwater.system.hot_water_day import SUNNY, HotWaterDay, hot_water_day
from vanwater.system.hot_water_demand import HeaterNumbers

__all__ = ["CLOCK", "NOON", "Day", "day_findings", "day_of"]

CLOCK = (
    "Half of a day's hot water is drawn from 7:00 on, half from 19:00 on; half of the heater's hours go to each, and "
    "begin so early that it is hot by then."
)
"""The clock of a day in words (common practice)."""

NOON = "What is heated by the sun is on for the six hours around noon instead."
"""When one is on that is heated by the sun, in words (common practice)."""

SUN = limit("hours in which the sun charges in earnest", SUNNY, HOURS, "common practice")
"""How long one is on that is heated by the sun."""

_HOW = "The heater in layers through a day like the day before: draws by the clock, thermostat, hours on and off."
_SOURCE = "heat balance of the layers; the clock is common practice"
_MUCH = 0.1
"""Share of the day's warm water that may come too cold before it is told (common practice)."""
_NONE = 1.0
"""Heat that is none, J."""
_LITTLE = 0.05
"""Share of the heat that is worth a word where it is lost (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Day:
    """What a day does to a heater.

    Parameters
    ----------
    followed : HotWaterDay
        The day along the rows.
    by_the_sun : bool
        Whether it is heated while the sun charges.
    heated, lost : Number
        Heat of its element, and what of it goes into the room.
    coldest, short : Number
        Water at the tap where it falls furthest short of its wish, and how much comes colder than wanted.
    energy, share : Number or None
        What the day takes from the battery, and which share of it; None where it does not live on one.
    """

    followed: HotWaterDay
    by_the_sun: bool
    heated: Number
    lost: Number
    coldest: Number
    short: Number
    energy: Number | None
    share: Number | None


def day_of(
    batch: Batch, name: str, numbers: HeaterNumbers, pairs: Sequence[UnsureRows], *, on_battery: bool
) -> Day | None:
    """What a day does to a heater.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The heater.
    numbers : HeaterNumbers
        It along the rows.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.
    on_battery : bool
        Whether it lives on the battery.

    Returns
    -------
    Day or None
        None where there is no such day to follow; see :func:`vanwater.system.hot_water_day.hot_water_day`.
    """
    day, own = hot_water_day(batch, name), ("heater", name, "day")
    if day is None:
        return None
    heated = stated(
        f"heat that the {name} gives in a day",
        day.heated,
        ENERGY,
        _HOW,
        parts=_parts(day),
        source=_SOURCE,
    ).keyed(*own, "heat", pairs=pairs, least=0.0, digits=2)
    lost, coldest, short = (
        stated(words, values, quantity, _HOW, source=_SOURCE).keyed(*own, key, pairs=pairs, digits=2)
        for words, values, quantity, key in (
            (f"heat that the {name} loses to the room in a day", day.lost, ENERGY, "lost"),
            ("water at the tap where it falls furthest short of its wish", day.coldest, TEMPERATURE, "coldest"),
            ("water of a day that comes colder than wanted", day.short, VOLUME, "short"),
        )
    )
    energy = share = None
    if on_battery:
        energy = at_battery(f"battery energy of the {name} in a day", heated, numbers).keyed(
            *own, "battery_energy", pairs=pairs, least=0.0, digits=2
        )
        if (usable := usable_energy(batch)) is not None:
            share = battery_share(f"share of the battery that the {name} takes in a day", energy, usable).keyed(
                *own, "battery_share", pairs=pairs, least=0.0, digits=2
            )
    sunny = batch.plan.heaters[name].by_the_sun
    return Day(
        followed=day,
        by_the_sun=sunny,
        heated=heated,
        lost=lost,
        coldest=coldest,
        short=short,
        energy=energy,
        share=share,
    )


def _parts(day: HotWaterDay) -> Sequence[tuple[str, tuple[Array, Quantity]]]:
    """Where the heat goes that is given; nowhere where it is none."""
    if day.heated[0] < _NONE:
        return ()
    parts = [("in the water that is drawn", (day.drawn, ENERGY)), ("into the room", (day.lost, ENERGY))]
    if abs(day.stored[0]) > 1e-7 * day.heated[0]:
        parts.append(("more in the store than a day before", (day.stored, ENERGY)))
    return parts


def day_findings(plan: Plan, name: str, day: Day) -> Iterator[Finding]:
    """The finding on how warm the water of a day comes.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        The heater.
    day : Day
        What a day does to it.

    Yields
    ------
    Finding
        Watched where much of the day's water comes colder than wanted.
    """
    by_the_sun = day.by_the_sun
    hours = SUN if by_the_sun else planned(plan, f"heaters.{name}.hours_on", HOURS)
    lacks = day.short.likely > _MUCH * float(day.followed.warm[0])
    takes = (
        say("{energy} from the battery, {share} of it", energy=day.energy, share=day.share)
        if day.energy is not None and day.share is not None
        else say("{heat} of heat", heat=day.heated)
    )
    yield Finding(
        f"hot_water.{name}.day",
        Verdict.WATCH if lacks else Verdict.FINE,
        say(
            "A day of hot water, the {heater} on for {hours} while the sun charges, takes {takes}{lost}. {warm}"
            if by_the_sun
            else "A day of hot water, the {heater} on for {hours}, takes {takes}{lost}. {warm}"
            if plan.heaters[name].left_hot
            else "Left hot when its {hours} end, the {heater} takes {takes} a day{lost}; the days count on it being "
            "switched off before the last draw. {warm}",
            hours=hours,
            heater=name,
            takes=takes,
            lost=say("; {lost} of its heat go into the room", lost=day.lost)
            if day.lost.likely > _LITTLE * day.heated.likely
            else say(""),
            warm=say(
                "{short} of the water come colder than wanted, {coldest} at the coldest.",
                short=day.short,
                coldest=day.coldest,
            )
            if lacks
            else say("The water comes as warm as wanted."),
        ),
        change=None
        if not lacks
        else say("Let it heat again before the evening's draws, foam it, or take a larger heater.")
        if by_the_sun
        else say("Have it on for longer, let it recover between the draws, or take more power or a larger heater."),
        address=f"heaters.{name}.{'when' if by_the_sun else 'hours_on'}",
        source=_SOURCE,
    )
