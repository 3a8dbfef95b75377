"""A part taken from the stock or from the builder's own shelf in place of the one that the plan has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.plan.stock import INSTEAD, generic

__all__ = ["PICKED", "STOCK", "fitting", "is_pick", "picked", "picks"]

STOCK = "stock"
"""The field by which a part names what it is taken from."""

PICKED = ("pumps", "accumulators", "heaters")
"""Tables whose parts are picked as a whole; a run's hose is picked by its size."""


def is_pick(address: str) -> bool:
    """Whether an address is where a part names its stock."""
    return address.endswith(f".{STOCK}")


def fitting(plan: Plan, address: str) -> tuple[str, ...]:
    """The parts of shelf and stock that can take the place of a part of a plan, the builder's own first.

    Parameters
    ----------
    plan : Plan
        The plan.
    address : str
        Where the part names its stock: "pumps.pump.stock".

    Returns
    -------
    tuple of str
        Their names; what would contradict the plan is not among them.
    """
    table = address.split(".")[0]
    known = dict.fromkeys((*plan.own_shelf.parts.get(table, {}), *generic().get(table, {})))
    return plan.once(f"fitting {address}", lambda: tuple(name for name in known if _fits(plan, address, name)))


def _fits(plan: Plan, address: str, name: str) -> bool:
    try:
        plan.changed({address.rpartition(".")[0]: picked(plan, address, name)})
    except PlanError:
        return False
    return True


def picks(plan: Plan, addresses: Iterable[str]) -> Iterator[str]:
    """Where the parts that some addresses belong to name their stock, each once."""
    parts = dict.fromkeys(tuple(address.split(".")[:2]) for address in addresses if address.count(".") > 1)
    for table, name in parts:
        if table in PICKED and name in getattr(plan, table):
            yield f"{table}.{name}.{STOCK}"


def picked(plan: Plan, address: str, name: str) -> dict[str, Any]:
    """A part of a plan with a part of the stock in its place.

    Parameters
    ----------
    plan : Plan
        The plan.
    address : str
        Where the part names its stock: "pumps.pump.stock".
    name : str
        The part of the stock.

    Returns
    -------
    dict
        The whole part as the file would hold it: what no part of the stock says, such as its place, stays the
        builder's own word.
    """
    table, part, _ = address.split(".")
    known: Mapping[str, Any] = {**generic().get(table, {}), **plan.own_shelf.parts.get(table, {})}
    says = {key for other in known.values() for key in other.fields}
    says |= {instead for key in tuple(says) for instead in INSTEAD.get((table, key), ())}
    own: Mapping[str, Any] = plan.own.get(table, {}).get(part, {})
    return {STOCK: name} | {key: value for key, value in own.items() if key not in says and key != STOCK}
