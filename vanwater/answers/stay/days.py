"""Days of all stores of a van along the rows of a batch, and what a day takes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import stated
from vanwater.answers.stay.battery import battery_store
from vanwater.answers.stay.stores import StoreDays, UseADay, store_days, uses_a_day
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
    """

    stay: Number
    stores: tuple[StoreDays, ...]
    uses: tuple[UseADay, ...]
    fresh: Number
    back: Number
    a_person: Number


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
        Stores that are not decided are left out.
    """
    moves = moved(batch)
    uses = uses_a_day(moves, pairs)
    every = [store_days(store, uses, pairs) for store in stores(batch)]
    battery = battery_store(batch, moves, pairs)
    if battery is not None:
        every.append(battery)
    every.sort(key=lambda store: store.days.likely)
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
    stay = _days(every, len(batch)).keyed("stay", "days", pairs=pairs, least=0.0)
    return Days(stay, tuple(every), order, fresh, back, a_person)


def numbers_of(days: Days) -> Iterator[Number]:
    """Every number of it."""
    if days.stores:
        yield days.stay
    for store in days.stores:
        yield from (store.days, store.usable, store.a_day)
    for use in days.uses:
        yield from (use.fresh, use.back)
    if days.uses:
        yield from (days.fresh, days.back, days.a_person)


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
