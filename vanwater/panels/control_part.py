"""Where the part of a control belongs, and whether it is planned."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from vanwater.plan.model import Plan

__all__ = ["has_part", "part_at", "with_whole_parts"]

_DEEP = 2  # names in the address of a part that has a name of its own


def part_at(address: str) -> str:
    """The address of the part with a name of its own that a field belongs to, or an empty text.

    Examples
    --------
    >>> part_at("tanks.fresh.capacity"), part_at("site.wind")
    ('tanks.fresh', '')
    """
    names = address.split(".")
    return ".".join(names[:_DEEP]) if len(names) > _DEEP else ""


def has_part(plan: Plan, address: str) -> bool:
    """Whether the part that a field belongs to is planned."""
    part = part_at(address)
    try:
        return not part or plan.at(part) is not None
    except KeyError:
        return False


def with_whole_parts(plan: Plan, values: Mapping[str, Any]) -> dict[str, Any]:
    """New values of a plan, those of a part that it lacks put together as one table."""
    changes: dict[str, Any] = {}
    for address, value in values.items():
        if has_part(plan, address):
            changes[address] = value
        else:
            changes.setdefault(part_at(address), {})[address.rpartition(".")[2]] = value
    return changes
