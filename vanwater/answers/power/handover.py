"""What the customer knows of the battery, and what a qualified person tries before the van leaves."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.handover import Fault, Gives, Handed, Living, Means, Measure, Remember
from vanwater.answers.core.statement import say
from vanwater.answers.power.answer import Power
from vanwater.plan.model import Plan

__all__ = ["handover"]


def handover(plan: Plan, answer: Power) -> Iterator[Handed]:
    """How long the battery lasts, and the test of the shock protection."""
    lasts = answer.numbers.get("battery.days_without_charge")
    if lasts is not None:
        yield Gives("battery", say("Without any charge it lasts {days}, all loads counted.", days=lasts.shown))
        yield Living(
            "every day", say("Without any charge the battery lasts {days}, all loads counted.", days=lasts.shown)
        )
        yield Fault(
            "Nothing electric works",
            say("The battery guards itself: loads off, charge it, then look at its main switch and fuse."),
        )
    if plan.battery is not None:
        yield Remember("Spares for the road", say("Two fuses of each size on board."))
        yield Remember("Before the walls close", say("Each cable with a label at both ends, its fuse at the battery."))
    if plan.inverter is not None or plan.shore is not None:
        yield Measure(
            place=11,
            what=say("Shock protection, on the battery and at a socket"),
            how="By a qualified person with a tester: polarity, earth, bond, trip.",
            expected=say("30 mA within 0.3 s (United States: 4 to 6 mA)"),
            means=(Means("The van is not handed over."),),
        )
