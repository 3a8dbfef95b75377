"""What makes a stay longer: more in a store, a dump on the way, less of a use, more put back into the battery."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.core.working import planned, stated
from vanwater.answers.stay.days import Days, shortest
from vanwater.answers.stay.stores import StoreDays, UseADay, key_of
from vanwater.plan.day import FULL_DAY
from vanwater.plan.model import Plan
from vanwater.quantities import CHARGE, DAILY_ENERGY, ENERGY, POWER, STAY, VOLUME, Quantity
from vanwater.system.batch import Batch
from vanwater.system.day import day_of
from vanwater.system.draining import held_in_hand

__all__ = ["NEEDED", "OnTheWay", "longer", "on_the_way"]

NEEDED = ("drinking", "cooking")
"""Uses that nobody is told to halve."""


ON_THE_ROOF = 1000.0
"""Panels that the roof of a large van takes at most [W] (common practice, from memory)."""


@dataclass(frozen=True, slots=True, eq=False)
class OnTheWay:
    """What emptying or filling one store once on the way makes of the stay.

    Parameters
    ----------
    store : str
        The store.
    holds : str
        What it holds.
    stay : Number
        The stay then [s].
    ends : str
        The store that ends it then.
    """

    store: str
    holds: str
    stay: Number
    ends: str


def on_the_way(every: Sequence[StoreDays], pairs: Sequence[UnsureRows]) -> Iterator[OnTheWay]:
    """What emptying or filling each store once on the way makes of the stay.

    Parameters
    ----------
    every : sequence of StoreDays
        All stores.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Yields
    ------
    OnTheWay
        Only those that lengthen it.
    """
    days = np.stack([store.days.values for store in every])
    before = float(days.min(axis=0)[0])
    for place, store in enumerate(every):
        if store.holds == "battery":
            continue
        twice = days.copy()
        with np.errstate(over="ignore"):  # next to nothing is taken: unlimited
            twice[place] *= 2.0
        least = twice.min(axis=0)
        if least[0] > before * (1 + 1e-9):
            ends = every[int(np.argmin(twice[:, 0]))].name
            words = "refilled" if store.holds == "fresh" else "emptied"
            stay = stated(
                f"days off-grid with {store.name} {words} once",
                least,
                STAY,
                f"The smallest of the stores' days, twice those of {store.name}.",
                facts=[(other.name, other.days) for other in every],
                source="quotients of steady daily means",
            ).keyed("stay", f"{words}_once", store.name, pairs=pairs, rates=shortest(every, store.name))
            yield OnTheWay(store.name, store.holds, stay, ends)


def longer(plan: Plan, batch: Batch, days: Days, lengthened: Sequence[OnTheWay]) -> tuple[Say | None, Say | None]:
    """What makes the stay as long as is wanted, else longer, and by how much.

    Parameters
    ----------
    plan : Plan
        The plan.
    batch : Batch
        The plan with its rows.
    days : Days
        How long it can stay out.
    lengthened : sequence of OnTheWay
        What a dump or a refill once on the way makes of it.

    Returns
    -------
    tuple of Say or None
        The change, and what it gains.
    """
    stay, every = days.stay, days.stores
    if not np.isfinite(stay.likely):
        return None, None
    first = every[0]
    spared = [use.name for use in days.uses if use.fresh.likely > 0 and use.name not in NEEDED and _there(plan, use)]
    gains = {name: stay.gain(batch.place(f"half {name}"), f"half the {name}") for name in spared}
    use = max(gains, key=lambda name: gains[name].likely, default="")
    worth = bool(use) and gains[use].likely > 0.02 * stay.likely
    half = say("halve the water for the {use}", use=use) if worth else None
    gain = say("{days} more", days=gains[use]) if worth else None
    wanted = planned(plan, "household.days_wanted", STAY)
    if stay.likely < wanted.likely:
        lacks = tuple(_lack(batch, store, every, wanted.likely) for store in every if store.days.likely < wanted.likely)
        if half is None:
            return say("For {wanted}, {lacks}.", wanted=wanted, lacks=lacks), None
        missing = _missing(stay, gains[use], wanted, use)
        if missing.likely > 0:
            gain = say("{days} more, {missing} still missing", days=gains[use], missing=missing)
        return say("For {wanted}, {lacks}; or {half}.", wanted=wanted, lacks=lacks, half=half), gain
    if first.holds == "battery":
        return _balancing(batch, first), None
    then = next((way for way in lengthened if way.store == first.name), None)
    if first.holds in ("urine", "cassette") and then is not None:
        gain = say("{days}", days=then.stay.rounded(2))
        return say("To stay longer, empty the {store} once on the way.", store=first.called), gain
    return (None, None) if half is None else (say("To stay longer, {half}.", half=half), gain)


def _missing(stay: Number, gain: Number, wanted: Number, use: str) -> Number:
    """What a remedy that does not cure leaves missing of the days wanted."""
    return stated(
        f"days missing with half the {use}",
        wanted.likely - stay.likely - gain.likely,
        STAY,
        "Days wanted, less those with the change.",
        facts=[("wanted", wanted), ("as planned", stay), ("gained", gain)],
        source="difference",
    ).keyed("stay", "days", "missing", f"half the {use}", digits=2)


def _balancing(batch: Batch, battery: StoreDays) -> Say | None:
    """What keeps the battery from ending a stay."""
    if not (battery.a_day.likely > 0 and battery.usable.likely > 0):
        return None
    a_day = battery.a_day.likely
    told = {
        "fit": say("fit {capacity} more of battery for each day", capacity=_capacity(batch, battery, a_day * FULL_DAY)),
        "put": say("put back up to {more} more{by}", more=battery.a_day.amount, by=_panels(batch, a_day)),
    }
    if any(piece.name == "hot water" for piece in battery.a_day.given):
        return say("To stay longer, {fit}, {put}, or heat less water from the battery.", **told)
    return say("To stay longer, {fit}, or {put}.", **told)


def _there(plan: Plan, use: UseADay) -> bool:
    """Whether the van has what a use needs: a shower of the ready habits counts for nothing without its outlet."""
    if "shower" not in use.name or not plan.outlets or use.name in plan.own.get("uses", {}):
        return True
    return bool(held_in_hand(plan))


_FINEST = {
    VOLUME: ("0.5 L", "0.1 gal"),
    DAILY_ENERGY: ("10 Wh/day", "10 Wh/day"),
    CHARGE: ("1 Ah", "1 Ah"),
    POWER: ("10 W", "10 W"),
}
"""Metric and US steps: nobody is told to add to a store in finer ones (common practice, from memory)."""


def _rounded_up(plan: Plan, value: float, quantity: Quantity) -> float:
    """A value raised to two digits in the plan's own units, in steps that are told, so that it is enough [SI]."""
    shown = float(quantity.show(value, plan.us))
    step = 10.0 ** (math.floor(math.log10(shown)) - 1) if shown > 0 else 1.0
    unit = quantity.spellings[quantity.unit(plan.us)]
    step = max(step, float(quantity.show(quantity.read(_FINEST[quantity][plan.us]), plan.us)))
    return float(unit.to_si(math.ceil(shown / step - 1e-9) * step))


