"""New values for a plan: whether each has its place, and what would keep it from counting."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, MutableMapping
from typing import Any

import numpy as np
from pydantic import BaseModel

from vanwater.plan.address import hint_below, known_keys, nearest, place_in
from vanwater.plan.part import Part
from vanwater.plan.problems import PlanError, Problem, joined, shown
from vanwater.quantities import bare

__all__ = ["CappedWarning", "as_written", "capped", "misplaced", "put"]


class CappedWarning(UserWarning):
    """A new value that moves less than it seems to, because another one of the same part is nearer."""


def misplaced(model: type[BaseModel], raw: Mapping[str, Any], address: str, value: Any) -> Problem | None:
    """What is wrong with the address of a new value.

    Parameters
    ----------
    model : type of Part
        The plan's model.
    raw : mapping
        The plan's tables with the ready habits filled in.
    address : str
        Names joined by dots.
    value : object
        The new value: a table may be a whole new part, None needs something to take out.

    Returns
    -------
    Problem or None
        None where the plan has that place.
    """
    names = str(address).split(".")
    hint: Any = model
    here: Any = raw
    for depth, name in enumerate(names):
        at_end = depth == len(names) - 1
        below = hint_below(hint, name)
        if _is_part(hint):
            if below is None:
                return _unknown(names, depth, known_keys(hint))
            field = next(field for key, field in hint.model_fields.items() if name in (field.alias or key, key))
            here = here.get(name) if isinstance(here, Mapping) else None
            if here is None and not at_end:
                if field.default is None and _is_part(below):
                    return _absent(names, depth)
                here = {}
        elif isinstance(here, Mapping) and below is not None:
            new = value is not None and (isinstance(value, Mapping) or not _is_part(below))
            if name not in here and not (at_end and new):
                return _lacking(names, depth, here, _is_part(below))
            here = here.get(name)
        elif isinstance(here, list | tuple) and place_in(here, name) is not None:
            here = here[int(name)]
        else:
            return Problem(joined(names), "There is no such place in the plan.", "the address of a value")
        hint = below
    return None


def _is_part(hint: Any) -> bool:
    return isinstance(hint, type) and issubclass(hint, BaseModel)


def _unknown(names: list[str], depth: int, known: tuple[str, ...]) -> Problem:
    slip = _meant(names, depth, known)
    return Problem(joined(names), f"{shown(names[depth])} is not known here.", f"one of {', '.join(known)}", slip)


def _absent(names: list[str], depth: int) -> Problem:
    table = joined(names[: depth + 1])
    return Problem(joined(names), f"The plan has no table [{table}].", f'a whole one, as in "{table}": {{...}}')


def _lacking(names: list[str], depth: int, here: Mapping[str, Any], parts: bool) -> Problem:
    table, known = joined(names[: depth + 1]), tuple(str(name) for name in here)
    few = ", ".join(shown(name)[1:-1] for name in known[:12]) or "none yet"
    whole = f'; a new one is a whole table, as in "{table}": {{...}}' if parts else ""
    expected = f"one that it has ({few}){whole}"
    return Problem(joined(names), f"The plan has no [{table}].", expected, _meant(names, depth, known))


def _meant(names: list[str], depth: int, known: tuple[str, ...]) -> str:
    close = nearest(names[depth], known)
    return f"Did you mean {shown(joined((*names[:depth], close, *names[depth + 1 :])))}?" if close else ""


def put(raw: MutableMapping[str, Any], address: str, value: Any) -> None:
    """Set or, with None, take out the value at an address of nested tables.

    Parameters
    ----------
    raw : mutable mapping
        Tables as the file gives them; changed in place.
    address : str
        Names joined by dots.
    value : object
        The new value.

    Raises
    ------
    PlanError
        When a value stands where the address needs a table.
    """
    *tables, last = address.split(".")
    here: Any = raw
    for name in tables:
        if isinstance(here, MutableMapping):
            if name not in here and value is None:
                return
            below = here.setdefault(name, {})
        else:
            below = here[_position(here, name, address)]
        if isinstance(below, tuple):
            here[name if isinstance(here, MutableMapping) else int(name)] = below = list(below)
        here = below
    if not isinstance(here, MutableMapping):
        here[_position(here, last, address)] = value
    elif value is None:
        here.pop(last, None)
    else:
        here[last] = value


def _position(here: Any, name: str, address: str) -> int:
    place = place_in(here, name) if isinstance(here, list) else None
    if place is None:
        raise PlanError([Problem(address, "There is no such place in the plan.", "the address of a value")])
    return place


def as_written(value: Any) -> Any:
    """A value of which every number counts as written down: without a unit, where one is due.

    Parameters
    ----------
    value : object
        A text, number, list or table.

    Returns
    -------
    object
        The same with its numbers marked by :func:`vanwater.quantities.bare`.
    """
    if isinstance(value, Mapping):
        return {key: as_written(below) for key, below in value.items()}
    if isinstance(value, list | tuple):
        return [as_written(below) for below in value]
    if isinstance(value, int | float | np.number) and not isinstance(value, bool):
        return bare(value)
    return value


def capped(plan: Any, values: Mapping[str, Any]) -> Iterator[str]:
    """What of the new values does not count, because another field of the same part is nearer.

    Parameters
    ----------
    plan : Plan
        The plan that has the new values.
    values : mapping of str to object
        The new values by address; of a table every field is looked at.

    Yields
    ------
    str
        One sentence a field; none where the nearer field is new as well.
    """
    for address, value in values.items():
        whole = isinstance(value, Mapping)
        holder = address if whole else address.rpartition(".")[0]
        part = plan.at(holder) if holder and value is not None else None
        fields = value if whole else (address.rpartition(".")[2],)
        for field in fields:
            by = part.capped(str(field)) if isinstance(part, Part) else None
            if by is not None and by[0] not in fields and f"{holder}.{by[0]}" not in values:
                yield f"{holder}.{field} does not count: {by[1]}"
