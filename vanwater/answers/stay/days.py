"""Days of all stores of a van along the rows of a batch, and what a day takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import stated
from vanwater.answers.stay.battery import battery_store
from vanwater.answers.stay.stores import StoreDays, UseADay, drained, store_days, uses_a_day
from vanwater.plan.tables import HABITS
from vanwater.quantities import DAILY_VOLUME, STAY, Array
from vanwater.system.batch import Batch
from vanwater.system.stores import moved, stores

__all__ = ["Days", "days_of", "numbers_of"]


@dataclass(frozen=True, slots=True, eq=False)
class Days:
    """How long the van can stay out, and what makes it so.

    Parameters
    ----------
    stay : Number
        The smallest of the stores' days [s].
    stores : tuple of StoreDays
        The stores, the one that ends the plan's stay first.
    uses : tuple of UseADay
        What each use takes a day, the plan's largest first.
    fresh, back : Number
        What all of them take and give back a day [m³/s].
    a_person : Number
        Fresh water a person and day [m³/s].
    with_habits : mapping of str to Days
        The same with each of the ready habits, while the plan has tanks and does not say what water is used for.
    """

    stay: Number
    stores: tuple[StoreDays, ...]
    uses: tuple[UseADay, ...]
    fresh: Number
    back: Number
    a_person: Number
    with_habits: Mapping[str, Days]

    @property
    def unsaid(self) -> Mapping[str, tuple[str, ...]]:
        """Uses of which it is not said which of several stores they mean, by what those hold."""
        kinds = sorted({holds for use in self.uses for holds in use.unsaid})
        return {holds: tuple(use.name for use in self.uses if holds in use.unsaid) for holds in kinds}


def days_of(batch: Batch, pairs: Sequence[UnsureRows] = ()) -> Days:
    """Work the days out.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand among them.

    Returns
    -------
    Days
        Those of a store are not known while it is not decided what is used, or from which store; a battery that
        is not decided is left out.
    """
    moves = moved(batch)
    uses = uses_a_day(moves, pairs)
    unsaid = {holds for use in uses.values() for holds in use.unsaid}
    every = [store_days(store, uses, pairs, bool(uses) and store.holds not in unsaid) for store in stores(batch)]
    battery = battery_store(batch, pairs)
    if battery is not None:
        every.append(battery)
    every.sort(key=lambda store: (np.isnan(store.days.likely), store.days.likely))
    order = tuple(sorted(uses.values(), key=lambda use: -use.fresh.likely))
    fresh, back = (_all(order, side, len(batch), pairs) for side in ("fresh", "back"))
    a_person = stated(
        "fresh water a person and day",
        fresh.values / batch.number("household.people"),
        DAILY_VOLUME,
        "Fresh water of all uses a day, divided by the people.",
        facts=[(fresh.name, fresh), ("people", str(batch.plan.household.people))],
        source="quotient of daily means",
    ).keyed("person", "fresh_a_day", pairs=pairs)
    stay = _days(every, len(batch)).keyed("stay", "days", pairs=pairs, rates=shortest(every))
    return Days(stay, tuple(every), order, fresh, back, a_person, _with_habits(batch, pairs) if not uses else {})


def shortest(every: Sequence[StoreDays], twice: str = "") -> Array | None:
    """One over the days of the store that ends the stay [1/s]; one of them may be filled or emptied twice."""
    each = [drained(store.usable, store.a_day) / (2.0 if store.name == twice else 1.0) for store in every]
    return np.max(each, axis=0) if each else None


def _with_habits(batch: Batch, pairs: Sequence[UnsureRows]) -> Mapping[str, Days]:
    """The days with each of the ready habits; none without a tank, or with all of them drained."""
    plan = batch.plan
    if not plan.tanks or plan.water.drained:
        return {}
    several = {}
    for habit in HABITS:
        days = days_of(Batch(plan.changed({"household.habits": habit}), batch.rows[1:]), pairs)
        stay = replace(days.stay, name=f"days off-grid with {habit} habits", key=("habits", habit, "days"))
        fresh = replace(days.fresh, key=("habits", habit, "fresh_a_day"))
        several[habit] = replace(days, stay=stay, fresh=fresh)
    return several


def numbers_of(days: Days) -> Iterator[Number]:
    """Every number of it."""
    if days.stores:
        yield days.stay
    for store in days.stores:
        yield from (store.days, store.usable, store.a_day)
        if store.uncharged is not None:
            yield store.uncharged
    for use in days.uses:
        yield from (use.fresh, use.back)
    if days.uses:
        yield from (days.fresh, days.back, days.a_person)
    for other in days.with_habits.values():
        yield from (other.stay, other.fresh)


def _days(every: Sequence[StoreDays], rows: int) -> Number:
    least = np.min([store.days.values for store in every], axis=0) if every else np.full(rows, np.nan)
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
    total: Array = np.sum([number.values for _, number in each], axis=0) if each else np.zeros(rows)
    name = "fresh water a day" if side == "fresh" else "back a day"
    added = stated(name, total, DAILY_VOLUME, "The uses add up.", parts=each, source="sum of the uses")
    return added.keyed("uses", f"{side}_a_day", pairs=pairs)
