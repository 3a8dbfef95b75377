"""A van that is laid up with its water drained: no stay is counted, but its battery has to last."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.stay.days import Days
from vanwater.plan.model import Plan
from vanwater.quantities import STAY

__all__ = ["laid_up_findings", "laid_up_verdict"]

_BEGUN = "Laid up, its water drained: no stay is counted"


def laid_up_verdict(days: Days) -> Say:
    """The answer in a sentence.

    Parameters
    ----------
    days : Days
        Those of its battery.

    Returns
    -------
    Say
        With what the battery lasts, where it is decided.
    """
    battery = next(iter(days.stores), None)
    if battery is None or np.isnan(battery.days.likely):
        return say(f"{_BEGUN}.")
    if battery.uncharged is not None and battery.days.balanced:
        return say(f"{_BEGUN}; without any charge the battery lasts {{days}}.", days=battery.uncharged)
    if not np.isfinite(battery.days.likely):
        return say(f"{_BEGUN}; nothing empties the battery.")
    return say(f"{_BEGUN}; the battery lasts {{days}}.", days=battery.days)


def laid_up_findings(plan: Plan, days: Days) -> Iterator[Finding]:
    """Whether the battery outlasts the time for which the van is laid up.

    Parameters
    ----------
    plan : Plan
        A plan whose water is drained.
    days : Days
        Those of its battery.

    Yields
    ------
    Finding
        None while either is not said, and where nothing empties the battery.
    """
    battery = next(iter(days.stores), None)
    if battery is None or plan.household.days_wanted is None or not np.isfinite(battery.days.likely):
        return
    wanted = planned(plan, "household.days_wanted", STAY)
    verdict = judge(battery.days.shown, wanted.amount, "at least")
    yield Finding(
        "stay.laid_up",
        verdict,
        say("Laid up, the battery lasts {days}; {wanted} are wanted.", days=battery.days, wanted=wanted),
        value=battery.days.shown,
        limit=wanted.amount,
        change=None
        if verdict is Verdict.FINE
        else say(
            "Switch everything off at the battery's main switch, or leave it on a charger that may charge it there."
        ),
        address="battery.other_loads",
        source="quotient of daily means",
        bound="at least",
    )
