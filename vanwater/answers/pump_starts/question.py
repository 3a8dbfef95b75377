"""How often the pump starts, what the accumulator does, how hard a closing tap knocks."""

from __future__ import annotations

from vanwater.answers.core.question import Question
from vanwater.answers.pump_starts.answer import Accumulator, accumulator
from vanwater.answers.pump_starts.charts import starts_against_draw
from vanwater.answers.pump_starts.controls import controls, fits

__all__ = ["QUESTION"]

QUESTION = Question[Accumulator](
    key="accumulator",
    title="Pump starts and accumulator",
    label="Pump",
    answer=accumulator,
    charts={"starts": starts_against_draw},
    fits=fits,
    controls=controls,
)
