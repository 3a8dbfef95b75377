"""What the outlets give on the water of a campsite."""

from __future__ import annotations

from vanwater.answers.core.cautions import AIR_GAP, ESTIMATE, HOSE, MAINS_WATER
from vanwater.answers.core.question import ASIDE, Question
from vanwater.answers.mains.answer import Mains, mains
from vanwater.answers.mains.controls import controls
from vanwater.answers.mains.terms import TERMS

__all__ = ["QUESTION"]

QUESTION = Question[Mains](
    key="mains",
    wet=True,
    unread=(*ASIDE, "battery", "inverter", "loads", "uses"),
    title="On a campsite's water",
    label="Mains",
    answer=mains,
    controls=controls,
    brief=False,
    cautions=(HOSE, AIR_GAP, MAINS_WATER, ESTIMATE),
    terms=TERMS,
)