def _lack(batch: Batch, store: StoreDays, every: Sequence[StoreDays], wanted: float) -> Say:
    """What a store needs to last as long as is wanted."""
    plan = batch.plan
    usable, a_day = store.usable.likely, store.a_day.likely
    alone = sum(other.holds == store.holds for other in every) == 1
    missing = wanted * a_day - usable
    if store.holds == "battery":
        return _battery_lack(batch, store, wanted)
    fillings = wanted * a_day / usable if usable > 0 else math.inf
    once_a_day = wanted / FULL_DAY  # more often nobody does it
    if fillings <= once_a_day and (store.holds in ("urine", "cassette") or missing > usable * (1 + 1e-9)):
        times = math.ceil(fillings - 1e-9) - 1
        word = {1: "once", 2: "twice"}.get(times)
        often = say("{count}", count=Count(times, "time")) if word is None else say(word)
        do = "refill" if store.holds == "fresh" else "empty"
        return say(f"{do} the {{store}} {{often}} on the way", store=store.called, often=often)
    lack = stated(
        f"what {store.name} lacks",
        _rounded_up(plan, missing, VOLUME),
        VOLUME,
        "What goes in or out over the days wanted, less what it gives or takes, rounded up.",
        facts=[("a day", store.a_day), ("holds", store.usable)],
        source="balance of the store",
    ).keyed(*key_of(store), "lack", digits=2)
    more = {"fresh": "carry {litres} more fresh water", "grey": "hold {litres} more grey water"}.get(
        store.holds, "hold {litres} more"
    )
    if alone and store.holds in ("fresh", "grey"):
        return say(more, litres=lack)
    return say(f"{more} in the {{store}}", litres=lack, store=store.called)


