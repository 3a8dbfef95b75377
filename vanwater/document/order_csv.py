"""What to order of a plan as a table file, which goes to who sells it."""

from __future__ import annotations

import csv
import io

from vanwater.answers.core.escaping import plain
from vanwater.answers.parts.answer import Parts, parts
from vanwater.answers.parts.pieces import ordered, taken
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH, MASS, retold

__all__ = ["order_csv"]

_HEADS = ("what", "size", "quantity", "unit", "where", "mass each", "price each")


def order_csv(plan: Plan) -> str:
    """What to order, one thing a line.

    Parameters
    ----------
    plan : Plan
        The plan, in the units that are read.

    Returns
    -------
    str
        Comma-separated values with one line of headings; names of a plan cannot act as formulas.
    """
    file = io.StringIO()
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(_HEADS)
    for row in _rows(plan, parts(plan)):
        writer.writerow([plain(cell, "csv") for cell in row])
    return file.getvalue()


def _rows(plan: Plan, answer: Parts) -> list[tuple[str, ...]]:
    unit = LENGTH.unit(plan.us)
    rows: list[tuple[str, ...]] = [
        (
            "hose or pipe",
            retold(size.name, plan.us),
            f"{float(LENGTH.show(size.order.likely, plan.us)):.9g}",
            unit,
            "; ".join(size.runs),
            "",
            "",
        )
        for size in answer.sizes
    ]
    rows += [
        (
            each.name.text(plan.us),
            each.on.text(plan.us) if each.on is not None else "",
            str(each.count),
            "",
            "; ".join(each.places),
            "",
            "",
        )
        for each in ordered(plan)
    ]
    rows += [
        (
            part.name,
            part.told(plan.us),
            "1",
            "",
            place,
            MASS.text(part.mass, plan.us) if part.mass is not None else "",
            f"{part.price:.9g}" if part.price is not None else "",
        )
        for _, place, part in taken(plan)
    ]
    return rows
