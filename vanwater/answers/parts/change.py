"""What a change of the plan adds to the list of parts, and what it drops."""

from __future__ import annotations

import math
from collections.abc import Mapping

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.statement import in_either, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.parts.lengths import Size, runs_by_size
from vanwater.answers.parts.pieces import ordered, taken
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH
from vanwater.system.batch import Batch

__all__ = ["parts_changed"]


def parts_changed(plan: Plan, other: Plan) -> tuple[Table, ...]:
    """The lists of parts of two plans, where they differ.

    Parameters
    ----------
    plan, other : Plan
        The plan, and what it becomes.

    Returns
    -------
    tuple of Table
        Hose and pipe by length, fittings and parts by count; a table without rows where nothing differs.
    """
    before, after = ({size.name: size for size in runs_by_size(Batch(each))} for each in (plan, other))
    counts = [{**_fittings(each), **_parts(each)} for each in (plan, other)]
    return (
        Table(
            "hose and pipe",
            say("Hose and pipe in the runs: less than now is to drop, more is to order."),
            (Column("size"), Column("now", LENGTH), Column("then", LENGTH), Column("difference", LENGTH)),
            tuple(
                row for name in dict.fromkeys((*before, *after)) if (row := _length(name, before, after)) is not None
            ),
        ),
        Table(
            "pieces",
            say("Fittings and parts: to add, and to drop."),
            (Column("piece"), Column("now"), Column("then"), Column("to do")),
            tuple(
                (say("{name}", name=in_either(name)), str(now), str(then), _told(then - now))
                for name in dict.fromkeys((*counts[0], *counts[1]))
                if (now := counts[0].get(name, 0)) != (then := counts[1].get(name, 0))
            ),
        ),
    )


def _length(name: str, before: Mapping[str, Size], after: Mapping[str, Size]) -> tuple[Cell, ...] | None:
    now, then = before.get(name), after.get(name)
    called = say("{name}", name=in_either(name))
    if now is None or then is None:
        held = now or then
        assert held is not None
        amount = held.cut.amount
        return (called, None, amount, amount) if now is None else (called, amount, None, None)
    if math.isclose(now.cut.likely, then.cut.likely, rel_tol=1e-9):
        return None
    return called, now.cut.amount, then.cut.amount, then.cut.less(now.cut)


def _fittings(plan: Plan) -> dict[str, int]:
    """By name and what they sit on, as the list of parts has them."""
    told: dict[str, int] = {}
    for fitting in ordered(plan):
        on = f", on {fitting.on.metric}" if fitting.on is not None else ""
        name = f"{fitting.name.metric}{on}"
        told[name] = told.get(name, 0) + fitting.count
    return told


def _parts(plan: Plan) -> dict[str, int]:
    """What is taken from the stock or the shelf."""
    told: dict[str, int] = {}
    for _, _, part in taken(plan):
        told[part.name] = told.get(part.name, 0) + 1
    return told


def _told(more: int) -> str:
    return f"add {more}" if more > 0 else f"drop {-more}"
