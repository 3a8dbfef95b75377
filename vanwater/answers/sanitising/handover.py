"""Sanitising before the first drink, and every spring."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.handover import Handed, Living, Means, Measure, Remember, Step
from vanwater.answers.core.raised import filtered
from vanwater.answers.core.statement import say
from vanwater.answers.sanitising.answer import Sanitising
from vanwater.plan.model import Plan

__all__ = ["handover"]


def handover(plan: Plan, answer: Sanitising) -> Iterator[Handed]:
    """Dose, time and flush."""
    for place, store in enumerate(answer.stores):
        dose = say(
            "{bleach} of unscented household bleach into {tanks} full of water{taps}, {time}",
            bleach=store.bleach,
            tanks=store.called,
            taps=say(", by every tap until it smells" if store.tapped else ""),
            time=store.chlorine.time,
        )
        off = ["heaters off"] * bool(plan.heaters) + ["carbon filters out"] * filtered(plan)
        before = say(", {off}", off=tuple(off)) if off and store.tapped else say("")
        yield Living(
            "first use",
            say(
                "Before the first drink, and after every winter{before}: {dose}; then flush.", before=before, dose=dose
            ),
        )
        yield Step(
            "Before the first use",
            60 + place,
            say(
                "Sanitise{before}: {dose}; then flush {what}.",
                before=before,
                dose=dose,
                what="every tap" if store.tapped else store.it,
            ),
        )
    for store in answer.stores[:1]:
        yield Remember("Looked after", say("Sanitising: before the first drink, every spring, after bad water."))
        yield Measure(
            place=15,
            what=say("Chlorine at the end of sanitising"),
            how="Strips, at every tap, hot and cold; then flush and read again.",
            expected=store.chlorine.left.amount,
            means=(Means("Old product, dirt, a dead end of the line."),),
            tolerance=Tolerance(side="at least"),
        )
