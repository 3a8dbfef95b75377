"""What people turn first where days are asked: people, tanks, uses, battery."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.sizes import size_of, tanks_by_use
from vanwater.answers.stay.answer import Stay
from vanwater.answers.stay.remedies import NEEDED
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: Stay) -> Iterator[str]:
    """Addresses that people turn first where days is asked."""
    if plan.water.drained:
        yield from (*_battery(plan), "household.days_wanted")
        return
    yield from ("household.people", "household.habits")
    largest = {holds: tanks_by_use(plan, holds) for holds in ("fresh", "grey", "urine", "cassette")}
    for tanks in largest.values():
        yield from (size_of(plan, name) for name in tanks[:1])
    uses = [use.name for use in answer.uses if use.name not in NEEDED and use.fresh.likely > 0]
    for use in uses:
        yield f"uses.{use}.a_day"
        yield from (f"uses.{use}.{key}" for key in ("volume", "duration") if plan.at(f"uses.{use}.{key}") is not None)
    for tanks in largest.values():
        yield from (size_of(plan, name) for name in tanks[1:])
    yield from (f"uses.{use.name}.a_day" for use in answer.uses if use.name not in uses)
    yield from _battery(plan)
    yield from ("household.days_wanted", "household.unsure")
    if plan.heaters and any(use.hot for use in plan.uses.values()):
        yield "household.run_off"


def _battery(plan: Plan) -> Iterator[str]:
    if plan.battery is not None:
        yield from ("battery.charge", *_charging(plan))
        if plan.battery.other_loads is not None:
            yield "battery.other_loads"


def _charging(plan: Plan) -> Iterator[str]:
    """What is put back: as the plan states it as a whole, else by the source that hangs most on the season."""
    if plan.sun is not None:
        yield "sun.full_sun"
    elif plan.alternator is not None:
        yield "alternator.current"
    else:
        yield "battery.charging"
