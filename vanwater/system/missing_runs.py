"""Runs that are not drawn yet: to which places nothing leads, from where it would come, and which outlets wait.

A missing run is looked for by what it would join: a pump comes from a tank, a heater and a cold leg from the cold
side, a hot leg from the heater. Where one place alone can be meant it is named, and the next run is looked for as if
that one were drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Literal

from vanwater.plan.drawn import reached
from vanwater.plan.model import Plan

__all__ = ["LooseEnd", "MissingRun", "missing_runs", "waiting_for"]

PASSED = ("pumps", "heaters", "tees", "mixers")
"""Tables of pieces that water passes, those first that a way needs first."""

Side = Literal["hot", "cold", ""]


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingRun:
    """A run that is not drawn yet.

    Parameters
    ----------
    end : str
        The place to which nothing leads; of a mixing tap one of its sides may be there.
    starts : tuple of str
        Where it may begin; one name where it is clear, none where nothing can be said.
    side : str
        "hot" or "cold" for one side of a mixing tap, else empty.
    outlets : tuple of str
        Outlets that wait for it.
    """

    end: str
    starts: tuple[str, ...]
    side: Side
    outlets: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseEnd:
    """A piece that no run leaves, or that none touches.

    Parameters
    ----------
    table, name : str
        The piece.
    reached : bool
        Whether a run leads to it, or none has to.
    """

    table: str
    name: str
    reached: bool


@dataclass(slots=True)
class _Graph:
    """Runs as they are drawn, and those that were found missing.

    Parameters
    ----------
    plan : Plan
        The plan.
    runs : list of tuple of str
        Start and end of each run; those that end in a tank lead nowhere further.
    sources : set of str
        Places that water comes from.
    """

    plan: Plan
    runs: list[tuple[str, str]]
    sources: set[str]
    heated: set[str] = field(init=False)
    fed: set[str] = field(init=False)

    def __post_init__(self) -> None:
        self.settle()

    def settle(self) -> None:
        """Follow the water again."""
        self.heated = reached(self.plan.heaters, self.runs)
        self.fed = reached(self.sources, self.runs)

    def arriving(self, place: str) -> list[str]:
        return [start for start, end in self.runs if end == place]

    def leaving(self, place: str) -> list[str]:
        return [end for start, end in self.runs if start == place]

    def behind(self, place: str) -> set[str]:
        return reached((place,), self.runs)

    def side(self, place: str) -> Side:
        """Which side of a mixing tap a place serves, by what the other side is; empty where that is not known."""
        behind = self.behind(place)
        if not behind.isdisjoint(self.plan.heaters):
            return "cold"
        for mixer in self.plan.mixers:
            for start in self.arriving(mixer) if mixer in behind else ():
                if start in self.heated and start not in behind:
                    return "cold"
                if start in self.fed and (start not in behind or mixer == place):
                    return "hot"
        return ""


def waiting_for(plan: Plan, place: str) -> tuple[str, ...]:
    """Outlets that lie behind a place, one that is not written yet among them.

    Parameters
    ----------
    plan : Plan
        The plan.
    place : str
        The place.

    Returns
    -------
    tuple of str
        In the order of the plan.
    """
    behind = reached((place,), _inner(plan))
    return tuple(outlet for outlet in plan.outlets if outlet in behind)


def missing_runs(plan: Plan) -> tuple[MissingRun | LooseEnd, ...]:
    """The runs that a plan lacks, and the pieces that hang loose.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of MissingRun or LooseEnd
        None while no run is drawn at all; drains of waste tanks lack nothing.
    """
    if not _drawn(plan):
        return ()
    sources = {name for name, tank in plan.tanks.items() if tank.holds == "fresh"} | set(plan.mains)
    sources |= {what.name for what in plan.awaited}  # told by themselves
    sources |= {name for name, pump in plan.pumps.items() if pump.kind == "submersible"}
    runs = _inner(plan)
    drained = reached((name for name, tank in plan.tanks.items() if tank.holds != "fresh"), runs)
    graph = _Graph(plan, [ends for ends in runs if ends[0] not in drained], sources)
    told: list[tuple[str, tuple[str, ...], Side]] = []
    while roots := [place for place in _roots(graph) if place not in drained]:
        root = max(roots, key=lambda place: _urgency(graph, place))
        side = graph.side(root)
        starts = tuple(_starts(graph, root, side))
        told.append((root, starts, side if root in plan.mixers and graph.arriving(root) else ""))
        graph.runs.append((starts[0] if len(starts) == 1 else "", root))
        graph.sources.add("")
        graph.settle()
    missing = (
        MissingRun(
            end=root,
            starts=starts,
            side=side,
            outlets=tuple(outlet for outlet in plan.outlets if outlet in graph.behind(root)),
        )
        for root, starts, side in told
    )
    return (*missing, *_loose(graph, drained))


def _urgency(graph: _Graph, root: str) -> tuple[bool, bool, int]:
    """Pumps before what leads to a heater, that before the rest; among those alike the one that feeds most outlets."""
    behind = graph.behind(root)
    to_heater = not behind.isdisjoint(graph.plan.heaters.keys() - {root})
    return root in graph.plan.pumps, to_heater, len(behind & graph.plan.outlets.keys())


def _drawn(plan: Plan) -> list[tuple[str, str]]:
    """Start and end of each run, of those too that lead to or from what is not written yet."""
    awaited = dict.fromkeys((what.place[1], what.run) for what in plan.awaited if what.run)
    return [*((run.start, run.end) for run in plan.runs.values()), *((ends[0], ends[-1]) for _, ends in awaited)]


def _inner(plan: Plan) -> list[tuple[str, str]]:
    """Those of them that do not end in a tank or an inlet."""
    return [ends for ends in _drawn(plan) if ends[1] not in plan.tanks and ends[1] not in plan.mains]


def _roots(graph: _Graph) -> Iterator[str]:
    """Places to which a run is missing: pieces that lead on and outlets that nothing feeds, mixing taps of one side."""
    plan = graph.plan
    for place in (name for table in PASSED for name in getattr(plan, table)):
        arriving = len(graph.arriving(place))
        if place not in graph.sources and graph.leaving(place) and arriving < (2 if place in plan.mixers else 1):
            yield place
    yield from (outlet for outlet in plan.outlets if not graph.arriving(outlet) and outlet not in graph.sources)


def _starts(graph: _Graph, root: str, side: Side) -> Sequence[str]:
    """The places from which a missing run may come: such as lead nowhere yet, else tees with an end to spare."""
    plan, behind = graph.plan, graph.behind(root)
    fresh = [name for name, tank in plan.tanks.items() if tank.holds == "fresh" and tank.refills is None]
    if root in plan.pumps:
        unused = [tank for tank in fresh if not graph.leaving(tank)]
        return unused or fresh
    awaited = dict.fromkeys(what.name for what in plan.awaited if what.run)
    passed = [(name, table) for table in PASSED for name in getattr(plan, table)]
    ends = [
        place
        for place, table in [*passed, *((name, "") for name in awaited)]
        if not graph.leaving(place) and place not in behind and (graph.arriving(place) or table != "tees")
    ]
    mixers = [place for place in ends if place in plan.mixers]
    ends = mixers if mixers and root in plan.outlets else [place for place in ends if place not in mixers]
    tees = [tee for tee in plan.tees if tee in graph.fed - behind]
    spare = [tee for tee in tees if len(graph.leaving(tee)) == 1]
    if side == "" and root not in plan.outlets and not plan.heaters.keys().isdisjoint(ends):
        ends = [*ends, *spare]  # hot or cold: both may be meant
    for some in (ends, spare, tees):
        suited = [place for place in some if side == "" or (place in graph.heated) == (side == "hot")]
        if suited:
            return suited
    return [] if plan.pumps or side == "hot" else fresh


def _loose(graph: _Graph, drained: Iterable[str]) -> Iterator[LooseEnd]:
    """Pieces and inlets that nothing leaves, so that they serve nothing; a tee may end a drain, or be plugged."""
    plan, beside = graph.plan, set(drained)
    left = {start for start, _ in (*_drawn(plan), *graph.runs)}
    arrived = {end for _, end in (*_drawn(plan), *graph.runs)}
    for table in (*PASSED, "mains"):
        for name in getattr(plan, table):
            if name not in left and name not in beside and not (table == "tees" and name in arrived):
                yield LooseEnd(table=table, name=name, reached=name in arrived or table == "mains")
