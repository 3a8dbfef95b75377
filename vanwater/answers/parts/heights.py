"""Where the pieces sit above the van's floor, and how the runs rise and fall, as far as the plan says it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from vanwater.answers.core.amount import Amount
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.statement import say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import planned
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.quantities import PLACE, SHARE, Quantity
from vanwater.system.numbering import numbering

__all__ = ["heights"]

_PLACES = ("tanks", "pumps", "mains", "heaters", "mixers", "outlets")
"""Tables of pieces that may have a height."""

_COLUMNS = (
    Column("what"),
    Column("height", PLACE),
    Column("lowest", PLACE),
    Column("highest", PLACE),
    Column("falls", SHARE),
)


def heights(plan: Plan) -> Table:
    """The table of heights: the pieces, then the runs.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Table
        A row each of which the plan says a height or a fall, and the columns in which something stands.
    """
    caption = say("Heights above the van's floor, and how the runs lie.")
    return Table("heights", caption, _COLUMNS, tuple(_rows(plan))).known(always=1)


def _rows(plan: Plan) -> Iterator[tuple[Cell, ...]]:
    """What it is, its height, its lowest and highest place, and how much it falls."""
    for table in _PLACES:
        for name in getattr(plan, table):
            height = _said(plan, (table, name, "z"), PLACE)
            if height is not None:
                yield name, height, None, None, None
    numbers = numbering(plan).runs
    for name in sorted(plan.runs, key=lambda run: numbers[run]):
        told = [_said(plan, ("runs", name, key), PLACE) for key in ("lowest", "highest")]
        falls = _said(plan, ("runs", name, "slope"), SHARE)
        if any(value is not None for value in (*told, falls)):
            yield f"R{numbers[name]} {name}", None, *told, falls


def _said(plan: Plan, address: tuple[str, ...], quantity: Quantity) -> Amount | None:
    number = planned(plan, joined(address), quantity)
    return number.amount if math.isfinite(number.likely) else None