def _battery_lack(batch: Batch, battery: StoreDays, wanted: float) -> Say:
    """What is to be put back a day, or the capacity to be fitted, for a battery to last as long as is wanted."""
    short = battery.a_day.likely - battery.usable.likely / wanted
    charge = stated(
        "what the battery lacks a day",
        _rounded_up(batch.plan, short, DAILY_ENERGY),
        DAILY_ENERGY,
        "What goes out a day, less the usable energy spread over the days wanted, rounded up.",
        facts=[("net a day", battery.a_day), ("usable", battery.usable)],
        source="balance of the store",
    ).keyed("battery", "lack_a_day", digits=2)
    put_back = say("put back {energy} more{by}", energy=charge, by=_panels(batch, short))
    if not battery.usable.likely > 0.0:  # more of a battery that gives nothing gives nothing
        return put_back
    capacity = _capacity(batch, battery, short * wanted)
    return say("{put_back} (or fit {capacity} more)", put_back=put_back, capacity=capacity)


def _capacity(batch: Batch, battery: StoreDays, energy: float) -> Number:
    """Capacity that gives some more energy, at the usable share of the battery that there is."""
    assert batch.plan.battery is not None
    return stated(
        "capacity that the battery lacks",
        _rounded_up(batch.plan, energy * batch.plan.battery.charge / battery.usable.likely, CHARGE),
        CHARGE,
        "The energy that is wanted more, by volts and usable share, rounded up.",
        facts=[("energy wanted more", (energy, ENERGY)), ("usable", battery.usable)],
        source="balance of the store",
    ).keyed("battery", "lack", digits=2)


def _panels(batch: Batch, short: float) -> Say | str:
    """The panels that put some more power back, where their day is known and the roof takes them; else nothing."""
    day = day_of(batch)
    sun = next((float(day.charged(charge)[0]) for charge in day.charges if charge.key == "sun"), 0.0)
    if sun <= 0.0 or any(heater.by_the_sun for heater in batch.plan.heaters.values()):
        return ""
    panels = planned(batch.plan, "sun.panels", POWER)
    lacking = _rounded_up(batch.plan, short * panels.likely / sun, POWER)
    if panels.likely + lacking > ON_THE_ROOF:
        return ""
    more = stated(
        "panels that the battery lacks",
        lacking,
        POWER,
        "What is to be put back a day, by what each watt of the panels puts back, rounded up.",
        facts=[
            ("wanted more a day", (short, DAILY_ENERGY)),
            ("panels", panels),
            ("they put back", (sun, DAILY_ENERGY)),
        ],
        source="balance of the store",
    ).keyed("sun", "panels", "lack", digits=2)
    return say(" by {panels} more panels", panels=more)
