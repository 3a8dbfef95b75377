"""What the parts of a plan cost, where the builder's shelf names prices."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from vanwater.answers.core.number import Number
from vanwater.answers.parts.pieces import priced
from vanwater.plan.model import Plan
from vanwater.plan.stock import SINGLE, STOCKED

__all__ = ["PRICE", "price_of", "unpriced"]

PRICE = "plan.price"
"""The key of what the parts of a plan cost."""

_PARTS = STOCKED[:-1]


def price_of(plan: Plan) -> Number | None:
    """The prices of a plan's parts together, in the builder's own money.

    Parameters
    ----------
    plan : Plan
        The plan; its parts are priced by the shelf that it names.

    Returns
    -------
    Number or None
        None where no part names a price.
    """
    return priced(plan)[0]


def unpriced(plan: Plan, other: Plan) -> tuple[str, ...]:
    """The parts that differ between two plans and have no price in one of them.

    Parameters
    ----------
    plan, other : Plan
        The two plans.

    Returns
    -------
    tuple of str
        Their addresses: with one of them, what one plan costs more than the other is not known.
    """
    each = {**dict(_parts(plan)), **dict(_parts(other))}
    return tuple(address for address, (table, name) in each.items() if _lost(plan, other, table, name))


def _parts(plan: Plan) -> Iterator[tuple[str, tuple[str, str]]]:
    for table in _PARTS:
        if table in SINGLE:
            if getattr(plan, table) is not None:
                yield table, (table, "")
            continue
        for name in getattr(plan, table):
            yield f"{table}.{name}", (table, name)


def _own(plan: Plan, table: str, name: str) -> Mapping[str, object] | None:
    own = plan.own.get(table)
    return own.get(name) if name and own is not None else own


def _lost(plan: Plan, other: Plan, table: str, name: str) -> bool:
    both = [_own(each, table, name) for each in (plan, other)]
    if both[0] == both[1]:
        return False
    prices = [_price(each, table, name) for each, own in zip((plan, other), both, strict=True) if own is not None]
    return None in prices


def _price(plan: Plan, table: str, name: str) -> float | None:
    part = plan.stocked(table, name)
    return part.price if part is not None else None
