"""Changes along a way in words, and what they bring."""

from __future__ import annotations

from dataclasses import dataclass

from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import BySystem, Count, Say, say
from vanwater.answers.core.working import planned, stated
from vanwater.plan.model import Plan
from vanwater.quantities import BORE, FLOW, VOLTAGE, Quantity, retold
from vanwater.system.remedies import Remedy

__all__ = ["RemedyGain", "remedy_words"]


@dataclass(frozen=True, slots=True, eq=False)
class RemedyGain:
    """A remedy and what it would bring.

    Parameters
    ----------
    remedy : Remedy
        The change.
    words : Say
        The change in words.
    flow : Number
        More flow at the outlet.
    """

    remedy: Remedy
    words: Say
    flow: Number


def remedy_words(plan: Plan, remedy: Remedy) -> Say:
    """A change along a way in words.

    Parameters
    ----------
    plan : Plan
        The plan.
    remedy : Remedy
        The change.

    Returns
    -------
    Say
        What to do.
    """
    if remedy.kind == "bends":
        return say("Lay sweep bends instead of {elbows}.", elbows=Count(int(remedy.now), "elbow"))
    if remedy.kind == "filter":
        return say("Take the filter out of the {run} and filter only what is drunk.", run=remedy.piece)
    if remedy.kind == "clean":
        return say("Clean the strainer or filter of the {run}.", run=remedy.piece)
    if remedy.kind == "volts":
        now = planned(plan, remedy.address, VOLTAGE)
        then = _tried(remedy, VOLTAGE)
        return say("Give the pump {then} instead of {now} by a thicker cable.", then=then, now=now)
    if remedy.kind == "sparing":
        return say(
            "Take a {piece} of {then} at its rated pressure instead of {now}.",
            piece=remedy.piece,
            then=_tried(remedy, FLOW),
            now=_given(remedy),
        )
    if isinstance(remedy.then, str):
        return say("Take {then}, for the {run}.", then=_sized(remedy.then), run=remedy.piece)
    return say("Take {then} bore for the {run}.", then=_tried(remedy, BORE), run=remedy.piece)


def _sized(title: str) -> BySystem:
    """The title of a stock size in either system of units, within a sentence."""
    if title[1:2].islower():
        title = title[0].lower() + title[1:]
    return BySystem(retold(title, False), retold(title, True))


def _tried(remedy: Remedy, quantity: Quantity) -> Number:
    return stated(
        f"{remedy.address} that is tried",
        float(remedy.then),
        quantity,
        "The next better one that is to be had.",
        source="common practice",
    ).keyed(*remedy.address.split("."), "tried", exact="as it is tried", digits=2 if quantity is FLOW else 3)


def _given(remedy: Remedy) -> Number:
    """What an outlet gives at its pressure, by its own number or its type's."""
    return stated(
        f"flow of the {remedy.piece} at its pressure",
        float(remedy.now),
        FLOW,
        "As the plan or its type gives it.",
        source="the plan",
    ).keyed(*remedy.address.split("."), exact="as planned", digits=2)
