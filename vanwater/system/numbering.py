"""The numbers of pieces and runs, along the water: the same on the drawing, in the lists, on the tags in the van."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.supply import Run
from vanwater.plan.tables import fittings

__all__ = ["PLACES", "RIDING", "Numbering", "numbering"]

PLACES = ("tanks", "mains", "pumps", "accumulators", "heaters", "tees", "mixers", "outlets")
"""The tables of a plan whose parts have a number."""

RIDING = ("strainer", "filter", "check valve", "valve", "trap", "meter", "uv", "connector")
"""Kinds of fittings with a number of their own, as they are looked for later; a plan's own fittings have one too."""


@dataclass(frozen=True, slots=True)
class Numbering:
    """What is called by which number.

    Parameters
    ----------
    pieces : mapping of str to int
        By address, those that ride on a run by the address of their count.
    runs : mapping of str to int
        By name.
    """

    pieces: Mapping[str, int]
    runs: Mapping[str, int]


def numbering(plan: Plan) -> Numbering:
    """Number the pieces and runs of a plan along the water, from the tanks to the outlets.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Numbering
        From one on; a part to which no run leads follows when its turn comes.
    """
    return plan.once("numbering", lambda: _numbered(plan))


def _numbered(plan: Plan) -> Numbering:
    tables = {name: table for table in PLACES for name in getattr(plan, table)}
    pieces: dict[str, int] = {}
    runs: dict[str, int] = {}
    for place in _along(plan, tables):
        pieces[joined((tables[place], place))] = len(pieces) + 1
        for name, run in plan.runs.items():
            if run.start == place:
                runs[name] = len(runs) + 1
                for key in _riding(run):
                    pieces[joined(("runs", name, "fittings", key))] = len(pieces) + 1
    return Numbering(pieces, runs)


def _riding(run: Run) -> tuple[str, ...]:
    """The fittings of a run that have a number."""
    known = fittings()
    return tuple(
        key for key, count in run.fittings.items() if count and (key not in known or known[key].kind in RIDING)
    )


def _along(plan: Plan, tables: Mapping[str, str]) -> list[str]:
    """Places in the order in which the water comes to them; those of one distance as the plan has them."""
    onward: dict[str, list[str]] = {}
    arriving: dict[str, int] = dict.fromkeys(tables, 0)
    ways = [(part.at, name) for name, part in plan.accumulators.items()]
    ways += [(part.tank, name) for name, part in plan.pumps.items() if part.tank in plan.tanks]
    ways += [(run.start, run.end) for run in plan.runs.values() if not run.run_back]
    for start, end in ways:
        if start in tables and end in tables:
            onward.setdefault(start, []).append(end)
            arriving[end] += 1
    order: list[str] = []
    ready = [place for place in tables if not arriving[place]]
    while len(order) < len(tables):
        place = ready.pop(0) if ready else next(place for place in tables if place not in order)  # a ring has no begin
        if place in order:
            continue
        order.append(place)
        freed = []
        for end in onward.get(place, ()):
            arriving[end] -= 1
            if not arriving[end]:
                freed.append(end)
        ready = [*freed, *ready]
    return order
