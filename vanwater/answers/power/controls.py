"""What people turn first where power is asked: the battery, the hours of a day, what charges."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.question import Answer
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: Answer) -> Iterator[str]:  # noqa: ARG001 - as every question's
    """Battery, hours, sources, then what lives on it."""
    if plan.battery is not None:
        yield from ("battery.charge", "battery.other_loads", "battery.charging")
    yield from ("day.driving", "day.shore")
    if plan.sun is not None:
        yield from ("sun.panels", "sun.full_sun")
    if plan.alternator is not None:
        yield "alternator.current"
    if plan.shore is not None:
        yield from ("shore.limit", "shore.charger")
    yield from (f"appliances.{name}.hours" for name in plan.appliances)
    if plan.inverter is not None:
        yield from ("inverter.hours_on", "inverter.idle")
