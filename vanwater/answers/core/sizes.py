"""For the controls of every question: what makes a tank larger, fields that a pump has, values to begin with."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.plan.address import note
from vanwater.plan.model import Plan
from vanwater.plan.tanks import SIDES
from vanwater.quantities import NO_BREAK, Quantity

__all__ = ["example_of", "free_name", "of_pump", "rounded", "size_of", "tanks_by_use"]


def tanks_by_use(plan: Plan, holds: str) -> list[str]:
    """The tanks that hold something, those that others refill first."""
    return sorted(
        (name for name, tank in plan.tanks.items() if tank.holds == holds),
        key=lambda name: plan.tanks[name].refills is not None,
    )


def size_of(plan: Plan, name: str) -> str:
    """What makes a tank larger without touching pick-up and overflow."""
    tank = plan.tanks[name]
    if tank.inside_height is None:
        return f"tanks.{name}.capacity"
    sides = SIDES[tank.shape]
    if "length" in sides and tank.pickup_from_front is None:
        side = "length"
    else:
        side = "width" if "width" in sides and tank.pickup_from_left is None else sides[-1]
    return f"tanks.{name}.{side}"


def of_pump(plan: Plan, pump: str, fields: tuple[str, ...]) -> Iterator[str]:
    """Those of some fields that a pump of its kind has."""
    if pump:
        yield from (f"pumps.{pump}.{field}" for field in fields if plan.pumps[pump].belongs(field))


def example_of(plan: Plan, address: str) -> str:
    """The example of a field in the plan's own units."""
    quantity = note(type(plan), address).quantity
    assert quantity is not None
    return rounded(plan, quantity, quantity.read(quantity.example))


def rounded(plan: Plan, quantity: Quantity, value: float) -> str:
    """A value to begin with, as one would write it."""
    return quantity.text(value, plan.us, 2).replace(NO_BREAK, " ")


def free_name(plan: Plan, name: str, tables: tuple[str, ...]) -> str:
    """A name, numbered where something is called so already."""
    taken = {other for table in tables for other in getattr(plan, table)}
    return next(free for free in (name, *(f"{name} {count}" for count in range(2, 99))) if free not in taken)
