"""How long we can stay out: Days of each store, what ends the stay, what would make it longer."""

from __future__ import annotations

from vanwater.answers.core.cautions import (
    AIR_GAP,
    DRAINED,
    DRINKING_WATER,
    ESTIMATE,
    GREY_WATER,
    LITHIUM,
    TOILET,
    WEIGHT,
    WIRING,
)
from vanwater.answers.core.question import Compared, Question, first_told
from vanwater.answers.stay.answer import Stay, stay
from vanwater.answers.stay.charts import days_of_stores, levels, litres_by_use
from vanwater.answers.stay.controls import controls
from vanwater.answers.stay.handover import handover
from vanwater.answers.stay.terms import TERMS

__all__ = ["QUESTION"]

QUESTION = Question[Stay](
    key="stay",
    title="Days off-grid",
    answer=stay,
    charts={"stores": days_of_stores, "uses": litres_by_use},
    on_demand={"levels": levels},
    controls=controls,
    glance=first_told,
    cautions=(DRAINED, WIRING, WEIGHT, DRINKING_WATER, AIR_GAP, TOILET, LITHIUM, GREY_WATER, ESTIMATE),
    terms=TERMS,
    worked={
        f"days, {name}": (Compared(f"days, {name}", f"tank.{tank}.days"),)
        for name, tank in (("fresh", "fresh"), ("grey", "grey"), ("urine container", '"urine container"'))
    },
    handover=handover,
)
