"""What people turn first where the weight is asked: places and sizes of the tanks, axles, loads."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.question import Answer
from vanwater.answers.core.sizes import size_of, tanks_by_use
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: Answer) -> Iterator[str]:  # noqa: ARG001 - as every question's
    """Places and sizes of the largest tanks, then axles and what rides along."""
    largest = [names[0] for holds in ("fresh", "grey") if (names := tanks_by_use(plan, holds))]
    yield from (f"tanks.{name}.x" for name in largest)
    yield from (size_of(plan, name) for name in largest)
    yield from (f"loads.{name}.{key}" for name in plan.loads for key in ("mass", "x"))
    yield from (f"tanks.{name}.{key}" for name in plan.tanks for key in ("x", "y"))
    yield from (f"heaters.{name}.x" for name in plan.heaters)
    if plan.vehicle is not None:
        yield "vehicle.wheelbase"
