"""What the outlets give on the water of a campsite."""

from __future__ import annotations

from vanwater.answers.core.question import Question
from vanwater.answers.mains.answer import Mains, mains
from vanwater.answers.mains.controls import controls

__all__ = ["QUESTION"]

QUESTION = Question[Mains](
    key="mains", title="On a campsite's water", label="Mains", answer=mains, controls=controls, brief=False
)
