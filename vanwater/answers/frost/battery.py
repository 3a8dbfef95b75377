"""What the pads take from the battery on a cold day, and how long it lasts with all that lives on it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Count, say
from vanwater.answers.core.working import limit, stated
from vanwater.answers.frost.cold import Cold
from vanwater.answers.frost.pads import PadFrost
from vanwater.answers.stay.answer import stay
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_ENERGY, DAY, STAY
from vanwater.system.day import pads_of_day

__all__ = ["PadsADay", "nights"]


@dataclass(frozen=True, eq=False)
class PadsADay:
    """What the pads that it feeds take from the battery.

    Parameters
    ----------
    cold : Cold
        The solved plan, which has a battery and a pad that it feeds.
    pads : mapping of str to PadFrost
        The pads of each tank; a pad on one of which the plan does not say enough counts as always on.
    """

    cold: Cold
    pads: Mapping[str, PadFrost]

    @cached_property
    def energy(self) -> Number:
        """Energy a day at the mean cold, over the hours of all states."""
        each = [told for told in pads_of_day(self.cold.batch).of("pad") if np.any(told[1] > 0.0)]
        drawn = [number for pad in self.pads.values() for number in pad.drawn.values()]
        return stated(
            "taken from the battery by the pads a day",
            np.sum([np.zeros(len(self.cold.batch)), *(energy for _, energy in each)], axis=0),
            DAILY_ENERGY,
            "The draw of the pads that it feeds, at the mean cold, over the hours of all states of the day.",
            parts=[(consumer.label, (energy, DAILY_ENERGY)) for consumer, energy in each],
            facts=[(draw.name, draw) for draw in drawn],
            source="heat balance at the mean temperature of the day",
        ).keyed("battery", "pads_a_day", pairs=self.cold.pairs, least=0.0)

    @cached_property
    def lasts(self) -> Number | None:
        """How long a full battery lasts with all its loads and nothing put back; None where that is not decided."""
        store = next((store for store in stay(self.cold.plan).stores if store.holds == "battery"), None)
        if store is None:
            return None
        return store.days if store.uncharged is None else store.uncharged


def nights(cold: Cold, day: PadsADay | None) -> Finding:
    """Whether the battery feeds the pads for the nights that are wanted.

    Parameters
    ----------
    cold : Cold
        The solved plan, which has pads.
    day : PadsADay or None
        What they take from the battery; None where it feeds none or is not planned.

    Returns
    -------
    Finding
        Judged by the stay's own days without a charge.
    """
    key = "frost.nights"
    if day is None:
        return _no_day(cold.plan, key)
    lasts = day.lasts
    if lasts is None or math.isnan(lasts.likely):
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("How many nights the battery lasts with all that lives on it is not decided."),
            change=say("Give {line}, and what water is used for.", line="battery.other_loads"),
            address="battery.other_loads",
        )
    count = cold.plan.frost.nights
    wanted = limit("nights without a charge", count * DAY, STAY, "the plan", digits=2)
    verdict = judge(lasts.shown, wanted.amount, "at least")
    return Finding(
        key,
        verdict,
        say(
            "Without any charge the battery lasts {lasts}, the pads' {energy} at the mean of {mean} counted; {wanted} "
            "without a charge are planned.",
            lasts=lasts,
            energy=day.energy,
            mean=cold.mean,
            wanted=Count(count, "night"),
        ),
        value=lasts.shown,
        limit=wanted.amount,
        change=None
        if verdict is Verdict.FINE
        else say("Charge on the way, take a larger battery or less from it, foam the cold faces, or drain the tanks."),
        address="battery.charge",
        source="heat balance at the mean temperature of the day; sum of the loads",
        bound="at least",
    )


def _no_day(plan: Plan, key: str) -> Finding:
    """The finding on pads that take nothing from a battery: it is not planned, or does not feed them."""
    fed = next((name for name, pad in plan.pads.items() if pad.fed == "battery"), "")
    if not fed:
        return Finding(
            key,
            Verdict.FINE,
            say("The battery feeds no pad; they work on the road or at a socket."),
            address=f"pads.{next(iter(plan.pads))}.fed",
            source="the plan's own word",
        )
    if "battery" in plan.van.without:
        return Finding(
            key,
            Verdict.FAILS,
            say("The van is built without a battery, and the {pad} is fed by one.", pad=fed),
            change=say(
                "Give the battery; a pad that works on the road alone is {road}, at a socket alone {socket}.",
                road='fed = "engine"',
                socket='fed = "shore"',
            ),
            address=f"pads.{fed}.fed",
            source="the plan's own word",
        )
    return Finding(
        key,
        Verdict.NOT_DECIDED,
        say("How many nights the battery feeds the pads is not decided."),
        change=say("Give the battery, or no pads on it."),
        address="battery",
    )
