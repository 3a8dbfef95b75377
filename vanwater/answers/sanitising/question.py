"""How tanks and lines are sanitised: dose, contact, flush."""

from __future__ import annotations

from vanwater.answers.core.cautions import BLEACH, CHLORINATED_WATER, DRINKING_WATER, ESTIMATE, FILTER
from vanwater.answers.core.question import ASIDE, Question
from vanwater.answers.sanitising.answer import Sanitising, sanitising
from vanwater.answers.sanitising.controls import controls
from vanwater.answers.sanitising.handover import handover

__all__ = ["QUESTION"]

QUESTION = Question[Sanitising](
    key="sanitising",
    wet=True,
    unread=(*ASIDE, "battery", "inverter", "loads"),
    title="Sanitising",
    answer=sanitising,
    controls=controls,
    brief=False,
    cautions=(BLEACH, DRINKING_WATER, CHLORINATED_WATER, FILTER, ESTIMATE),
    handover=handover,
)
