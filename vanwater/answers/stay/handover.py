"""What the customer is told of the days, and how the tanks are measured."""

from __future__ import annotations

import math
from collections.abc import Iterator

from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.handover import Fault, Gives, Handed, Living, Means, Measure, Step
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import say
from vanwater.answers.stay.answer import Stay
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.tanks import label_of

__all__ = ["handover"]

_FROM = {"fresh": "Run down until the pump draws air"}
"""From where a tank is filled, by what it holds."""


def handover(plan: Plan, answer: Stay) -> Iterator[Handed]:
    """Living with the stores, and the litres that each tank takes."""
    if plan.water.drained:
        return
    numbers = answer.numbers
    if "person.fresh_a_day" in numbers:
        yield Living(
            "every day",
            say(
                "The days hold for {each} of fresh water a person. Note what a week really takes: it says more than "
                "any estimate.",
                each=numbers["person.fresh_a_day"].shown,
            ),
        )
    fresh = tuple(label_of(name) for name, tank in plan.tanks.items() if tank.holds == "fresh")
    if fresh:
        told = say("Fill the {tanks} with drinking water, the hose end above the filler: an air gap.", tanks=fresh)
        yield Step("Before the first use", 20, told)
        yield Living(
            "every day",
            say(
                "Fill the {tanks} with drinking water alone, by a hose made for it, its end above the filler and never "
                "in the water.",
                tanks=fresh,
            ),
        )
    for use in answer.uses[:1]:
        yield Living(
            "every day",
            say(
                "Most water goes into one use, {use}: halving it saves more than giving up a small one.",
                use=use.name,
            ),
        )
    for name, tank in plan.tanks.items():
        usable, days = (numbers.get(key_text(("tank", name, key))) for key in ("usable", "days"))
        if usable is not None and days is not None and math.isfinite(days.likely):
            gives = tank.holds == "fresh"
            lasts = "It gives {litres}, enough for {days}." if gives else "It takes {litres} and is full after {days}."
            yield Gives(joined(("tanks", name)), say(lasts, litres=usable.shown, days=days.shown))
        if usable is None or tank.count > 1:
            continue
        yield Measure(
            place=2,
            what=say("What the {tank} takes", tank=label_of(name)),
            how=f"{_FROM.get(tank.holds, 'Emptied by its drain')}, fill it to the overflow as the van is parked, by "
            "a meter or weighed cans; note the minutes.",
            expected=usable.shown,
            means=(
                Means("Less: trapped air, an overflow or a pick-up that sits elsewhere. Slow: a kinked vent.", "below"),
            ),
            tolerance=Tolerance(share=0.04),
            corrects=joined(("tanks", name, "overflow" if tank.capacity is None else "capacity")),
        )
    held = {tank.holds for tank in plan.tanks.values()} - {"fresh"}
    waste = ["grey water"] * ("grey" in held) + ["the toilet"] * bool(held - {"grey"})
    if waste:
        yield Living("every day", say("Empty {waste} only where it is allowed.", waste=tuple(waste)))
    for name, tank in plan.tanks.items():
        if tank.holds == "grey":
            yield Fault(
                "Used water stays in the sink or shower",
                say("The {tank} is full, or its vent or trap is stopped: empty it, then look.", tank=label_of(name)),
            )
