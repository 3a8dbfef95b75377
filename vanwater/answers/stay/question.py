"""How long we can stay out: Days of each store, what ends the stay, what would make it longer."""

from __future__ import annotations

from vanwater.answers.core.question import Question
from vanwater.answers.stay.answer import Autonomy, autonomy
from vanwater.answers.stay.charts import litres_by_use, stores_running_out
from vanwater.answers.stay.controls import controls

__all__ = ["QUESTION"]

QUESTION = Question[Autonomy](
    key="autonomy",
    title="Days off-grid",
    answer=autonomy,
    charts={"stores": stores_running_out, "uses": litres_by_use},
    controls=controls,
)
