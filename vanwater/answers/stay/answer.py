"""How many days the van can stay out, what ends the stay, and what would make it longer.

Days are plain quotients of what a store gives or takes and its steady daily mean; the range combines the unsure
inputs, one at a time, by root-sum-square. All of them and all remedies are rows of one batch.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cautions import DRINKING_WATER, ESTIMATE, GREY_WATER, WEIGHT
from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import CHARGING, LOADS, RUN_OFF, assumed, habits, rows_of
from vanwater.answers.core.working import stated
from vanwater.answers.stay.battery import battery_store
from vanwater.answers.stay.findings import OnTheWay, on_the_way, stay_findings, unreached
from vanwater.answers.stay.stores import StoreDays, UseADay, ended, store_days, uses_a_day
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, STAY, Array
from vanwater.system.batch import Batch, Row, Unsure, low_and_high
from vanwater.system.stores import moved, stores

__all__ = ["Stay", "stay"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Stay(Answer):
    """The answer on days off-grid.

    Parameters
    ----------
    days : Number
        How long the van can stay out [s].
    stores : tuple of StoreDays
        The stores, the one that ends the stay first.
    uses : tuple of UseADay
        What each use takes a day, the largest first.
    fresh : Number
        What all uses take a day [m³/s].
    on_the_way : tuple of OnTheWay
        What a dump or a refill once on the way makes of it.
    wanted : float or None
        Days wanted [s].
    """

    days: Number
    stores: tuple[StoreDays, ...]
    uses: tuple[UseADay, ...]
    fresh: Number
    on_the_way: tuple[OnTheWay, ...]
    wanted: float | None


def stay(plan: Plan) -> Stay:
    """Days off-grid of a plan, store by store.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Stay
        Stores that are not decided are told in the findings.
    """
    unsure = (habits(plan), RUN_OFF, LOADS, CHARGING)
    halved = [Row(f"half {name}", {f"uses.{name}.a_day": use.a_day / 2}) for name, use in plan.uses.items()]
    batch = Batch(plan, [*low_and_high(unsure), *halved])
    pairs = rows_of(batch, unsure)
    uses = uses_a_day(moved(batch), pairs)
    every = [store_days(store, uses, pairs) for store in stores(batch)]
    battery = battery_store(batch, moved(batch), pairs)
    if battery is not None:
        every.append(battery)
    every.sort(key=lambda store: store.days.likely)
    decided = any(np.isfinite(store.days.likely) for store in every)
    days = _days(every, len(batch)).keyed("stay", "days", pairs=pairs, least=0.0)
    lengthened = tuple(on_the_way(every, pairs)) if decided else ()
    order = tuple(sorted(uses.values(), key=lambda use: -use.fresh.likely))
    fresh, back = _all(order, "fresh", len(batch), pairs), _all(order, "back", len(batch), pairs)
    a_person = stated(
        "fresh water a person and day",
        fresh.value / batch.number("household.people"),
        DAILY_VOLUME,
        "Fresh water of all uses a day, divided by the people.",
        facts=[(fresh.name, fresh), ("people", str(plan.household.people))],
        source="quotient of daily means",
    ).keyed("person", "fresh_a_day", pairs=pairs)
    return Stay(
        verdict=_verdict(days, every),
        decided=bool(every) and bool(plan.uses),
        make_tables=partial(_tables, every, order, (fresh, back, a_person), lengthened),
        findings=worst_first(stay_findings(plan, batch, days, every, order, a_person, lengthened)),
        make_numbers=partial(_numbers, days, every, order),
        assumptions=(*_assumptions(batch, unsure), *unreached(batch)),
        cautions=(DRINKING_WATER, GREY_WATER, WEIGHT, ESTIMATE),
        days=days,
        stores=tuple(every),
        uses=order,
        fresh=fresh,
        on_the_way=lengthened,
        wanted=plan.household.days_wanted,
    )


def _days(every: Sequence[StoreDays], rows: int) -> Number:
    least = np.min([store.days.value for store in every], axis=0) if every else np.full(rows, np.nan)
    return stated(
        "days off-grid",
        least,
        STAY,
        "The smallest of the stores' days; the range combines what each unsure input moves, one at a time, by "
        "root-sum-square.",
        facts=[(store.name, store.days) for store in every],
        source="quotients of steady daily means",
    )


def _all(uses: Sequence[UseADay], side: str, rows: int, pairs: Sequence[UnsureRows]) -> Number:
    """What all uses take, or give back, a day."""
    each = [(use.name, getattr(use, side)) for use in uses]
    total: Array = np.sum([number.value for _, number in each], axis=0) if each else np.zeros(rows)
    name = "fresh water a day" if side == "fresh" else "back a day"
    added = stated(name, total, DAILY_VOLUME, "The uses add up.", parts=each, source="sum of the uses")
    return added.keyed("uses", f"{side}_a_day", pairs=pairs)


def _verdict(days: Number, every: Sequence[StoreDays]) -> Say:
    if not every:
        return say("How long the van can stay out is not decided yet: it has no tank.")
    if not np.isfinite(days.likely):
        return say("Nothing in the plan ends the stay.")
    return say("{event} first, after {stay}.", event=ended(every[0], every), stay=days)


def _assumptions(batch: Batch, unsure: Sequence[Unsure]) -> tuple[Assumption, ...]:
    battery = batch.plan.battery is not None
    return assumed(one for one in unsure if battery or one not in (LOADS, CHARGING))


def _numbers(days: Number, every: Sequence[StoreDays], uses: Sequence[UseADay]) -> Iterator[Number]:
    if every:
        yield days
    for store in every:
        yield from (store.days, store.usable, store.a_day)
    for use in uses:
        yield from (use.fresh, use.back)


def _tables(
    every: Sequence[StoreDays],
    uses: Sequence[UseADay],
    totals: tuple[Number, Number, Number],
    on_the_way: Sequence[OnTheWay],
) -> Iterator[Table]:
    water = [store for store in every if store.holds != "battery"]
    fresh, back, a_person = totals
    yield Table(
        "stores",
        say("How long each store lasts, the one that ends the stay first."),
        (Column("store"), Column("holds"), Column("usable"), Column("a day"), Column("lasts", STAY)),
        tuple((store.name, store.holds, store.usable.amount, store.a_day.amount, store.days.shown) for store in every),
        say("The stay ends with whichever is first, so its range may reach lower than that of one store alone.")
        if len(every) > 1
        else None,
    )
    if uses and water:
        yield Table(
            "uses",
            say("What each use takes and gives back a day, the largest first."),
            (Column("use"), Column("fresh", DAILY_VOLUME), Column("back", DAILY_VOLUME), Column("into")),
            (
                *(
                    (use.name, use.fresh.amount, use.back.amount, use.sink or "outside")
                    for use in uses
                    if use.fresh.likely > 0 or use.back.likely > 0
                ),
                ("all", fresh.amount, back.amount, ""),
            ),
            say("{litres} a person.", litres=a_person.amount),
        )
    yield Table(
        "on the way",
        say("What emptying or filling a store once on the way makes of the stay."),
        (Column("once on the way"), Column("stay", STAY), Column("then ends it")),
        tuple(
            (
                say("refill {store}" if way.holds == "fresh" else "empty {store}", store=way.store),
                way.stay.shown,
                way.ends,
            )
            for way in on_the_way
        ),
    )
