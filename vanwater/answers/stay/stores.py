"""Days of one store: what it gives or takes, what each use moves a day, the quotient."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.key import Key
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import stated, step
from vanwater.physics import demand
from vanwater.plan.tanks import label_of
from vanwater.quantities import DAILY_VOLUME, VOLUME, Array
from vanwater.system.stores import Moved, Store

__all__ = ["StoreDays", "UseADay", "drained", "ended", "key_of", "store_days", "uses_a_day"]


@dataclass(frozen=True, slots=True, eq=False)
class UseADay:
    """What one use takes and gives back a day.

    Parameters
    ----------
    name : str
        The use.
    fresh, back : Number
        Fresh water drawn, and what comes back to a store [m³/s].
    source, sink : str
        The stores it draws from and runs into; empty for none.
    unsaid : frozenset of str
        What it draws or gives while it is not said which of several stores of that is meant.
    """

    name: str
    fresh: Number
    back: Number
    source: str
    sink: str
    unsaid: frozenset[str]


@dataclass(frozen=True, slots=True, eq=False)
class StoreDays:
    """How long a store lasts.

    Parameters
    ----------
    name : str
        The store.
    holds : str
        "fresh", "grey", "urine", "cassette" or "battery".
    tanks : tuple of str
        Its tanks; none for the battery.
    usable, a_day : Number
        What it gives or takes, and what goes out or in a day.
    days : Number
        How long it lasts [s].
    uncharged : Number, optional
        How long a battery lasts while nothing is put back [s].
    """

    name: str
    holds: str
    tanks: tuple[str, ...]
    usable: Number
    a_day: Number
    days: Number
    uncharged: Number | None = None

    @property
    def called(self) -> tuple[str, ...]:
        """What a sentence calls it: each tank that it is made of, as a tank."""
        return tuple(map(label_of, self.tanks)) or (self.name,)


def drained(usable: Number, a_day: Number) -> Array:
    """Share of a store that goes a second, below zero where it gains [1/s]: one over its days, as ranges need it."""
    given, goes = np.broadcast_arrays(usable.values, a_day.values)
    with np.errstate(over="ignore"):  # of next to nothing
        return np.asarray(np.divide(goes, given, out=np.where(goes > 0.0, np.inf, 0.0), where=given > 0.0))


def key_of(store: Store | StoreDays) -> Key:
    """What a store's numbers are called: a tank by its name, tanks that act as one by all of theirs."""
    if not store.tanks:
        return ("battery",)
    return ("tank" if len(store.tanks) == 1 else "tanks", store.name)


def uses_a_day(moves: Mapping[str, Moved], pairs: Sequence[UnsureRows]) -> dict[str, UseADay]:
    """What each use takes and gives back a day.

    Parameters
    ----------
    moves : mapping of str to Moved
        From :func:`vanwater.system.stores.moved`.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Returns
    -------
    dict of str to UseADay
        By use.
    """
    uses = {}
    for name, move in moves.items():
        off = step(f"run off at one {name}", demand.run_off, content=move.hot_content, factor=move.waiting)
        runs = off.values + move.starting
        fresh = step(
            f"fresh water for {name} a day",
            demand.daily_volume,
            event_volume=move.each + runs if np.any(runs) else move.each,
            events=move.events,
            persons=move.persons,
        ).keyed("use", name, "fresh_a_day", pairs=pairs)
        caught = bool(move.sink) or bool(move.unsaid - {"fresh"})
        back = step(
            f"back from {name} a day",
            demand.daily_grey,
            daily_volume=demand.daily_volume(move.each, move.events, move.persons),
            grey_share=move.returns if caught else np.zeros_like(move.returns),
            run_off=demand.daily_volume(runs + move.adds, move.events, move.persons) * float(caught),
        ).keyed("use", name, "back_a_day", pairs=pairs)
        unsaid = frozenset(holds for holds in move.unsaid if np.any((fresh if holds == "fresh" else back).values > 0.0))
        uses[name] = UseADay(name, fresh, back, move.source, move.sink, unsaid)
    return uses


def store_days(
    store: Store, uses: Mapping[str, UseADay], pairs: Sequence[UnsureRows], decided: bool = True
) -> StoreDays:
    """How long a store lasts.

    Parameters
    ----------
    store : Store
        With what it gives or takes.
    uses : mapping of str to UseADay
        What moves.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.
    decided : bool
        Whether the plan says what moves.

    Returns
    -------
    StoreDays
        Unlimited where nothing moves, not known where that is not decided.
    """
    fresh = store.holds == "fresh"
    parts = [
        (use.name, use.fresh if fresh else use.back)
        for use in uses.values()
        if store.name == (use.source if fresh else use.sink)
    ]
    parts = [(name, part) for name, part in parts if np.any(part.values > 0)]
    total: Array = np.sum([part.values for _, part in parts], axis=0) if parts else np.zeros_like(store.usable)
    total = total if decided else np.full_like(store.usable, np.nan)
    key = key_of(store)
    a_day = stated(
        f"{'drawn from' if fresh else 'into'} {store.name} a day",
        total,
        DAILY_VOLUME,
        "The uses add up." if decided else "Not decided: which uses count here is not said.",
        parts=parts,
        source="sum of the uses",
    ).keyed(*key, "a_day", pairs=pairs if decided else (), exact="" if decided else "not decided")
    usable = stated(
        f"what {store.name} {'gives' if fresh else 'takes'}",
        store.usable,
        VOLUME,
        "Content between pick-up and overflow as parked, all its tanks together."
        if fresh
        else "Room up to the overflow as parked, all its tanks together.",
        source="geometry of the tank, or its stated capacity",
    ).keyed(*key, "usable", pairs=pairs)
    days = step(f"days of {store.name}", demand.days, usable=usable, daily_net=a_day)
    if decided:
        days = days.keyed(*key, "days", pairs=pairs, rates=drained(usable, a_day))
    else:
        days = days.keyed(*key, "days", exact="not decided")
    return StoreDays(store.name, store.holds, store.tanks, usable, a_day, days)


def ended(store: StoreDays, every: Sequence[StoreDays], first: bool = True) -> Say:
    """What happens when a store ends the stay, as the beginning of a sentence or within one."""
    alone = sum(other.holds == store.holds for other in every) == 1
    words = {
        "fresh": "Fresh water runs out" if alone else "The fresh water in the {name} runs out",
        "grey": "The grey tank is full" if alone and len(store.tanks) > 1 else "The {name} is full",
        "urine": "The urine container is full" if alone else "The {name} is full",
        "cassette": "The toilet cassette is full" if alone else "The {name} is full",
        "battery": "The battery is empty",
    }[store.holds]
    words = words if first else words[0].lower() + words[1:]
    return say(words, name=store.called) if "{name}" in words else say(words)
