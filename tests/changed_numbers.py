"""Which numbers of a plan are changed to hold a row of a batch against a plan of its own.

One of each kind a plan, drawn with a fixed seed, so that of two alike runs one is asked in this van and perhaps the
other in the next; every number with ``VANWATER_ROWS=all``.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterator

from vanwater.plan.address import numbers_of
from vanwater.plan.model import Plan

__all__ = ["asked_addresses", "kind_of"]

ALL = os.environ.get("VANWATER_ROWS") == "all"

ALIKE = ("runs", "outlets", "uses", "tees", "loads", "mixers", "pads")
"""Tables whose entries are alike to the sums; a tank or a pump is asked by its name."""


def kind_of(address: str) -> str:
    """An address without the name of one among others alike, and without the name of a fitting."""
    table, *rest = address.split(".")
    way = ["*", *rest[1:]] if table in ALIKE and len(rest) > 1 else rest
    return ".".join((table, *(way[: way.index("fittings") + 1] if "fittings" in way else way)))


def asked_addresses(plan: Plan) -> Iterator[str]:
    """The addresses of numbers that are asked, in the order of the plan."""
    kinds: dict[str, list[str]] = {}
    for address in numbers_of(plan):
        kinds.setdefault(kind_of(address), []).append(address)
    chance = random.Random(plan.van.name)
    chosen = {chance.choice(alike) for alike in kinds.values()}
    yield from (address for address in numbers_of(plan) if ALL or address in chosen)
