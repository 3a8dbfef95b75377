"""What is left where several outlets are open together, off-grid."""

from __future__ import annotations

from vanwater.answers.core.cautions import ESTIMATE, SCALD
from vanwater.answers.core.question import Question
from vanwater.answers.simultaneous.answer import Simultaneous, simultaneous
from vanwater.answers.simultaneous.charts import pressure_budget_together
from vanwater.answers.simultaneous.controls import controls

__all__ = ["QUESTION"]

QUESTION = Question[Simultaneous](
    key="simultaneous",
    wet=True,
    title="Outlets open together",
    label="Together",
    answer=simultaneous,
    charts={"budget-together": pressure_budget_together},
    controls=controls,
    cautions=(SCALD, ESTIMATE),
    brief=False,
)
