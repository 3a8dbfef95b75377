"""What two plans say differently, address by address, as their builders wrote it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

from vanwater.plan.model import Plan

__all__ = ["altered"]

_ASIDE = ("van", "situations", "shelf")
"""Tables that move no number of the plan as it is written: its title, its situations, the name of its shelf."""


def altered(plan: Plan, other: Plan) -> Mapping[str, Any]:
    """The values of another plan where it says something else than this one.

    Parameters
    ----------
    plan, other : Plan
        The two plans.

    Returns
    -------
    mapping of str to object
        By address, as the other's file holds them; None for what it leaves out, a table for a part that only it has.
    """
    both = [{key: value for key, value in each.own.items() if key not in _ASIDE} for each in (plan, other)]
    return {
        address: value for address, value in _otherwise((), *both) if not _same(_at(plan, address), _at(other, address))
    }


def _otherwise(way: tuple[str, ...], mine: Any, theirs: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(mine, Mapping) and isinstance(theirs, Mapping):
        for key in {**mine, **theirs}:
            yield from _otherwise((*way, str(key)), mine.get(key), theirs.get(key))
    elif isinstance(theirs, Mapping) and len(way) == 1:  # a table of parts of which the plan has none
        for key, value in theirs.items():
            yield from _otherwise((*way, str(key)), None, value)
    elif isinstance(mine, Mapping) and theirs is None and len(way) == 1:
        for key, value in mine.items():
            yield from _otherwise((*way, str(key)), value, None)
    elif mine != theirs:
        yield ".".join(way), theirs


def _at(plan: Plan, address: str) -> Any:
    try:
        return plan.at(address)
    except KeyError:
        return None


def _same(mine: Any, theirs: Any) -> bool:
    """Whether both are one value, however it is written."""
    if isinstance(mine, float) and isinstance(theirs, float):
        return math.isclose(mine, theirs, rel_tol=1e-9)
    return bool(mine == theirs)
