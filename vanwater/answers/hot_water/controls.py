"""What people turn first where hot water is asked: heater, use, battery, inverter."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.hot_water.answer import HotWater
from vanwater.plan.model import Plan
from vanwater.system.power import cable_to

__all__ = ["controls"]


def controls(plan: Plan, answer: HotWater) -> Iterator[str]:
    """Addresses that people turn first where hot water is asked."""
    for name, heater in answer.heaters.items():
        yield from (f"heaters.{name}.{key}" for key in ("volume", "power", "set_point"))
        if heater.served is not None:
            use = heater.served.name
            yield f"uses.{use}.{'duration' if plan.uses[use].volume is None else 'volume'}"
            yield f"uses.{use}.temperature"
    if not answer.heaters:
        return
    yield "site.cold_water"
    on_battery = any(heater.on_battery for heater in answer.heaters.values())
    if plan.battery is not None and on_battery:
        yield from ("battery.max_current", "battery.charge")
    for heater in answer.heaters.values():
        if heater.served is not None and plan.uses[heater.served.name].volume is None:
            yield f"uses.{heater.served.name}.flow"
    if plan.inverter is not None and on_battery:
        yield from (f"inverter.{key}" for key in ("rating", "efficiency"))
        if not cable_to(plan, "inverter"):
            yield "inverter.cable"
    yield from (f"heaters.{name}.{key}" for name in answer.heaters for key in ("hours_on", "standby"))
    yield "household.run_off"
    yield from (f"heaters.{name}.relief" for name in answer.heaters)
