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
from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import CHARGING, LOADS, RUN_OFF, assumed, habits, rows_of
from vanwater.answers.stay.days import Days, days_of, numbers_of
from vanwater.answers.stay.findings import OnTheWay, on_the_way, stay_findings, unreached
from vanwater.answers.stay.stores import StoreDays, UseADay, ended
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, STAY
from vanwater.system.batch import Batch, Row, Unsure, low_and_high

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
    days = days_of(batch, pairs)
    decided = any(np.isfinite(store.days.likely) for store in days.stores)
    lengthened = tuple(on_the_way(days.stores, pairs)) if decided else ()
    return Stay(
        verdict=_verdict(days),
        decided=bool(days.stores) and bool(plan.uses),
        make_tables=partial(_tables, days, lengthened),
        findings=worst_first(stay_findings(plan, batch, days, lengthened)),
        make_numbers=partial(numbers_of, days),
        assumptions=(*_assumptions(batch, unsure), *unreached(batch)),
        days=days.stay,
        stores=days.stores,
        uses=days.uses,
        fresh=days.fresh,
        on_the_way=lengthened,
        wanted=plan.household.days_wanted,
    )


def _verdict(days: Days) -> Say:
    if not days.stores:
        return say("How long the van can stay out is not decided yet: it has no tank.")
    if not np.isfinite(days.stay.likely):
        return say("Nothing in the plan ends the stay.")
    return say("{event} first, after {stay}.", event=ended(days.stores[0], days.stores), stay=days.stay)


def _assumptions(batch: Batch, unsure: Sequence[Unsure]) -> tuple[Assumption, ...]:
    battery = batch.plan.battery is not None
    return assumed(one for one in unsure if battery or one not in (LOADS, CHARGING))


def _tables(days: Days, on_the_way: Sequence[OnTheWay]) -> Iterator[Table]:
    every, uses = days.stores, days.uses
    water = [store for store in every if store.holds != "battery"]
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
                ("all", days.fresh.amount, days.back.amount, ""),
            ),
            say("{litres} a person.", litres=days.a_person.amount),
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
