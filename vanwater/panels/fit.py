"""Where the part of a control belongs, and whether it is planned."""

from __future__ import annotations

from vanwater.plan.model import Plan

__all__ = ["has_part", "part_at"]

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
