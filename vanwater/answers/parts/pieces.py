"""Fittings, connections and parts of stock and shelf, counted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import BySystem, Count, Say, in_either, say
from vanwater.answers.core.working import limit, stated
from vanwater.answers.parts.lengths import size_of
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.stock import STOCKED, StockPart
from vanwater.plan.tables import fittings
from vanwater.quantities import MASS, MONEY

__all__ = ["Ordered", "joint_rows", "ordered", "part_rows", "priced", "taken"]

_JOINED = ("tanks", "mains", "pumps", "heaters", "tees", "mixers", "outlets")
_NONE_OF_ITS_OWN = ("bend", "tee run", "tee branch", "manifold", "mixer", "heater", "outlet")
"""Kinds of fittings that are no part of their own: laid in the hose, or a side of a tee, a tap, a heater, a tank."""
_SHELF = "the builder's own shelf"


@dataclass(frozen=True, slots=True)
class Ordered:
    """A fitting to order.

    Parameters
    ----------
    name : BySystem
        What it is.
    on : BySystem or None
        The hose or pipe that it sits on.
    count : int
        How many.
    places : tuple of str
        Runs, or the tees themselves, where they go.
    """

    name: BySystem
    on: BySystem | None
    count: int
    places: tuple[str, ...]


def ordered(plan: Plan) -> tuple[Ordered, ...]:
    """The fittings of a plan, each once.

    A tee stands in the plan as its place and as the losses of the runs through it: it is ordered once, by its ends.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Ordered
        Those on runs in the order in which the plan first names them, then tees and mixing taps.
    """
    held: dict[tuple[str, str], dict[str, int]] = {}
    known = fittings()
    for name, run in plan.runs.items():
        for key, count in run.fittings.items():
            if count and not (key in known and known[key].kind in _NONE_OF_ITS_OWN):
                held.setdefault((key, size_of(plan, name)), {})[name] = count
    for name in plan.tees:
        ends = [size_of(plan, run) for run, part in plan.runs.items() if name in (part.start, part.end)]
        ends += ["accumulator" for part in plan.accumulators.values() if part.at == name]
        if ends:
            sizes = Counter(size for size in ends if size)
            on = ", ".join(f"{count} × {size}" for size, count in sizes.items())
            held.setdefault((f"tee or manifold with {len(ends)} ends", on), {})[name] = 1
    for name, part in plan.mixers.items():
        kind = "thermostatic mixing valve" if part.kind == "thermostatic" else "mixing tap"
        held.setdefault((kind, ""), {})[name] = 1
    return tuple(
        Ordered(in_either(name), in_either(on) if on else None, sum(at.values()), tuple(at))
        for (name, on), at in held.items()
    )


def joint_rows(plan: Plan) -> Iterator[tuple[Cell, ...]]:
    """Each connection that the plan names.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    tuple
        Connection, count, where.
    """
    held: dict[str, list[str]] = {}
    for table in _JOINED:
        for name, part in getattr(plan, table).items():
            if getattr(part, "joint", None):
                held.setdefault(part.joint, []).append(name)
    for name, run in plan.runs.items():
        for joint in (run.start_joint, run.end_joint):
            if joint:
                held.setdefault(joint, []).append(name)
    for joint, places in held.items():
        yield joint, str(len(places)), ", ".join(dict.fromkeys(places))


def part_rows(plan: Plan) -> Iterator[tuple[Cell, ...]]:
    """Each part that the plan takes from the stock or from the shelf.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    tuple
        Part, name in the plan, what it is, dry mass, price.
    """
    for _, place, part in taken(plan):
        mass = limit(f"mass of {part.name}", part.mass, MASS, part.basis).amount if part.mass is not None else None
        yield (
            part.name,
            place,
            part.told(plan.us) or None,
            mass,
            price_of(part).amount if part.price is not None else None,
        )


def price_of(part: StockPart) -> Number:
    """What a part costs, in the builder's own money."""
    assert part.price is not None
    return limit(f"price of {part.name}", part.price, MONEY, _SHELF)


def priced(plan: Plan) -> tuple[Number | None, Say | None]:
    """What the parts cost that have a price.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    (Number or None, Say or None)
        None where no part has a price; and how many parts have none, None where all have one.
    """
    prices = list(_prices(plan))
    if not prices:
        return None, None
    cost = stated(
        "price of the parts that name one",
        sum(price for _, price in prices),
        MONEY,
        "The prices of the parts add up; a part that names none is left out.",
        parts=[(name, (price, MONEY)) for name, price in prices],
        source=_SHELF,
    ).keyed("plan", "price", exact="as the shelf says")
    lacking = sum(part.price is None for _, _, part in taken(plan))
    return cost, say("{parts}", parts=Count(lacking, "part has", "parts have")) if lacking else None


def _prices(plan: Plan) -> Iterator[tuple[str, float]]:
    """Each part and fitting with a price, by its place."""
    for place, _, part in taken(plan):
        if part.price is not None:
            yield place, part.price
    mine = plan.own_shelf.parts.get("fittings", {})
    for run, said in plan.runs.items():
        for fitting, count in said.fittings.items():
            price = mine[fitting].price if fitting in mine else None
            if price is not None and count:
                yield f"{count} {fitting} in {run}", count * price


def taken(plan: Plan) -> Iterator[tuple[str, str, StockPart]]:
    """Each place of the plan that names a part, with that part.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    (str, str, StockPart)
        Address and name in the plan, and the part of the stock or of the shelf.
    """
    for table in STOCKED[:-1]:
        for name in plan.own.get(table, {}) if isinstance(getattr(plan, table), Mapping) else ("",):
            part = plan.stocked(table, name)
            if part is not None:
                yield joined((table, name)) if name else table, name or table, part
