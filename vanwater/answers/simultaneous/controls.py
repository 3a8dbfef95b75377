"""What people turn first where outlets are open together: the pump, the outlets, the runs that take most."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.sizes import of_pump
from vanwater.answers.simultaneous.answer import Simultaneous
from vanwater.answers.simultaneous.sets import worst
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: Simultaneous) -> Iterator[str]:
    """Pump and outlets of the worst set, then the runs to the one that falls shortest."""
    if not answer.sets:
        return
    told = worst(answer.sets)
    pump = told.alone[told.weakest].way.pump
    yield from of_pump(plan, pump, ("volts", "strokes", "holds"))
    for outlet in sorted(told.outlets, key=lambda outlet: outlet != told.weakest):
        yield f"outlets.{outlet}.{'type' if plan.outlets[outlet].type is not None else 'flow'}"
    for piece in told.budget.largest_first:
        if piece.kind != "run":
            continue
        planned = plan.runs[piece.label]
        if planned.size is not None or planned.bore is not None:
            yield f"runs.{piece.label}.{'size' if planned.size is not None else 'bore'}"
        yield f"runs.{piece.label}.length"
    yield from of_pump(plan, pump, ("cut_out",))
    yield "site.cold_water"
