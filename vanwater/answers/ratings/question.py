"""Whether every hose, pipe, joint and piece stands what can come to it, and mates with its neighbour."""

from __future__ import annotations

from vanwater.answers.core.cautions import ESTIMATE, HOSE, RELIEF
from vanwater.answers.core.question import ASIDE, Question
from vanwater.answers.ratings.answer import ratings
from vanwater.answers.ratings.controls import controls
from vanwater.answers.ratings.handover import handover

__all__ = ["QUESTION"]

QUESTION = Question(
    key="ratings",
    unread=(*ASIDE, "battery", "inverter", "loads", "uses"),
    wet=True,
    title="Ratings and joints",
    label="Ratings",
    answer=ratings,
    controls=controls,
    brief=False,
    cautions=(RELIEF, HOSE, ESTIMATE),
    handover=handover,
)
