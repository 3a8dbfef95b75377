"""What draining leaves behind: runs out of which no water finds its way down, and pieces that keep some in any case.

Every tap is open, tanks are empty, the pump has run until it sucks air: so its suction side is empty. On its pressure
side water falls toward an open end, a tank or a drain valve, and never back through a check valve or the pump.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from vanwater.plan.model import Plan
from vanwater.plan.part import above
from vanwater.plan.supply import Run
from vanwater.system.exposed import drains, waste_runs

__all__ = ["DRAINS", "Draining", "Pool", "draining", "held_in_hand"]

DRAINS = ("drain cock", "ball drain", "frost valve")
"""Fittings that let water out of a run at its lowest point."""

_KEEP = ("filter", "strainer", "check valve")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pool:
    """Runs that hang together and keep their water.

    Parameters
    ----------
    runs, heaters : tuple of str
        What keeps it.
    lowest : str
        The run or the heater in which it lies lowest.
    """

    runs: tuple[str, ...]
    heaters: tuple[str, ...]
    lowest: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Draining:
    """What draining leaves behind.

    Parameters
    ----------
    pools : tuple of Pool
        Runs out of which nothing leads down, the most of them together first.
    sags : tuple of str
        Runs with a low point below both ends and no drain there, and waste runs that do not fall enough.
    unsaid : tuple of str
        Runs of which it is not known, as a height is not said.
    heaters : tuple of str
        Heaters out of which no run leads down.
    pumps, traps : tuple of str
        Pumps, and runs with a trap.
    pieces : tuple of str
        Kinds of fittings that keep some water: "filter", "strainer", "check valve".
    """

    pools: tuple[Pool, ...]
    sags: tuple[str, ...]
    unsaid: tuple[str, ...]
    heaters: tuple[str, ...]
    pumps: tuple[str, ...]
    traps: tuple[str, ...]
    pieces: tuple[str, ...]

    @property
    def kept(self) -> tuple[str, ...]:
        """Runs that stay full."""
        return tuple(run for pool in self.pools for run in pool.runs)


def draining(plan: Plan) -> Draining:
    """What the heights, drain valves and check valves of a plan say of its draining.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Draining
        The same at every call.
    """
    return plan.once("draining", lambda: _draining(plan))


def _draining(plan: Plan) -> Draining:
    waste, sucked = set(waste_runs(plan)), _suction(plan)
    pressed = {name: run for name, run in plan.runs.items() if name not in waste | sucked}
    heights = _heights(plan)
    hanging = {name for name, pump in plan.pumps.items() if pump.kind == "submersible"}
    ends = {*plan.outlets, *plan.tanks, *plan.mains, *hanging}
    empty = _emptied(plan, pressed, heights, ends)
    maybe = _emptied(plan, pressed, heights, ends, unknown=True)
    states = {
        name: (_empties(run, heights, empty), _empties(run, heights, maybe, True)) for name, run in pressed.items()
    }
    kept = {name: pressed[name] for name, (_, may) in states.items() if not may}
    return Draining(
        pools=tuple(sorted(_pools(plan, kept, heights), key=lambda pool: -len(pool.runs))),
        sags=(
            *(name for name, run in pressed.items() if name not in kept and _sags(run, heights)),
            *(name for name in plan.runs if name in waste and not drains(plan, name)),
        ),
        unsaid=tuple(name for name, (sure, may) in states.items() if may and not sure),
        heaters=tuple(name for name in plan.heaters if name not in empty),
        pumps=tuple(plan.pumps),
        traps=tuple(name for name, run in plan.runs.items() if run.trap),
        pieces=tuple(kind for kind in _KEEP if any(run.fitted(kind) for run in plan.runs.values())),
    )


def _suction(plan: Plan) -> set[str]:
    """Runs before the pumps, which suck them empty."""
    before, sucked = set(plan.pumps), set[str]()
    while more := {name for name, run in plan.runs.items() if run.end in before} - sucked:
        sucked |= more
        before |= {plan.runs[name].start for name in more} - {*plan.tanks}
    return sucked


def _heights(plan: Plan) -> Mapping[str, float | None]:
    places = (plan.tanks, plan.pumps, plan.mains, plan.heaters, plan.tees, plan.mixers, plan.outlets)
    heights = {name: getattr(part, "z", None) for table in places for name, part in table.items()}
    for name, pump in plan.pumps.items():
        heights[name] = heights[name] if pump.tank is None or heights[name] is not None else heights.get(pump.tank)
    return heights


def _drained(run: Run) -> bool:
    return any(run.fittings.get(key) for key in DRAINS)


def _known(*heights: float | None) -> list[float]:
    return [height for height in heights if height is not None]


def _sags(run: Run, heights: Mapping[str, float | None]) -> bool:
    """Whether it lies lower somewhere between than at both ends, without a drain there."""
    ends = _known(heights.get(run.start), heights.get(run.end))
    return run.lowest is not None and len(ends) == 2 and above(min(ends), run.lowest) and not _drained(run)


def _over(run: Run, heights: Mapping[str, float | None]) -> bool:
    """Whether it rises above both ends, so that each side falls to its own end."""
    ends = _known(heights.get(run.start), heights.get(run.end))
    return run.highest is not None and len(ends) == 2 and above(run.highest, max(ends))


def _emptied(
    plan: Plan,
    runs: Mapping[str, Run],
    heights: Mapping[str, float | None],
    ends: Iterable[str],
    unknown: bool = False,
) -> set[str]:
    """Places out of which water finds its way down, by known heights alone or as it may be."""
    empty = {*ends, *(place for run in runs.values() if _drained(run) for place, _ in _ways(run, plan))}
    ways = [way for run in runs.values() if not _over(run, heights) for way in _ways(run, plan)]
    falling = [(start, end) for start, end in ways if _falls(heights.get(start), heights.get(end), unknown)]
    while more := {start for start, end in falling if end in empty} - empty:
        empty |= more
    return empty


def _ways(run: Run, plan: Plan) -> Iterator[tuple[str, str]]:
    """From where to where a run may empty what it joins: a heater by its cold side alone."""
    if run.start not in plan.heaters:
        yield run.start, run.end
    if not run.fitted("check valve"):
        yield run.end, run.start


def _falls(start: float | None, end: float | None, unknown: bool) -> bool:
    if start is None or end is None:
        return unknown
    return not above(end, start)


def _empties(run: Run, heights: Mapping[str, float | None], empty: set[str], unknown: bool = False) -> bool:
    """Whether what stands in a run leaves it, but for a sag."""
    if _drained(run):
        return True
    if _over(run, heights):
        return {run.start, run.end} <= empty
    ways = [(run.start, run.end), *([] if run.fitted("check valve") else [(run.end, run.start)])]
    return any(end in empty and _falls(heights.get(start), heights.get(end), unknown) for start, end in ways)


def _pools(plan: Plan, kept: Mapping[str, Run], heights: Mapping[str, float | None]) -> Iterator[Pool]:
    """Runs that keep their water, those together that one drain would empty."""
    left = dict(kept)
    while left:
        name, first = next(iter(left.items()))
        del left[name]
        names, places = [name], {first.end} if first.fitted("check valve") else {first.start, first.end}
        while beside := [other for other, run in left.items() if places & _joins(run)]:
            for other in beside:
                names.append(other)
                places |= _joins(left.pop(other))
        heaters = tuple(heater for heater in plan.heaters if heater in places)
        lows = {
            other: min(_known(kept[other].lowest, *map(heights.get, _joins(kept[other]))), default=float("inf"))
            for other in names
        }
        lows |= {heater: low for heater in heaters if (low := heights.get(heater)) is not None}
        lowest = min((*heaters, *names), key=lambda place: lows.get(place, float("inf")))
        yield Pool(runs=tuple(other for other in kept if other in names), heaters=heaters, lowest=lowest)


def _joins(run: Run) -> set[str]:
    """Places with which its water hangs together: behind a check valve alone where it has one."""
    return {run.end} if run.fitted("check valve") else {run.start, run.end}


def held_in_hand(plan: Plan) -> tuple[str, ...]:
    """The outlets that are held in the hand, on a hose: showers and handsets, by their name or type."""
    named = {name: f"{name} {outlet.type}" for name, outlet in plan.outlets.items()}
    return tuple(name for name, words in named.items() if "shower" in words or "handset" in words)
