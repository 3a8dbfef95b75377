"""The pressure above which no trial goes: the least rating of a piece, or a relief valve that opens sooner."""

from __future__ import annotations

import math
from collections.abc import Iterator

from vanwater.answers.core.handover import Handed, Setting
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.quantities import PRESSURE

__all__ = ["handover"]


def handover(plan: Plan, answer: Answer) -> Iterator[Handed]:
    """The highest pressure of any trial, where a piece with a rating or a relief valve is planned."""
    rated = [number for number in answer.numbers.values() if "rated_pressure" in number.key]
    opens = [
        planned(plan, joined(("heaters", name, "relief")), PRESSURE)
        for name, heater in plan.heaters.items()
        if heater.relief is not None
    ]
    known = [number for number in (*rated, *opens) if math.isfinite(number.likely)]
    if not known:
        return
    least = min(known, key=lambda number: number.likely)
    yield Setting(
        say("Highest pressure of any trial"),
        least.amount,
        "Water alone, never air; the heater full and off, every tank shut off. "
        + ("There the relief valve opens." if least in opens else "The piece that stands least stands that."),
    )
