"""What to order and what to cut."""

from __future__ import annotations

from vanwater.answers.core.cautions import DRINKING_WATER, ESTIMATE
from vanwater.answers.core.question import ASIDE, Question
from vanwater.answers.parts.answer import Parts, parts
from vanwater.answers.parts.controls import controls

__all__ = ["QUESTION"]

QUESTION = Question[Parts](
    key="parts",
    unread=(*ASIDE, "loads", "site", "uses", "water"),
    title="Parts to order",
    answer=parts,
    controls=controls,
    brief=False,
    cautions=(DRINKING_WATER, ESTIMATE),
)
