"""What each outlet gives: Flow and pressure with one outlet open, and where the pressure goes."""

from __future__ import annotations

from vanwater.answers.core.question import Question
from vanwater.answers.outlets.answer import Supply, supply
from vanwater.answers.outlets.charts import (
    pressure_along_the_way,
    pressure_budget,
)
from vanwater.answers.outlets.controls import controls
from vanwater.answers.outlets.pump_chart import pump_against_system

__all__ = ["QUESTION"]

QUESTION = Question[Supply](
    key="supply",
    title="What the outlets give",
    label="Outlets",
    answer=supply,
    charts={"pump": pump_against_system, "along": pressure_along_the_way, "budget": pressure_budget},
    controls=controls,
)
