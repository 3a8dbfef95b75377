"""The charts of the stay: days of each store, what is left in them day by day, litres by use."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Role, Rule
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.stay.answer import Stay
from vanwater.answers.stay.stores import StoreDays, ended
from vanwater.quantities import DAILY_VOLUME, DAY, SHARE, STAY

__all__ = ["days_of_stores", "levels", "litres_by_use"]

_ROLES: dict[str, Role] = {
    "fresh": "fresh",
    "grey": "grey",
    "urine": "urine",
    "cassette": "urine",
    "battery": "battery",
}
_MOST_STORES = 5
_FOREVER = 1000 * 365 * 86400.0  # s: what lasts longer is drawn as lasting for ever, not at all
_ENDS = (0.5, 1, 2, 3, 5, 7, 10, 14, 21, 30, 50, 70, 100, 150, 200, 300, 500, 700, 1000)  # days
_DROP = 1e-9 / 86400.0  # m³/s: less than a drop a day is not drawn


def days_of_stores(answer: Stay) -> Chart | None:
    """How long each store lasts, with its range, and what a stop on the way adds to the stay.

    Parameters
    ----------
    answer : Stay
        The answer on days off-grid.

    Returns
    -------
    Chart or None
        None while no store runs out.
    """
    every = sorted(answer.stores, key=partial(_place, list(answer.batch.plan.tanks)))
    if not any(store.days.likely < _FOREVER for store in every):
        return None
    first = answer.stores[0]
    names = tuple(store.name for store in every)
    notes = tuple(_how(store) if store is first else "" for store in every)
    roles = tuple(_ROLES[store.holds] for store in every)
    stops = {way.store: way.stay for way in answer.on_the_way if np.isfinite(way.stay.likely)}
    lasts = Bars.of(roles, names, [store.days for store in every], say("as planned"))
    bars = [replace(lasts, notes=notes)]
    if stops:
        numbers = tuple(stops.get(store.name, store.days) for store in every)
        ends = np.array([number.likely for number in numbers])
        label = say("the stay with one stop to {do} it", do=_stop(answer))
        bars.append(Bars(roles, names, ends, lasts.values, label=label, numbers=numbers, pale=True))
    rules = [] if answer.wanted is None else [Rule("stay wanted", x=answer.wanted)]
    end = _scale(answer, [store.days for store in every])
    return Chart(
        "stores",
        _title(answer),
        Axis("days out", STAY, low=0.0, high=end, firm=True),
        Axis("store"),
        (*bars, *rules),
        say("How long each store lasts. {all}.", all=tuple(_lasting(answer))),
    )


def _place(tanks: list[str], store: StoreDays) -> int:
    """Stores in the plan's own order, the battery last, so that none changes its place while a value moves."""
    return min((tanks.index(tank) for tank in store.tanks), default=len(tanks))


def _how(store: StoreDays) -> Say:
    """How a store ends the stay."""
    return say("empty first" if store.holds in ("fresh", "battery") else "full first")


def _stop(answer: Stay) -> str:
    """What is done on the way."""
    holds = {way.holds for way in answer.on_the_way}
    return " or ".join(do for do, there in (("refill", "fresh" in holds), ("empty", holds - {"fresh"})) if there)


def _title(answer: Stay) -> Say:
    first = answer.stores[0]
    if not np.isfinite(answer.days.likely) or answer.days.balanced:
        return say("{what}", what=answer.verdict)
    return say("{event} first", event=ended(first, answer.stores))


def _scale(answer: Stay, days: Sequence[Number]) -> float:
    """Where the axis of days ends: a round number of days, so that it stays while a value moves a little [s]."""
    finite = [number for number in days if number.likely < _FOREVER]
    likely = answer.days.likely if np.isfinite(answer.days.likely) else min(number.likely for number in finite)
    wanted = answer.wanted or 0.0
    highest = max((number.range or (0.0, number.likely))[1] for number in finite)
    wants = max(1.5 * wanted, 1.4 * likely, min(highest, 2.0 * max(wanted, likely)))
    return next((days * DAY for days in _ENDS if days * DAY >= wants), wants)


def levels(answer: Stay) -> Chart | None:
    """What is left in each store day by day, with its range.

    Parameters
    ----------
    answer : Stay
        The answer on days off-grid.

    Returns
    -------
    Chart or None
        None while no store runs out.
    """
    stores = [store for store in answer.stores if store.days.likely < _FOREVER][:_MOST_STORES]
    if not stores:
        return None
    end = _scale(answer, [store.days for store in stores])
    time = np.linspace(0.0, end, 89)
    draws: list[Line | Rule] = []
    for store in stores:
        left, low, high = (
            np.clip(1.0 - time / max(days, 1.0), 0.0, 1.0) if np.isfinite(days) else np.ones_like(time)
            for days in (store.days.likely, *(store.days.range or (store.days.likely, store.days.likely)))
        )
        stop = min(store.days.likely, end)
        last = np.append(time[time < stop], stop)
        draws.append(
            Line(
                _ROLES[store.holds],
                last,
                np.interp(last, time, left),
                say("{name}", name=store.name),
                np.interp(last, time, low),
                np.interp(last, time, high),
            )
        )
    if answer.wanted is not None:
        draws.append(Rule("stay wanted", x=answer.wanted))
    return Chart(
        "levels",
        say("{what}", what=answer.verdict),
        Axis("time out", STAY, low=0.0, high=end),
        Axis("left in the store", SHARE, low=0.0, high=1.0),
        tuple(draws),
        say("What is left in each store falls from full to empty. {all}.", all=tuple(_lasting(answer))),
    )


def _lasting(answer: Stay) -> Iterator[Say]:
    for store in answer.stores[:_MOST_STORES]:
        yield say("{name} lasts {days}", name=store.name, days=store.days)


def litres_by_use(answer: Stay) -> Chart | None:
    """Fresh water a day by use, the largest first.

    Parameters
    ----------
    answer : Stay
        The answer on days off-grid.

    Returns
    -------
    Chart or None
        None while no use draws fresh water.
    """
    uses = [use for use in answer.uses if use.fresh.likely > _DROP]
    if not uses:
        return None
    return Chart(
        "uses",
        say(
            "Most goes into {use}, {litres} of {all}",
            use=uses[0].name,
            litres=uses[0].fresh.amount,
            all=answer.fresh.amount,
        ),
        Axis("fresh water", DAILY_VOLUME),
        Axis("use"),
        (Bars.of("fresh", tuple(use.name for use in uses), [use.fresh for use in uses]),),
        say("Fresh water a day by use, the largest first."),
    )
