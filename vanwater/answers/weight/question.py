"""What the water weighs, and where it rests."""

from __future__ import annotations

from vanwater.answers.core.cautions import DRILLING, ESTIMATE, STRAPS, UNDER_FLOOR, WEIGHT
from vanwater.answers.core.question import ASIDE, Compared, Question, told_of
from vanwater.answers.weight.answer import Weight, weight
from vanwater.answers.weight.controls import controls
from vanwater.answers.weight.handover import handover

__all__ = ["QUESTION"]

QUESTION = Question[Weight](
    key="weight",
    unread=(*ASIDE, "battery", "inverter", "uses"),
    title="Weight",
    answer=weight,
    controls=controls,
    glance=told_of("van.payload"),
    cautions=(WEIGHT, STRAPS, DRILLING, UNDER_FLOOR, ESTIMATE),
    worked={
        f"change against all dry: {axle} axle, {state}": (Compared(f"{axle} axle against dry, {words}", key),)
        for state, words, place in (
            ("fresh and heater full, grey empty", "leaving full", "leaving"),
            ("grey full, fresh empty, heater full", "coming home", "home"),
        )
        for axle, key in (("front", f"axle.front.water.{place}"), ("rear", f"axle.rear.water.{place}"))
    },
    handover=handover,
)
