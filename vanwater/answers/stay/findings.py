"""What is to be said of a stay: its wish, what is not decided, litres a person, water out of reach."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.spread import UnsureRows, spread
from vanwater.answers.core.statement import Amount, Count, Given, Range, Say, say
from vanwater.answers.core.unsure import rows_of
from vanwater.answers.stay.stores import StoreDays, UseADay, ended
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, ENERGY, SHARE, STAY, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.stores import UNREACHED, tank_reach

__all__ = ["NEEDED", "OnTheWay", "on_the_way", "stay_findings", "unreached"]

NEEDED = ("drinking", "cooking")
"""Uses that nobody is told to halve."""

LITRES_A_PERSON = (8e-3 / 86400, 20e-3 / 86400)
"""What people in vans use a person and day, m³/s: 8 to 20 L (common practice)."""


@dataclass(frozen=True, slots=True)
class OnTheWay:
    """What emptying or filling one store once on the way makes of the stay.

    Parameters
    ----------
    store : str
        The store.
    holds : str
        What it holds.
    stay : Range
        The stay then [s].
    ends : str
        The store that ends it then.
    """

    store: str
    holds: str
    stay: Range
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
    days = np.stack([store.step.value for store in every])
    before = float(days.min(axis=0)[0])
    for place, store in enumerate(every):
        if store.holds == "battery":
            continue
        twice = days.copy()
        twice[place] *= 2.0
        least = twice.min(axis=0)
        if least[0] > before * (1 + 1e-9):
            ends = every[int(np.argmin(twice[:, 0]))].name
            yield OnTheWay(store.name, store.holds, spread(least, pairs, 0.0).range(STAY), ends)


def stay_findings(
    plan: Plan,
    batch: Batch,
    stay: Range,
    every: Sequence[StoreDays],
    uses: Sequence[UseADay],
    least: Array,
) -> Iterator[Finding]:
    """The findings on a stay.

    Parameters
    ----------
    plan : Plan
        The plan.
    batch : Batch
        The plan with its rows.
    stay : Range
        How long it can stay out [s].
    every : sequence of StoreDays
        The stores, the one that ends it first.
    uses : sequence of UseADay
        What each use takes.
    least : array
        The stay of every row [s].

    Yields
    ------
    Finding
        In no order.
    """
    yield from _gaps(plan, every)
    if every and np.isfinite(stay.likely):
        yield _stay_finding(plan, batch, stay, every, uses, least)
    yield from _person_finding(plan, uses)
    yield from _reach_findings(batch)


def _gaps(plan: Plan, every: Sequence[StoreDays]) -> Iterator[Finding]:
    held = {store.holds for store in every}
    gaps = {
        "uses": (not plan.uses, "What water is used for is not decided.", "Choose ready habits, or list the uses."),
        "fresh": ("fresh" not in held, "No fresh tank is planned yet.", "Add a tank that holds fresh water."),
        "grey": (
            "grey" not in held and any(use.to in (None, "grey") and use.returns > 0 for use in plan.uses.values()),
            "Where the grey water goes is not decided.",
            "Add a tank that holds grey water.",
        ),
        "battery": (
            "battery" not in held,
            "How long the battery lasts is not decided.",
            "Say the battery, what else lives on it and what charges it.",
        ),
    }
    addresses = {"uses": "household.habits", "fresh": "tanks", "grey": "tanks", "battery": "battery"}
    for key, (gap, told, change) in gaps.items():
        if gap:
            yield Finding(f"autonomy.{key}", Verdict.NOT_DECIDED, say(told), change=say(change), address=addresses[key])


def _stay_finding(
    plan: Plan, batch: Batch, stay: Range, every: Sequence[StoreDays], uses: Sequence[UseADay], least: Array
) -> Finding:
    first = every[0]
    following = (
        say(
            " Next, {event} after {days}.",
            event=ended(every[1], every, first=False),
            days=Amount(every[1].days.likely, STAY, 2),
        )
        if len(every) > 1 and np.isfinite(every[1].days.likely)
        else say("")
    )
    change, gain = _longer(plan, batch, stay, every, uses, least)
    wanted = plan.household.days_wanted
    if wanted is None:
        return Finding(
            "autonomy.stay",
            Verdict.FINE,
            say("The van can stay out {stay}; no stay is wanted by the plan.{next}", stay=stay, next=following),
            change=change,
            gain=gain,
            address="household.days_wanted",
            source="quotients of daily means",
        )
    limit = Amount(wanted, STAY)
    verdict = judge(stay, limit, "at least")
    return Finding(
        "autonomy.stay",
        verdict,
        say("The van can stay out {stay}; {wanted} are wanted.{next}", stay=stay, wanted=limit, next=following),
        value=stay,
        limit=limit,
        change=change,
        gain=gain,
        address=f"tanks.{first.tanks[0]}.capacity" if first.tanks else "battery.charge",
        source="the plan's own wish",
        bound="at least",
    )


def _longer(
    plan: Plan, batch: Batch, stay: Range, every: Sequence[StoreDays], uses: Sequence[UseADay], least: Array
) -> tuple[Say | None, Say | None]:
    """What makes the stay as long as is wanted, else longer, and by how much."""
    first, wanted = every[0], plan.household.days_wanted
    spared = [use.name for use in uses if use.name not in NEEDED and float(use.fresh.value.ravel()[0]) > 0]
    saved = [(name, float(least[batch.place(f"half {name}")] - least[0])) for name in spared]
    use, more = max(saved, key=lambda one: one[1], default=("", 0.0))
    half = say("halve the water for the {use}", use=use) if more > 0.02 * stay.likely else None
    gain = say("{days} more", days=Amount(more, STAY, 2)) if half is not None else None
    if wanted is not None and stay.likely < wanted:
        lacks = tuple(_lack(store, every, wanted) for store in every if store.days.likely < wanted)
        given: dict[str, Given] = {"wanted": Amount(wanted, STAY), "lacks": lacks}
        if half is None:
            return say("For {wanted}, {lacks}.", **given), None
        return say("For {wanted}, {lacks}; or {half}.", half=half, **given), gain
    if first.holds == "battery":
        return say("To stay longer, charge more, or heat less water from the battery."), None
    then = next((one for one in on_the_way(every, rows_of(batch, ())) if one.store == first.name), None)
    if first.holds in ("urine", "cassette") and then is not None:
        days = Amount(then.stay.likely, STAY, 2)
        return say("To stay longer, empty the {store} once on the way.", store=first.name), say("{days}", days=days)
    return (None, None) if half is None else (say("To stay longer, {half}.", half=half), gain)


def _lack(store: StoreDays, every: Sequence[StoreDays], wanted: float) -> Say:
    """What a store needs to last as long as is wanted."""
    usable, a_day = float(store.usable.value[0]), float(store.a_day.value[0])
    alone = sum(other.holds == store.holds for other in every) == 1
    if store.holds in ("urine", "cassette") and usable > 0:
        dumps = int(np.ceil(wanted * a_day / usable - 1e-9)) - 1
        often = say("once") if dumps == 1 else say("{count}", count=Count(dumps, "time"))
        return say("empty the {store} {often} on the way", store=store.name, often=often)
    if store.holds == "battery":
        return say("charge {energy} more", energy=Amount(wanted * a_day - usable, ENERGY, 2))
    told = {"fresh": "carry {litres} more fresh water", "grey": "hold {litres} more grey water"}.get(
        store.holds, "hold {litres} more"
    )
    litres = Amount(wanted * a_day - usable, VOLUME, 2)
    if alone and store.holds in ("fresh", "grey"):
        return say(told, litres=litres)
    return say(f"{told} in {{store}}", litres=litres, store=store.name)


def _person_finding(plan: Plan, uses: Sequence[UseADay]) -> Iterator[Finding]:
    if not uses:
        return
    a_person = sum(float(use.fresh.value.ravel()[0]) for use in uses) / plan.household.people
    low, high = LITRES_A_PERSON
    outside = not low <= a_person <= high
    yield Finding(
        "autonomy.person",
        Verdict.WATCH if outside else Verdict.FINE,
        say(
            "Each person uses {litres}; people in vans use {low} to {high}.",
            litres=Amount(a_person, DAILY_VOLUME),
            low=Amount(low, DAILY_VOLUME),
            high=Amount(high, DAILY_VOLUME),
        ),
        change=say("Check the uses with the household before parts are ordered.") if outside else None,
        address="household.habits",
        source="common practice",
    )


def _reach_findings(batch: Batch) -> Iterator[Finding]:
    for name, tank in batch.plan.tanks.items():
        if tank.holds != "fresh":
            continue
        reach = tank_reach(batch, name)
        full, left = float(reach.full[0]), float(reach.out_of_reach[0])
        if reach.how != "assumed" and full > 0 and left > 0.1 * full:
            yield Finding(
                f"autonomy.reach.{name}",
                Verdict.WATCH,
                say(
                    "Parked as planned, {left} in the tank {tank} lie out of the pick-up's reach, {share} of it.",
                    left=Amount(left, VOLUME),
                    tank=name,
                    share=Amount(left / full, SHARE, 2),
                ),
                value=Amount(left / full, SHARE, 2),
                limit=Amount(0.1, SHARE, 2),
                change=say("Put the pick-up lower or at the end that lies low, or level the van."),
                address=f"tanks.{name}.pickup",
                source="volume of a tilted tank; the limit is common practice",
            )


def unreached(batch: Batch) -> Iterator[Assumption]:
    """What is assumed of pick-ups whose reach is not known.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    Assumption
        One for each such fresh tank.
    """
    for name, tank in batch.plan.tanks.items():
        if tank.holds == "fresh" and tank_reach(batch, name).how == "assumed":
            yield Assumption(
                f"reach.{name}",
                say(
                    "The pick-up of the {tank} is taken to leave {share} of it.",
                    tank=name,
                    share=Amount(UNREACHED, SHARE, 2),
                ),
                "Draw the tank down until the pump sucks air and measure what is left.",
                "common practice",
                f"tanks.{name}.out_of_reach",
            )
