"""Which tanks act as one: those that runs join, those that nothing tells apart, and what refills them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from vanwater.plan.drawn import reached
from vanwater.plan.model import Plan
from vanwater.plan.tanks import HOLDS
from vanwater.system.ways import sources, way_to

__all__ = ["TankGroup", "feeding_tank", "runs_behind", "sink_of", "source_of", "tank_groups"]


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
    main : bool
        Whether uses that name no tank, and draw from none by their outlet, have this one of its kind.
    """

    name: str
    holds: str
    tanks: tuple[str, ...]
    main: bool


def tank_groups(plan: Plan) -> tuple[TankGroup, ...]:
    """The tanks of a plan by what acts as one.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of TankGroup
        In the order fresh, grey, urine, cassette, the main one of each first. A tank that a use names is a store of
        its own; fresh tanks that runs join act as one, and one that feeds other outlets than the rest is a store of
        its own; what else no use names acts as one, for fresh water with the main one.

    Notes
    -----
    The main store is the only one, or the only one that no use names; of several fresh ones the one that feeds most
    outlets. Where none of this holds there is no main store: the order in which tanks are written never decides.
    """
    return plan.once("tank groups", lambda: _tank_groups(plan))


def _tank_groups(plan: Plan) -> tuple[TankGroup, ...]:
    sinks = {use.to for use in plan.uses.values()} - set(HOLDS)  # "grey" names what it holds, not a tank
    named = {use.tank for use in plan.uses.values()} | sinks
    groups = []
    for holds in HOLDS:
        tanks = [name for name, tank in plan.tanks.items() if tank.holds == holds and tank.refills is None]
        fed = _joined(plan, tanks) if holds == "fresh" and len(tanks) > 1 else []
        parts, main = _parts(tanks, fed, named)
        for part in parts:
            refills = [name for name, tank in plan.tanks.items() if tank.refills in part]
            groups.append(TankGroup(" + ".join(part), holds, (*part, *refills), part == main))
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


def source_of(plan: Plan, tank: str | None) -> str | None:
    """The store that water is drawn from.

    Parameters
    ----------
    plan : Plan
        The plan.
    tank : str or None
        A fresh tank, or None for the main one.

    Returns
    -------
    str or None
        Its name; empty where the plan has none, None where it has several and no main one.
    """
    return _main(plan, "fresh") if tank is None else _of_tank(plan, tank)


def sink_of(plan: Plan, to: str | None) -> str | None:
    """The store that used water runs into.

    Parameters
    ----------
    plan : Plan
        The plan.
    to : str or None
        A tank, what a tank holds, "outside", or None for the grey one.

    Returns
    -------
    str or None
        Its name; empty where the plan has none, None where it has several and no main one.
    """
    if to == "outside":
        return ""
    return _main(plan, to or "grey") if to is None or to in HOLDS else _of_tank(plan, to)


def _main(plan: Plan, holds: str) -> str | None:
    those = [group for group in tank_groups(plan) if group.holds == holds]
    return next((group.name for group in those if group.main), None if those else "")


def _of_tank(plan: Plan, tank: str) -> str:
    return next((group.name for group in tank_groups(plan) if tank in group.tanks), "")


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


def _parts(tanks: list[str], fed: list[_Fed], named: set[str | None]) -> tuple[list[list[str]], list[str] | None]:
    """Tanks of one kind by what acts as one, the main ones first; and those, or None."""
    feeding = {tank for group in fed for tank in group.tanks}
    loose = {tank for tank in tanks if tank not in named and tank not in feeding}
    alone = [{tank} for tank in tanks if tank in named and tank not in feeding]
    free = [group for group in fed if not group.tanks & named]
    chief = _chief(free or ([] if loose else fed))
    first = loose.union(chief.tanks if chief else ())
    parts = [group.tanks for group in fed if group is not chief] + alone + ([first] if first else [])
    ordered = [[tank for tank in tanks if tank in part] for part in parts]
    if len(ordered) == 1:
        return ordered, ordered[0]
    main = [tank for tank in tanks if tank in first] if first and (chief or not free) else None
    return sorted(ordered, key=lambda part: (part != main, tanks.index(part[0]))), main


def _chief(fed: list[_Fed]) -> _Fed | None:
    """Of tanks that feed different outlets those that feed most of them; None where that is not clear."""
    ranked = sorted(fed, key=lambda group: -len(group.outlets))
    alike = len(ranked) > 1 and len(ranked[0].outlets) == len(ranked[1].outlets)
    return ranked[0] if ranked and not alike else None


@dataclass(frozen=True, slots=True)
class _Fed:
    """Fresh tanks that give water to the same outlets."""

    tanks: set[str]
    outlets: set[str]


def _joined(plan: Plan, main: list[str]) -> list[_Fed]:
    """Tanks that give water to the same outlets, by the runs; those that feed none are left out."""
    groups: list[_Fed] = []
    for outlet in plan.outlets:
        tanks = set(sources(plan, way_to(plan, outlet))[0]) & set(main)
        if tanks:
            touched = [other for other in groups if other.tanks & tanks]
            together = _Fed(
                tanks.union(*(other.tanks for other in touched)), {outlet}.union(*(other.outlets for other in touched))
            )
            groups = [*(other for other in groups if other not in touched), together]
    return sorted(groups, key=lambda group: min(map(main.index, group.tanks)))
