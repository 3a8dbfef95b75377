"""How many days the van can stay out, what ends the stay, and what would make it longer.

Days are plain quotients of what a store gives or takes and its steady daily mean; the range combines the unsure
inputs, one at a time, by root-sum-square. All of them and all remedies are rows of one batch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.answer import Answer, Assumption, Column, Table
from vanwater.answers.battery import battery_store
from vanwater.answers.cautions import DRINKING_WATER, ESTIMATE, GREY_WATER, WEIGHT
from vanwater.answers.finding import Finding, Verdict, judge, worst_first
from vanwater.answers.spread import UnsureRows, spread
from vanwater.answers.store import StoreDays, UseADay, ended, store_days, uses_a_day
from vanwater.answers.unsure import CHARGING, LOADS, RUN_OFF, assumed, habits, rows_of
from vanwater.answers.wording import Amount, Range, Say, say
from vanwater.answers.working import Step, shown
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, SHARE, STAY, VOLUME, Array
from vanwater.system.batch import Batch, Row, Unsure, low_and_high
from vanwater.system.stores import UNREACHED, moved, stores, tank_reach

__all__ = ["Autonomy", "OnTheWay", "autonomy"]

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Autonomy(Answer):
    """The answer on days off-grid.

    Parameters
    ----------
    stay : Range
        How long the van can stay out [s].
    stores : tuple of StoreDays
        The stores, the one that ends the stay first.
    uses : tuple of UseADay
        What each use takes a day, the largest first.
    on_the_way : tuple of OnTheWay
        What a dump or a refill once on the way makes of it.
    wanted : float or None
        Days wanted [s].
    """

    stay: Range
    stores: tuple[StoreDays, ...]
    uses: tuple[UseADay, ...]
    on_the_way: tuple[OnTheWay, ...]
    wanted: float | None


def autonomy(plan: Plan) -> Autonomy:
    """Days off-grid of a plan, store by store.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Autonomy
        Stores that are not decided are told in the findings.
    """
    unsure = (habits(plan), RUN_OFF, LOADS, CHARGING)
    halved = [Row(f"half {name}", {f"uses.{name}.a_day": use.a_day / 2}) for name, use in plan.uses.items()]
    batch = Batch(plan, [*low_and_high(unsure), *halved])
    pairs = rows_of(batch, unsure)
    uses = uses_a_day(moved(batch))
    every = [store_days(store, uses, pairs) for store in stores(batch)]
    battery = battery_store(batch, moved(batch), pairs)
    if battery is not None:
        every.append(battery)
    every.sort(key=lambda store: float(store.step.value[0]))
    filled = [store for store in every if np.isfinite(store.step.value[0])]
    least = np.min([store.step.value for store in every], axis=0) if every else np.full(len(batch), np.nan)
    stay = spread(least, pairs, 0.0).range(STAY)
    on_the_way = tuple(_on_the_way(every, pairs)) if filled else ()
    wanted = plan.household.days_wanted
    order = tuple(sorted(uses.values(), key=lambda use: -float(use.fresh.value.ravel()[0])))
    return Autonomy(
        key="autonomy",
        title="Days off-grid",
        verdict=_verdict(stay, every),
        decided=bool(every) and bool(plan.uses),
        tables=tuple(_tables(plan, every, order, on_the_way)),
        findings=worst_first(_findings(plan, batch, stay, every, order, least)),
        numbers=_numbers(stay, every, order, least),
        assumptions=(*_assumptions(batch, unsure), *_unreached(batch)),
        cautions=(DRINKING_WATER, GREY_WATER, WEIGHT, ESTIMATE),
        stay=stay,
        stores=tuple(every),
        uses=order,
        on_the_way=on_the_way,
        wanted=wanted,
    )


def _on_the_way(every: Sequence[StoreDays], pairs: Sequence[UnsureRows]) -> Iterator[OnTheWay]:
    """What emptying or filling each store once makes of the stay; only those that lengthen it."""
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


def _verdict(stay: Range, every: Sequence[StoreDays]) -> Say:
    if not every:
        return say("How long the van can stay out is not decided yet: it has no tank.")
    if not np.isfinite(stay.likely):
        return say("Nothing in the plan ends the stay.")
    return say("{event} first, after {stay}.", event=ended(every[0], every), stay=stay)


def _findings(
    plan: Plan,
    batch: Batch,
    stay: Range,
    every: Sequence[StoreDays],
    uses: Sequence[UseADay],
    least: Array,
) -> Iterator[Finding]:
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
    """What makes the stay longer, and by how much."""
    first, wanted = every[0], plan.household.days_wanted
    then = next((one for one in _on_the_way(every, rows_of(batch, ())) if one.store == first.name), None)
    saved = [
        (use.name, float(least[batch.place(f"half {use.name}")] - least[0])) for use in uses if use.name not in NEEDED
    ]
    best = max(saved, key=lambda one: one[1], default=("", 0.0))
    half = say("halve the water for {use}", use=best[0]) if best[1] > 0.02 * stay.likely else None
    short = 0.0
    if wanted is not None and wanted > stay.likely:
        short = wanted * float(first.a_day.value[0]) - float(first.usable.value[0])
    if first.holds in ("fresh", "grey") and short > 0:
        litres = Amount(short, VOLUME, 2)
        more = "Carry {litres} more fresh water" if first.holds == "fresh" else "Hold {litres} more grey water"
        change = say(f"{more}, or {{half}}.", litres=litres, half=half) if half else say(f"{more}.", litres=litres)
        return change, say("the stay that is wanted; or {days} more", days=Amount(best[1], STAY, 2)) if half else None
    if first.holds == "battery":
        return say("Charge more, or heat less water from the battery."), None
    if first.holds in ("urine", "cassette") and then is not None:
        return say("Empty it once on the way."), say("{stay}", stay=Amount(then.stay.likely, STAY, 2))
    if half is None:
        return None, None
    return say("To stay longer, {half}.", half=half), say("{days} more", days=Amount(best[1], STAY, 2))


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


def _unreached(batch: Batch) -> Iterator[Assumption]:
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


def _assumptions(batch: Batch, unsure: Sequence[Unsure]) -> tuple[Assumption, ...]:
    battery = batch.plan.battery is not None
    return assumed(one for one in unsure if battery or one not in (LOADS, CHARGING))


def _numbers(stay: Range, every: Sequence[StoreDays], uses: Sequence[UseADay], least: Array) -> Mapping[str, Step]:
    found: dict[str, Step] = {}
    if every:
        found["autonomy.stay"] = shown(
            "days off-grid",
            stay,
            "The smallest of the stores' days; the range combines what each unsure input moves, one at a time, by "
            "root-sum-square.",
            facts=[(store.name, store.step) for store in every],
            value=least,
            source="quotients of steady daily means",
        )
    for store in every:
        found[f"autonomy.days.{store.name}"] = store.step
        found[f"autonomy.usable.{store.name}"] = store.usable
        found[f"autonomy.a_day.{store.name}"] = store.a_day
    for use in uses:
        found[f"autonomy.use.{use.name}"] = use.fresh
    return found


def _tables(
    plan: Plan, every: Sequence[StoreDays], uses: Sequence[UseADay], on_the_way: Sequence[OnTheWay]
) -> Iterator[Table]:
    water = [store for store in every if store.holds != "battery"]
    if every:
        yield Table(
            "stores",
            say("How long each store lasts, the one that ends the stay first."),
            (Column("store"), Column("holds"), Column("usable"), Column("a day"), Column("lasts", STAY)),
            tuple((store.name, store.holds, store.usable.result, store.a_day.result, store.days) for store in every),
            say("The stay ends with whichever is first, so its range may reach lower than that of one store alone.")
            if len(every) > 1
            else None,
        )
    if uses and water:
        total = [sum(float(np.ravel(getattr(use, side).value)[0]) for use in uses) for side in ("fresh", "back")]
        yield Table(
            "uses",
            say("What each use takes and gives back a day, the largest first."),
            (Column("use"), Column("fresh", DAILY_VOLUME), Column("back", DAILY_VOLUME), Column("into")),
            (
                *(
                    (use.name, use.fresh.result, use.back.result, use.sink or "outside")
                    for use in uses
                    if np.ravel(use.fresh.value)[0] > 0 or np.ravel(use.back.value)[0] > 0
                ),
                ("all", Amount(total[0], DAILY_VOLUME), Amount(total[1], DAILY_VOLUME), ""),
            ),
            say("{litres} a person.", litres=Amount(total[0] / plan.household.people, DAILY_VOLUME)),
        )
    if on_the_way:
        yield Table(
            "on the way",
            say("What emptying or filling a store once on the way makes of the stay."),
            (Column("once on the way"), Column("stay", STAY), Column("then ends it")),
            tuple(
                (
                    say("refill {store}" if one.holds == "fresh" else "empty {store}", store=one.store),
                    one.stay,
                    one.ends,
                )
                for one in on_the_way
            ),
        )
