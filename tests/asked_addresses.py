"""Which addresses of a plan are asked where each costs a plan of its own or a page of its own.

One of each kind a plan, drawn with a fixed seed, so that of two alike runs one is asked in this van and perhaps the
other in the next; every one with ``VANWATER_ADDRESSES=all``.
"""

from __future__ import annotations

import os
import random
from collections.abc import Iterable

from vanwater.plan.model import Plan

__all__ = ["asked_addresses", "kind_of"]

ALL = os.environ.get("VANWATER_ADDRESSES") == "all"

ALIKE = ("runs", "outlets", "uses", "tees", "loads", "mixers", "pads")
"""Tables whose entries are alike to the sums; a tank or a pump is asked by its name."""


def kind_of(address: str) -> str:
    """An address without the name of one among others alike, and without the name of a fitting."""
    table, *rest = address.split(".")
    way = ["*", *rest[1:]] if table in ALIKE and len(rest) > 1 else rest
    return ".".join((table, *(way[: way.index("fittings") + 1] if "fittings" in way else way)))


def asked_addresses(plan: Plan, addresses: Iterable[str]) -> list[str]:
    """Those that are asked of the addresses, kind by kind."""
    kinds: dict[str, list[str]] = {}
    for address in addresses:
        kinds.setdefault(kind_of(address), []).append(address)
    chance = random.Random(plan.van.name)
    chosen = {chance.choice(alike) for alike in kinds.values()}
    return [address for alike in kinds.values() for address in alike if ALL or address in chosen]
