"""What the water weighs, and where it rests."""

from __future__ import annotations

from vanwater.answers.core.question import Question
from vanwater.answers.weight.answer import Weight, weight
from vanwater.answers.weight.controls import controls

__all__ = ["QUESTION"]

QUESTION = Question[Weight](
    key="weight",
    title="Weight",
    answer=weight,
    controls=controls,
)
