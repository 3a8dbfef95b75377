"""How much hot water there is, how soon again, and what it takes from the battery."""

from __future__ import annotations

from vanwater.answers.core.question import Question
from vanwater.answers.hot_water.answer import HotWater, hot_water
from vanwater.answers.hot_water.charts import litres_of_a_charge
from vanwater.answers.hot_water.controls import controls

__all__ = ["QUESTION"]

QUESTION = Question[HotWater](
    key="hot_water",
    title="Hot water",
    answer=hot_water,
    charts={"charge": litres_of_a_charge},
    controls=controls,
)
