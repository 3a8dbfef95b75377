"""What a van worked by hand is compared by: the numbers of each question, by the words of their file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from vanwater.answers.core.question import Answer
from vanwater.answers.frost.answer import frost
from vanwater.panels.worked_plan import in_the_cold
from vanwater.quantities import (
    HOURS,
    POWER,
    SHARE,
    TEMPERATURE,
    Quantity,
)

__all__ = ["ASKED", "NUMBERS", "Number"]


@dataclass(frozen=True, slots=True)
class Number:
    """A number of an answer: what it is called, what kind it is, where it stands."""

    what: str
    quantity: Quantity
    read: Callable[[Any], float]


def _sum(key: str) -> Callable[[Answer], float]:
    """A number that unfolds."""
    return lambda answer: float(np.ravel(answer.numbers[key].value)[0])


NUMBERS: Mapping[str, Mapping[str, tuple[Number, ...]]] = {
    "frost": {
        "tank heat loss at hold temperature, parked": (
            Number("heat loss of the tank, parked", POWER, _sum("frost.fresh.loss_parked")),
        ),
        "tank heat loss at hold temperature, driving": (
            Number("the same, driving", POWER, _sum("frost.fresh.loss_driving")),
        ),
        "lowest cold the pad holds, parked": (
            Number("lowest cold that the pad holds, parked", TEMPERATURE, _sum("frost.fresh.holds_parked")),
        ),
        "pad duty parked at design cold (over 1 = does not hold)": (
            Number("pad on in the design cold", SHARE, lambda answer: answer.tanks[0].pad.duty.likely),
        ),
        "hours to 0 C, tank at stated litres, parked, no heat": (
            Number("full tank at freezing after", HOURS, _sum("frost.fresh.hours_parked.full")),
        ),
        "hours to 0 C, exposed pipe full of still water, parked: must lie between": (
            Number("exposed run at freezing after", HOURS, _sum("frost.trunk.hours_parked")),
        ),
        "hours at 0 C until the stated share of the tank is ice, parked": (
            Number("a tenth of it is ice after another", HOURS, _sum("frost.fresh.ice")),
        ),
    },
}
"""What each question is compared by that does not say so itself yet: its numbers by the file's own words."""


ASKED: Mapping[str, Callable[[Mapping[str, Any]], Answer]] = {
    "frost": lambda van: frost(in_the_cold(van)),
}
"""How each question is put to a worked van."""
