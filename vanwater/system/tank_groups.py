"""Which tanks act as one: those that runs join, those that nothing tells apart, and what refills them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from vanwater.plan.drawn import reached
from vanwater.plan.model import Plan
from vanwater.plan.tanks import HOLDS
from vanwater.system.ways import sources, way_to

__all__ = ["TankGroup", "feeding_tank", "runs_behind", "tank_groups"]


@dataclass(frozen=True, slots=True)
class TankGroup:
    """Tanks that act as one store.

    Parameters
    ----------
    name : str
        Names of its tanks, joined; those that refill it left out.
    holds : str
        "fresh", "grey", "urine" or "cassette".
    tanks : tuple of str
        Its tanks, those that refill it last.
    """

    name: str
    holds: str
    tanks: tuple[str, ...]


def tank_groups(plan: Plan) -> tuple[TankGroup, ...]:
    """The tanks of a plan by what acts as one.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of TankGroup
        In the order fresh, grey, urine, cassette. A tank that a use names is a store of its own; fresh tanks that
        runs join act as one, and one that feeds other outlets than the rest is a store of its own; what else no use
        names acts as one.
    """
    sinks = {use.to for use in plan.uses.values()} - set(HOLDS)  # "grey" names what it holds, not a tank
    named = {use.tank for use in plan.uses.values()} | sinks
    groups = []
    for holds in HOLDS:
        main = [name for name, tank in plan.tanks.items() if tank.holds == holds and tank.refills is None]
        joined = _joined(plan, main) if holds == "fresh" and len(main) > 1 else []
        for part in _parts(main, joined, named):
            refills = [name for name, tank in plan.tanks.items() if tank.refills in part]
            groups.append(TankGroup(" + ".join(part), holds, (*part, *refills)))
    return tuple(groups)


def feeding_tank(plan: Plan, outlet: str) -> str | None:
    """The tank that an outlet draws from.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str
        Name of the outlet, or an empty text.

    Returns
    -------
    str or None
        Of joined ones the first; None where no tank feeds it.
    """
    return (way_to(plan, outlet).tank or None) if outlet else None


def runs_behind(plan: Plan, tanks: Collection[str]) -> tuple[str, ...]:
    """The runs that the water of some tanks fills, up to the outlets and to tanks that are not among them.

    Parameters
    ----------
    plan : Plan
        The plan.
    tanks : collection of str
        Names of tanks.

    Returns
    -------
    tuple of str
        In the order of the plan; drains behind the outlets and the hose before a mains inlet are left out.
    """
    supply = {
        name: run
        for name, run in plan.runs.items()
        if run.start not in plan.outlets and (run.start in tanks or run.start not in plan.tanks)
    }
    filled = reached(tanks, ((run.start, run.end) for run in supply.values()))
    return tuple(name for name, run in supply.items() if run.start in filled)


def _parts(main: list[str], joined: list[set[str]], named: set[str | None]) -> list[list[str]]:
    """Tanks of one kind by what acts as one; what no use names comes first."""
    feeding = set().union(*joined)
    free = [tanks for tanks in joined if not tanks & named]
    pooled = (free[0] if free else set()) | {name for name in main if name not in named and name not in feeding}
    bound = [tanks for tanks in joined if tanks & named] + [{name} for name in main if name in named - feeding]
    parts = [[name for name in main if name in tanks] for tanks in (*free[1:], *bound)]
    first = [name for name in main if name in pooled]
    return ([first] if first else []) + sorted(parts, key=lambda part: main.index(part[0]))


def _joined(plan: Plan, main: list[str]) -> list[set[str]]:
    """Tanks that give water to the same outlets, by the runs; those that feed none are left out."""
    groups: list[set[str]] = []
    for outlet in plan.outlets:
        tanks = set(sources(plan, way_to(plan, outlet))[0]) & set(main)
        if tanks:
            apart = [other for other in groups if not other & tanks]
            groups = [*apart, tanks.union(*(other for other in groups if other & tanks))]
    return sorted(groups, key=lambda tanks: min(map(main.index, tanks)))
