"""What people turn first where hot water is asked: heater, use, battery, inverter."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.hot_water.answer import HotWater
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: HotWater) -> Iterator[str]:
    """Addresses that people turn first where hot water is asked."""
    for name, one in answer.heaters.items():
        yield from (f"heaters.{name}.{key}" for key in ("volume", "power", "set_point"))
        if one.use:
            yield f"uses.{one.use}.{'duration' if plan.uses[one.use].volume is None else 'volume'}"
            yield f"uses.{one.use}.temperature"
    if not answer.heaters:
        return
    yield "site.cold_water"
    electric = [one for one in answer.heaters.values() if one.electric]
    if plan.battery is not None and electric:
        yield from ("battery.max_current", "battery.charge")
    for one in answer.heaters.values():
        if one.use and plan.uses[one.use].volume is None:
            yield f"uses.{one.use}.flow"
    if plan.inverter is not None and electric:
        yield from (f"inverter.{key}" for key in ("rating", "efficiency", "cable", "idle", "hours_on"))
    yield "household.run_off"
    yield from (f"heaters.{name}.relief" for name in answer.heaters)
