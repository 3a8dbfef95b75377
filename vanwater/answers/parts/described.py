"""What a part is, in a few words: for the lists and pages that name it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from vanwater.answers.core.amount import Amount
from vanwater.answers.core.statement import BySystem, Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.parts.lengths import size_of
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.tanks import Tank, label_of
from vanwater.quantities import CHARGE, POWER, THICKNESS, VOLUME, retold

__all__ = ["described", "title"]

_VALUES = {
    "tanks": (("capacity", VOLUME), ("foam", THICKNESS)),
    "accumulators": (("volume", VOLUME),),
    "heaters": (("volume", VOLUME), ("power", POWER)),
    "pads": (("power", POWER),),
    "battery": (("charge", CHARGE),),
    "inverter": (("rating", POWER),),
}
"""By table, the fields that tell parts of a kind apart, with what they are numbers of."""

_SOURCES = {
    "inverter": "electric, by the inverter",
    "battery": "electric, from the battery",
    "shore": "electric, at a socket",
    "engine": "by the engine",
    "gas": "by gas",
    "diesel": "by diesel",
}
_WORDS = {"foam": "{value} of foam"}


def title(table: str, name: str) -> str:
    """What a part is called: by the name that the plan gives it, a tank as a tank.

    Parameters
    ----------
    table, name : str
        Its table and its name; no name for a table that is one part.

    Returns
    -------
    str
        "fresh tank".
    """
    return label_of(name) if table == "tanks" else name or table


def described(plan: Plan, table: str, name: str) -> Say | None:
    """What a part is: by the words of stock or shelf, and by the values that tell it from others of its kind.

    Parameters
    ----------
    plan : Plan
        The plan.
    table, name : str
        Its table and its name; no name for a table that is one part.

    Returns
    -------
    Say or None
        "under the floor, 30 mm of foam"; None where the plan says nothing of it.
    """
    words = list(_described(plan, table, name))
    holes = {f"word{place}": word for place, word in enumerate(words)}
    return say(", ".join(f"{{{hole}}}" for hole in holes), **holes) if words else None


def _described(plan: Plan, table: str, name: str) -> Iterator[str | BySystem | Say]:
    address = joined((table, name)) if name else table
    part: Any = getattr(plan, table)[name] if name else getattr(plan, table)
    stocked = plan.stocked(table, name)
    if stocked is not None:
        yield BySystem(stocked.told(False) or stocked.name, stocked.told(True) or stocked.name)
    if table == "runs" and size_of(plan, name):
        yield BySystem(retold(size_of(plan, name), False), retold(size_of(plan, name), True))
    if table == "heaters":
        yield _SOURCES[part.source]
    if table == "pumps":
        yield f"{part.kind} pump"
    if table == "battery" and part.chemistry:
        yield part.chemistry
    if isinstance(part, Tank):
        yield from _place(part)
    for field, quantity in _VALUES.get(table, ()):
        value = planned(plan, f"{address}.{field}", quantity)
        if math.isfinite(value.value) and value.value > 0:
            yield _valued(field, value.amount)


def _valued(field: str, value: Amount) -> Say:
    return say(_WORDS.get(field, "{value}"), value=value)


def _place(tank: Tank) -> Iterator[str]:
    """Where a tank stands, as far as the plan says it."""
    if tank.beside is not None:
        yield {"room": "in the room", "box": "in a box", "outside": "under the floor"}[tank.beside]
    elif tank.z is not None:
        yield "under the floor" if tank.z < 0.0 else "in the room"
