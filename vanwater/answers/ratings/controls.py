"""What people turn first where ratings are asked: what presses and what warms, then the stock sizes."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.question import Answer
from vanwater.answers.core.sizes import of_pump
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: Answer) -> Iterator[str]:
    """Relief valves, set points and switches, the regulator, then the sizes of those that were judged."""
    for heater in plan.heaters:
        yield from (f"heaters.{heater}.{field}" for field in ("relief", "set_point"))
    for pump in plan.pumps:
        yield from of_pump(plan, pump, ("cut_out", "holds"))
    yield from (f"mains.{inlet}.regulator" for inlet in plan.mains)
    judged = [finding.address for finding in answer.findings]
    yield from (address for address in judged if address.startswith("runs.") and address.endswith(".size"))
    yield "site.warmest"
