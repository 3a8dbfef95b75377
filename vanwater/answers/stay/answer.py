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
from vanwater.answers.core.slope import slope_assumptions, slope_pairs, slope_rows
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import CHARGING, LOADS, RUN_OFF, assumed, habits, pads_on, rows_of
from vanwater.answers.stay.days import Days, days_of, numbers_of
from vanwater.answers.stay.findings import stay_findings, unreached
from vanwater.answers.stay.laid_up import laid_up_findings, laid_up_verdict
from vanwater.answers.stay.remedies import OnTheWay, on_the_way
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
    batch : Batch
        The plan with its rows.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand among them.
    """

    days: Number
    stores: tuple[StoreDays, ...]
    uses: tuple[UseADay, ...]
    fresh: Number
    on_the_way: tuple[OnTheWay, ...]
    wanted: float | None
    batch: Batch
    pairs: Sequence[UnsureRows]


def stay(plan: Plan) -> Stay:
    """Days off-grid of a plan, store by store.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Stay
        Stores that are not decided are told in the findings. The same object at every call.
    """
    return plan.once("stay", lambda: _stay(plan))


def _stay(plan: Plan) -> Stay:
    unsure = (habits(plan), RUN_OFF, LOADS, CHARGING, *pads_on(plan))
    halved = [Row(f"half {name}", {f"uses.{name}.a_day": use.a_day / 2}) for name, use in plan.uses.items()]
    slopes = slope_rows(plan)
    batch = Batch(plan, [*low_and_high(unsure), *slopes, *halved])
    off_level = slope_pairs(batch, slopes)
    pairs = [*rows_of(batch, unsure), *off_level]
    days = days_of(batch, pairs)
    decided = any(np.isfinite(store.days.likely) for store in days.stores)
    lengthened = tuple(on_the_way(days.stores, pairs)) if decided else ()
    return Stay(
        verdict=laid_up_verdict(days) if plan.water.drained else _verdict(days),
        decided=plan.water.drained
        or any(not np.isnan(each.stay.likely) for each in (days, *days.with_habits.values())),
        make_tables=partial(_tables, days, lengthened),
        findings=worst_first(
            laid_up_findings(plan, days)
            if plan.water.drained
            else stay_findings(plan, batch, days, lengthened, off_level)
        ),
        make_numbers=partial(numbers_of, days),
        assumptions=(*_assumptions(batch, unsure), *slope_assumptions(plan), *unreached(batch)),
        days=days.stay,
        stores=days.stores,
        uses=days.uses,
        fresh=days.fresh,
        on_the_way=lengthened,
        wanted=plan.household.days_wanted,
        batch=batch,
        pairs=pairs,
    )


def _known(days: Days) -> bool:
    """Whether the days are known, or those of any ready habits."""
    return any(not np.isnan(each.stay.likely) for each in (days, *days.with_habits.values()))


def _verdict(days: Days) -> Say:
    if days.with_habits:
        return _span(days)
    if not days.stores:
        return say("How long the van can stay out is not decided yet: it has no tank.")
    if days.unsaid:
        return say("How long the van can stay out is not decided yet: it is not said which tank some uses mean.")
    if np.isnan(days.stay.likely):
        return say("How long the van can stay out is not decided yet.")
    first = days.stores[0]
    if first.uncharged is not None and first.days.balanced and days.stay.balanced:
        return say(
            "The battery is about balanced on a mean day; without any charge it lasts {days}.", days=first.uncharged
        )
    if not np.isfinite(days.stay.likely):
        return say("Nothing in the plan ends the stay.")
    if first.uncharged is not None and first.days.balanced:
        return say(
            "{event} first, after {stay}: on a mean day it is about balanced, without any charge it lasts {days}.",
            event=ended(first, days.stores),
            stay=days.stay,
            days=first.uncharged,
        )
    return say("{event} first, after {stay}.", event=ended(first, days.stores), stay=days.stay)


def _span(days: Days) -> Say:
    """From the shortest to the longest stay of the ready habits."""
    known = {habit: other.stay for habit, other in days.with_habits.items() if np.isfinite(other.stay.likely)}
    if len(known) < len(days.with_habits):
        return say("How long the van can stay out is not decided yet: what water is used for is not said.")
    short, long = (end(known, key=lambda habit: known[habit].likely) for end in (min, max))
    return say(
        "The van can stay out {short} with {thirsty} habits, {long} with {sparing} ones; which of them is not decided.",
        short=known[short].rounded(2),
        thirsty=short,
        long=known[long].rounded(2),
        sparing=long,
    )


def _assumptions(batch: Batch, unsure: Sequence[Unsure]) -> tuple[Assumption, ...]:
    battery = batch.plan.battery is not None
    return assumed(bounds for bounds in unsure if battery or bounds not in (LOADS, CHARGING))


def _tables(days: Days, on_the_way: Sequence[OnTheWay]) -> Iterator[Table]:
    every, uses = days.stores, days.uses
    if days.with_habits:
        yield Table(
            "habits",
            say("How long the stay is with each of the ready habits."),
            (Column("habits"), Column("fresh water", DAILY_VOLUME), Column("stay"), Column("ends it")),
            tuple(
                (habit, other.fresh.amount, other.stay.shown, ended(other.stores[0], other.stores))
                for habit, other in days.with_habits.items()
            ),
        )
        return
    water = [store for store in every if store.holds != "battery"]
    yield Table(
        "stores",
        say("How long each store lasts alone, the one that ends the stay first."),
        (Column("store"), Column("holds"), Column("usable"), Column("a day"), Column("lasts alone", STAY)),
        tuple(
            (
                store.name,
                store.holds,
                store.usable.amount,
                store.a_day.amount,
                say("balanced on a mean day") if store.days.balanced else store.days.shown,
            )
            for store in every
        ),
        _beside(every),
    )
    if uses and water:
        yield Table(
            "uses",
            say("What each use takes and gives back a day, the largest first."),
            (
                Column("use"),
                Column("fresh", DAILY_VOLUME),
                Column("from"),
                Column("back", DAILY_VOLUME),
                Column("into"),
            ),
            (
                *(
                    (use.name, use.fresh.amount, _source(use), use.back.amount, _sink(use))
                    for use in uses
                    if use.fresh.likely > 0 or use.back.likely > 0
                ),
                ("all", days.fresh.amount, "", days.back.amount, ""),
            ),
            say("{litres} a person.", litres=days.a_person.amount),
        )
    yield Table(
        "on the way",
        say("What emptying or filling a store once on the way makes of the stay."),
        (Column("once on the way"), Column("stay", STAY), Column("then ends it")),
        tuple(
            (
                say(
                    "refill {store}" if way.holds == "fresh" else "empty {store}",
                    store=next(store.tanks for store in every if store.name == way.store),
                ),
                way.stay.shown,
                way.ends,
            )
            for way in on_the_way
        ),
    )


def _beside(every: Sequence[StoreDays]) -> Say | None:
    """What belongs under the days of the stores."""
    uncharged = next((store.uncharged for store in every if store.uncharged is not None), None)
    first = "The stay ends with whichever is first, so its range may lie lower than that of one store alone."
    words = [first] * (len(every) > 1)
    words += ["Without any charge the battery lasts {days}."] * (uncharged is not None)
    given: dict[str, Given] = {} if uncharged is None else {"days": uncharged}
    for place, store in enumerate(store for store in every if len(store.tanks) > len(store.name.split(" + "))):
        words.append(f"The row {{store{place}}} counts {{tanks{place}}} together.")
        given |= {f"store{place}": store.name, f"tanks{place}": store.tanks}
    return say(" ".join(words), **given) if words else None


def _source(use: UseADay) -> str:
    if not use.fresh.likely > 0:
        return ""
    return use.source or ("not said" if "fresh" in use.unsaid else "no tank")


def _sink(use: UseADay) -> str:
    return use.sink or ("not said" if use.unsaid - {"fresh"} else "outside")
