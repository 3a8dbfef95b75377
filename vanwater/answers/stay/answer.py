"""How many days the van can stay out, what ends the stay, and what would make it longer.

Days are plain quotients of what a store gives or takes and its steady daily mean; the range combines the unsure
inputs, one at a time, by root-sum-square. All of them and all remedies are rows of one batch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cautions import DRINKING_WATER, ESTIMATE, GREY_WATER, WEIGHT
from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.spread import spread
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import CHARGING, LOADS, RUN_OFF, assumed, habits, rows_of
from vanwater.answers.core.working import Step, shown
from vanwater.answers.stay.battery import battery_store
from vanwater.answers.stay.findings import OnTheWay, on_the_way, stay_findings, unreached
from vanwater.answers.stay.stores import StoreDays, UseADay, ended, store_days, uses_a_day
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, STAY, Array
from vanwater.system.batch import Batch, Row, Unsure, low_and_high
from vanwater.system.stores import moved, stores

__all__ = ["Autonomy", "autonomy"]


@dataclass(frozen=True, kw_only=True, eq=False)
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
    lengthened = tuple(on_the_way(every, pairs)) if filled else ()
    wanted = plan.household.days_wanted
    order = tuple(sorted(uses.values(), key=lambda use: -float(use.fresh.value.ravel()[0])))
    return Autonomy(
        verdict=_verdict(stay, every),
        decided=bool(every) and bool(plan.uses),
        make_tables=partial(_tables, plan, every, order, lengthened),
        findings=worst_first(stay_findings(plan, batch, stay, every, order, least)),
        make_numbers=partial(_numbers, stay, every, order, least),
        assumptions=(*_assumptions(batch, unsure), *unreached(batch)),
        cautions=(DRINKING_WATER, GREY_WATER, WEIGHT, ESTIMATE),
        stay=stay,
        stores=tuple(every),
        uses=order,
        on_the_way=lengthened,
        wanted=wanted,
    )


def _verdict(stay: Range, every: Sequence[StoreDays]) -> Say:
    if not every:
        return say("How long the van can stay out is not decided yet: it has no tank.")
    if not np.isfinite(stay.likely):
        return say("Nothing in the plan ends the stay.")
    return say("{event} first, after {stay}.", event=ended(every[0], every), stay=stay)


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
