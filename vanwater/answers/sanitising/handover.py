"""Sanitising before the first drink, and every spring."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.handover import Handed, Living, Measure, Remember
from vanwater.answers.core.statement import say
from vanwater.answers.sanitising.answer import Sanitising
from vanwater.plan.model import Plan

__all__ = ["handover"]


def handover(plan: Plan, answer: Sanitising) -> Iterator[Handed]:  # noqa: ARG001 - as all of its kind
    """Dose, time and flush."""
    for store in answer.stores[:1]:
        yield Living(
            "first use",
            say(
                "Before the first drink, and after every winter: {bleach} of unscented household bleach into {tanks} "
                "full of water, by every tap until it smells, {time}; then flush.",
                bleach=store.bleach,
                tanks=store.called,
                time=store.chlorine.time,
            ),
        )
        yield Remember("Looked after", say("Sanitising: before the first drink, every spring, after bad water."))
        yield Measure(
            place=15,
            what=say("Chlorine at the end of sanitising"),
            how="Strips, at every tap, hot and cold; then flush and read again.",
            expected=store.chlorine.left.amount,
            means="Old product, dirt, a dead end of the line.",
            tolerance=Tolerance(side="at least"),
        )
