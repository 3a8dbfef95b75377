"""What freezes first, after how many hours, and what holds it."""

from __future__ import annotations

from vanwater.answers.core.question import Question
from vanwater.answers.frost.answer import Frost, frost
from vanwater.answers.frost.charts import heat_by_face, hours_to_freeze
from vanwater.answers.frost.controls import controls, fits

__all__ = ["QUESTION"]

QUESTION = Question[Frost](
    key="frost",
    title="Frost",
    answer=frost,
    charts={"freezing": hours_to_freeze, "faces": heat_by_face},
    fits=fits,
    controls=controls,
)
