"""Which knobs belong to a question: those that people turn first, for any plan."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.answer import Answer
from vanwater.answers.autonomy import NEEDED, Autonomy
from vanwater.answers.supply import Supply
from vanwater.plan.model import Plan
from vanwater.plan.tanks import SIDES

__all__ = ["IN_SIGHT", "knobs_for"]

IN_SIGHT = 7
"""How many knobs are in sight; the others are folded."""


def knobs_for(plan: Plan, answer: Answer) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Addresses of the knobs for an answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : Answer
        What it says.

    Returns
    -------
    tuple of two tuples of str
        Those in sight, and those that are folded.
    """
    every = tuple(dict.fromkeys(_autonomy(plan, answer) if isinstance(answer, Autonomy) else _supply(plan, answer)))
    return every[:IN_SIGHT], every[IN_SIGHT:]


def _autonomy(plan: Plan, answer: Autonomy) -> Iterator[str]:
    yield from ("household.people", "household.habits")
    largest = {holds: _tanks(plan, holds) for holds in ("fresh", "grey", "urine", "cassette")}
    for tanks in largest.values():
        yield from (_size(plan, name) for name in tanks[:1])
    uses = [use.name for use in answer.uses if use.name not in NEEDED and float(use.fresh.value.ravel()[0]) > 0]
    for use in uses:
        yield f"uses.{use}.a_day"
        yield from (f"uses.{use}.{key}" for key in ("volume", "duration") if plan.at(f"uses.{use}.{key}") is not None)
    for tanks in largest.values():
        yield from (_size(plan, name) for name in tanks[1:])
    yield from (f"uses.{use.name}.a_day" for use in answer.uses if use.name not in uses)
    if plan.battery is not None:
        yield from ("battery.charge", "battery.charging")
        if plan.battery.other_loads is not None:
            yield "battery.other_loads"
    yield from ("household.days_wanted", "household.unsure")
    if plan.heaters and any(use.hot for use in plan.uses.values()):
        yield "household.run_off"


def _tanks(plan: Plan, holds: str) -> list[str]:
    """The tanks that hold something, those that others refill first."""
    return sorted(
        (name for name, tank in plan.tanks.items() if tank.holds == holds),
        key=lambda name: plan.tanks[name].refills is not None,
    )


def _size(plan: Plan, name: str) -> str:
    """What makes a tank larger without touching pick-up and overflow."""
    tank = plan.tanks[name]
    if tank.inside_height is None:
        return f"tanks.{name}.capacity"
    side = "length" if "length" in SIDES[tank.shape] else "diameter"
    return f"tanks.{name}.{side}"


def _supply(plan: Plan, answer: Answer) -> Iterator[str]:
    if not isinstance(answer, Supply) or not answer.main:
        return
    one = answer.outlets[answer.main]
    at = f"outlets.{one.outlet}"
    yield f"{at}.type" if plan.outlets[one.outlet].type is not None else f"{at}.flow"
    if one.way.mixer:
        yield f"{at}.temperature"
    if one.way.pump:
        yield f"pumps.{one.way.pump}.volts"
    runs = sorted((piece for piece in one.budget if piece.kind == "run"), key=lambda piece: -piece.loss)
    for piece in runs:
        run = plan.runs[piece.label]
        if run.size is not None or run.bore is not None:
            yield f"runs.{piece.label}.{'size' if run.size is not None else 'bore'}"
        yield f"runs.{piece.label}.length"
    yield f"{at}.z"
    yield "site.cold_water"
