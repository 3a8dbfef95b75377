"""The rows of the tables of stock sizes that a plan names, with their sources."""

from __future__ import annotations

from dataclasses import dataclass

from vanwater.plan.model import Plan
from vanwater.plan.tables import FittingRow, OutletRow, PipeRow, fittings, outlets, pipes
from vanwater.quantities import retold

__all__ = ["Stock", "stock"]


@dataclass(frozen=True, slots=True)
class Stock:
    """A row of the tables of stock sizes that the plan names.

    Parameters
    ----------
    key, name : str
        Its key and its name.
    source : str
        Where its numbers come from.
    """

    key: str
    name: str
    source: str


def stock(plan: Plan) -> tuple[Stock, ...]:
    """The rows of the tables of stock sizes that a plan names, each once.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Stock
        Sizes, fittings, outlets, parts of the stock, and the ready habits.
    """
    runs = plan.runs.values()
    sizes = [pipes()[run.size] for run in runs if run.size]
    joined = [fittings()[key] for run in runs for key in run.fittings if key not in plan.fittings]
    ends = [outlets()[outlet.type] for outlet in plan.outlets.values() if outlet.type]
    named: list[PipeRow | FittingRow | OutletRow] = [*sizes, *joined, *ends]
    rows = [Stock(row.key, retold(row.name, plan.us), row.source) for row in named]
    own = [Stock(key, "the plan's own fitting", fitting.source) for key, fitting in plan.fittings.items()]
    parts = [Stock(part.name, part.told(plan.us) or part.table, part.basis) for part in plan.parts_of_stock()]
    ready = plan.household.habits
    habits = [Stock(ready, f"ready habits: {ready}", "common practice")] if ready else []
    return tuple(dict.fromkeys((*rows, *own, *parts, *habits)))
