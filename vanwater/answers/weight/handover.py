"""The scale's ticket, and what may still be loaded."""

from __future__ import annotations

import math
from collections.abc import Iterator

from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.handover import Handed, Living, Means, Measure
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import say
from vanwater.answers.weight.answer import Weight
from vanwater.plan.model import Plan

__all__ = ["handover"]


def handover(plan: Plan, answer: Weight) -> Iterator[Handed]:
    """What is left to load, and the weight of each axle as it leaves."""
    numbers = answer.numbers
    if "van.payload" in numbers and math.isfinite(numbers["van.payload"].likely):
        yield Living(
            "every day",
            say(
                "Leaving {how}{loads} {left} may still be loaded; what axles may carry is law.",
                how="drained" if plan.water.drained else "full",
                loads=", with people and luggage of the plan," if plan.loads else ",",
                left=numbers["van.payload"].shown,
            ),
        )
    for axle in ("front", "rear"):
        load = numbers.get(key_text(("axle", axle, "load", "leaving")))
        if load is not None and math.isfinite(load.likely):
            yield Measure(
                place=14,
                what=say("Weight on the {axle} axle, leaving full", axle=axle),
                how="Public scale, axle by axle; keep the ticket.",
                expected=load.shown,
                means=(Means("Loads that were left out, or an empty van that weighs otherwise."),),
                tolerance=Tolerance(by=20.0),
                corrects=f"vehicle.empty_{axle}",
            )
