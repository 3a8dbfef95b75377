"""Places that a plan points at before they are written: half a plan is answered without what leads there."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from vanwater.plan.address import nearest
from vanwater.plan.raw import Tables, copied, table, text

__all__ = ["NAME", "Awaited", "is_slip", "without"]

NAME = r"^\w[\w \-]{0,39}$"
"""What a place of the plan may be called."""

SLIP = 0.75
"""How like a name of the plan another one is that is taken for a slip of the pen (a letter or two in eight)."""

_WHOLE = {("runs", "from"), ("runs", "to"), ("pads", "tank"), ("accumulators", "at"), ("cables", "to")}
"""Fields without which their part is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Awaited:
    """A place that is not written yet, and what points at it.

    Parameters
    ----------
    place : tuple of str
        What points at it: table, entry and field.
    name : str
        The place that it points at.
    table : str
        The table in which it would stand; empty where it may stand in several.
    close : str
        A name of the plan that is somewhat like it; empty for none.
    run : tuple of str
        Start and end of the run that points at it; empty for what is no run.
    """

    place: tuple[str, str, str]
    name: str
    table: str = ""
    close: str = ""
    run: tuple[str, ...] = ()


def is_slip(name: str, known: tuple[str, ...]) -> bool:
    """Whether a name is none of the plan's but so like one that it was meant; "tap 2" beside "tap 1" is not."""
    close = nearest(name, known, SLIP)
    return bool(close) and (_numbers(close) == _numbers(name) or _bare(close) != _bare(name))


def _numbers(name: str) -> list[str]:
    return re.findall(r"\d+", name)


def _bare(name: str) -> str:
    return re.sub(r"\d+", "", name).strip().casefold()


def without(raw: Tables, awaited: Iterable[Awaited]) -> dict[str, Any]:
    """The tables without what points at places that are not written yet.

    Parameters
    ----------
    raw : mapping
        The plan's tables.
    awaited : iterable of Awaited
        What points where.

    Returns
    -------
    dict
        Runs, pads, accumulators and cables are left out whole, of the others the field; of a list of outlets the name,
        and the list where fewer than two are left.
    """
    left = copied(dict(raw))
    for what in awaited:
        kind, entry, field = what.place
        part = table(table(left, kind), entry)
        if kind == "together":
            if "outlets" not in part:  # fewer than two were left of it already
                continue
            kept = [outlet for outlet in part["outlets"] if outlet != what.name]
            left[kind][entry]["outlets"] = kept
            if len(kept) < 2:
                del left[kind][entry]
        elif (kind, field) in _WHOLE:
            left[kind].pop(entry, None)
        elif text(part, field) == what.name:
            del left[kind][entry][field]
    return left
