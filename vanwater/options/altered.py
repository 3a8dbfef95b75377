"""What two plans say differently, address by address, as their builders wrote it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_origin

from vanwater.plan.address import hint_below
from vanwater.plan.model import Plan

__all__ = ["altered"]

_ASIDE = (("van",), ("situations",), ("shelf",))
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
    both = (_Said(each.own, each.filled()) for each in (plan, other))
    return {
        address: value for address, value in _otherwise((), *both) if not _same(_at(plan, address), _at(other, address))
    }


@dataclass(frozen=True, slots=True)
class _Said:
    """A table as its builder wrote it, and with what stock and ready habits say below it; None where there is none."""

    own: Any
    filled: Any

    def below(self, key: str) -> _Said:
        """What stands in it under a key."""
        return _Said(*(each.get(key) if isinstance(each, Mapping) else None for each in (self.own, self.filled)))


def _otherwise(way: tuple[str, ...], mine: _Said, theirs: _Said) -> Iterator[tuple[str, Any]]:
    if way[:1] in _ASIDE:
        return
    tables = [isinstance(each.own, Mapping) for each in (mine, theirs)]
    known = [isinstance(each.filled, Mapping) for each in (mine, theirs)]
    if any(tables) and (not way or all(known) or (len(way) == 1 and _of_parts(way[0]))):
        for key in {**(mine.own or {}), **(theirs.own or {})}:
            yield from _otherwise((*way, str(key)), mine.below(key), theirs.below(key))
    elif mine.own != theirs.own:
        yield ".".join(way), theirs.own


def _of_parts(table: str) -> bool:
    """Whether a table holds parts by name, and is no part itself."""
    return get_origin(hint_below(Plan, table)) is dict


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
