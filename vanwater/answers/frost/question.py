"""What freezes first, after how many hours, and what holds it."""

from __future__ import annotations

from vanwater.answers.core.cautions import (
    ANTIFREEZE,
    BLOW_OUT,
    DRAINED,
    ESTIMATE,
    FROST,
    FROZEN_FILTER,
    LITHIUM,
    PAD,
    UNDER_FLOOR,
    WIRING,
)
from vanwater.answers.core.question import Compared, Question, first_told
from vanwater.answers.frost.answer import Frost, frost
from vanwater.answers.frost.charts import heat_by_face, hours_to_freeze
from vanwater.answers.frost.controls import controls, fits
from vanwater.answers.frost.handover import handover

__all__ = ["QUESTION"]

QUESTION = Question[Frost](
    key="frost",
    title="Frost",
    answer=frost,
    charts={"freezing": hours_to_freeze, "faces": heat_by_face},
    fits=fits,
    controls=controls,
    glance=lambda answer: (number for number in first_told(answer) if "lowest_cold" in number.key),
    cautions=(DRAINED, PAD, WIRING, FROZEN_FILTER, ANTIFREEZE, BLOW_OUT, LITHIUM, FROST, UNDER_FLOOR, ESTIMATE),
    worked={
        "tank heat loss at hold temperature, parked": (
            Compared("heat loss of the tank, parked", "tank.fresh.heat_loss.parked"),
        ),
        "tank heat loss at hold temperature, driving": (Compared("the same, driving", "tank.fresh.heat_loss.driving"),),
        "lowest cold the pad holds, parked": (
            Compared("lowest cold that the pad holds, parked", "tank.fresh.lowest_cold.parked"),
        ),
        "pad duty parked at design cold (over 1 = does not hold)": (
            Compared("pad on in the design cold", "tank.fresh.pad_duty.parked"),
        ),
        "hours to 0 C, tank at stated litres, parked, no heat": (
            Compared("full tank at freezing after", "tank.fresh.time_to_freezing.parked.full"),
        ),
        "hours to 0 C, exposed pipe full of still water, parked: must lie between": (
            Compared("exposed run at freezing after", "run.trunk.time_to_freezing.parked"),
        ),
        "hours at 0 C until the stated share of the tank is ice, parked": (
            Compared("a tenth of it is ice after another", "tank.fresh.time_at_freezing.parked.full"),
        ),
    },
    handover=handover,
)
