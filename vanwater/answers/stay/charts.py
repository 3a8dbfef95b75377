"""The charts of the stay: stores running out, litres by use."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Role, Rule
from vanwater.answers.core.statement import Say, say
from vanwater.answers.stay.answer import Stay
from vanwater.quantities import DAILY_VOLUME, SHARE, STAY

__all__ = ["litres_by_use", "stores_running_out"]

_ROLES: dict[str, Role] = {
    "fresh": "fresh",
    "grey": "grey",
    "urine": "urine",
    "cassette": "urine",
    "battery": "battery",
}
_MOST_STORES = 5
_FOREVER = 1000 * 365 * 86400.0  # s: what lasts longer is drawn as lasting for ever, not at all
_DROP = 1e-9 / 86400.0  # m³/s: less than a drop a day is not drawn


def stores_running_out(answer: Stay) -> Chart | None:
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
    longest = max(store.days.likely for store in stores)
    end = 1.1 * min(longest, max(3.0 * answer.days.likely, answer.wanted or 0.0))
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
        "stores",
        say("{what}", what=answer.verdict),
        Axis("time out", STAY, low=0.0, high=end),
        Axis("left in the store", SHARE, low=0.0, high=1.0),
        tuple(draws),
        say("What is left in each store falls from full to empty. {all}", all=tuple(_lasting(answer))),
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
