"""What people turn first where flow is asked: pump, outlet, and the runs on the way."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.sizes import of_pump
from vanwater.answers.outlets.answer import Outlets
from vanwater.plan.model import Plan
from vanwater.plan.tables import fittings

__all__ = ["controls"]


def controls(plan: Plan, answer: Outlets) -> Iterator[str]:
    """Addresses that people turn first where flow is asked."""
    if not answer.main:
        return
    supply = answer.outlets[answer.main]
    at = f"outlets.{supply.outlet}"
    yield from of_pump(plan, supply.way.pump, ("volts", "strokes", "holds"))
    yield f"{at}.type" if plan.outlets[supply.outlet].type is not None else f"{at}.flow"
    runs = sorted((piece for piece in supply.budget if piece.kind == "run"), key=lambda piece: -piece.loss.likely)
    yield from _bore(plan, runs[0].label)
    yield f"runs.{runs[0].label}.length"
    clogs = [run for run in supply.way.runs if _clogs(plan, run)]
    yield from (f"runs.{run}.clogged" for run in clogs[:1])
    yield from of_pump(plan, supply.way.pump, ("cut_out",))
    if supply.way.mixer:
        held = supply.way.mixer in plan.mixers and plan.mixers[supply.way.mixer].set is not None
        yield f"mixers.{supply.way.mixer}.set" if held else f"{at}.temperature"
    yield from (f"runs.{run}.clogged" for run in clogs[1:])
    for piece in runs[1:]:
        yield from _bore(plan, piece.label)
        yield f"runs.{piece.label}.length"
    yield f"{at}.z"
    if supply.way.mixer:  # how much of the water goes through the heater hangs on it
        yield f"tanks.{supply.way.tank}.temperature"


def _bore(plan: Plan, run: str) -> Iterator[str]:
    """How wide a run is, by its stock size or in millimetres."""
    planned = plan.runs[run]
    if planned.size is not None or planned.bore is not None:
        yield f"runs.{run}.{'size' if planned.size is not None else 'bore'}"


def _clogs(plan: Plan, run: str) -> bool:
    """Whether a strainer or filter sits in a run."""
    table = fittings()
    return any(
        count and kind not in plan.fittings and table[kind].kind in ("strainer", "filter")
        for kind, count in plan.runs[run].fittings.items()
    )
