"""What lies behind a pump or another place, what a check valve keeps from it, and which accumulators serve whom."""

from __future__ import annotations

from collections.abc import Iterable

from vanwater.plan.model import Plan
from vanwater.plan.supply import Run

__all__ = [
    "CHECK_VALVES",
    "accumulators_behind",
    "accumulators_of",
    "behind",
    "counting_first",
    "cut_off",
    "decided",
    "fed_from",
    "holds_back",
    "serving",
]

CHECK_VALVES = ("spring check valve", "swing check valve", "swing check valve straight")
"""Fittings that let water pass one way only."""


def behind(plan: Plan, place: str) -> frozenset[str]:
    """Runs that lead away from a place, however far.

    Parameters
    ----------
    plan : Plan
        The plan.
    place : str
        A place.

    Returns
    -------
    frozenset of str
        Names of runs.
    """
    return plan.once(f"behind {place}", lambda: _behind(plan, place))


def _behind(plan: Plan, place: str) -> frozenset[str]:
    away: dict[str, list[str]] = {}
    for name, run in plan.runs.items():
        away.setdefault(run.start, []).append(name)
    reached: set[str] = set()
    waiting = [place]
    while waiting:
        new = [name for name in away.get(waiting.pop(), ()) if name not in reached]
        reached.update(new)
        waiting += [plan.runs[name].end for name in new]
    return frozenset(reached)


def counting_first(plan: Plan, names: Iterable[str]) -> tuple[str, ...]:
    """Accumulators in the order in which they count, however they are written: decided, then larger, then by name."""
    vessels = plan.accumulators
    return tuple(sorted(names, key=lambda name: (vessels[name].precharge is None, -vessels[name].volume, name)))


def accumulators_behind(plan: Plan, pump: str) -> tuple[str, ...]:
    """All accumulators that a pump can fill, in the order in which they count."""
    reached = {pump} | {plan.runs[run].end for run in behind(plan, pump)}
    return counting_first(plan, (name for name, vessel in plan.accumulators.items() if vessel.at in reached))


def accumulators_of(plan: Plan, pump: str) -> tuple[str, ...]:
    """The accumulators that a pump's switch works against, together, in the order in which they count.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        The pump.

    Returns
    -------
    tuple of str
        Those whose water comes back to the pump's side, or at least to every outlet behind the pump; one that a check
        valve keeps from some of them gives nothing to a draw there.
    """
    outlets = {plan.runs[run].end for run in behind(plan, pump)} & set(plan.outlets)

    def serves(name: str) -> bool:
        fed = fed_from(plan, plan.accumulators[name].at)
        return pump in fed or bool(outlets and outlets <= fed)

    return tuple(filter(serves, accumulators_behind(plan, pump)))


def decided(plan: Plan, names: Iterable[str]) -> tuple[str, ...]:
    """Those accumulators whose pre-charge is decided."""
    return tuple(name for name in names if plan.accumulators[name].precharge is not None)


def serving(plan: Plan, pump: str, outlet: str) -> tuple[str, ...]:
    """The accumulators whose water comes to an outlet, in the order in which they count; one behind its tap gives none.

    Those alone whose pre-charge is decided.
    """
    there = decided(plan, accumulators_behind(plan, pump))
    return tuple(name for name in there if outlet in fed_from(plan, plan.accumulators[name].at))


def fed_from(plan: Plan, place: str) -> frozenset[str]:
    """Places to which water comes from one under pressure, whichever taps are open.

    Parameters
    ----------
    plan : Plan
        The plan.
    place : str
        A place between a pump and the taps.

    Returns
    -------
    frozenset of str
        Along the runs, and back along those without a check valve up to the pump; past a mixing tap only where both
        its sides are fed. None from a place behind a tap, where no pressure stands.
    """
    return plan.once(f"fed from {place}", lambda: _fed_from(plan, place))


def _fed_from(plan: Plan, place: str) -> frozenset[str]:
    taps = {*plan.mixers, *plan.outlets}
    if place in taps:
        return frozenset()
    runs = [run for run in plan.runs.values() if not run.run_back]
    fed = {place}
    while True:
        onward = {
            run.end
            for run in runs
            if run.start in fed
            and run.end not in plan.pumps
            and (run.end not in taps or all(other.start in fed for other in runs if other.end == run.end))
        }
        back = {
            run.start
            for run in runs
            if run.end in fed - taps - set(plan.pumps) and run.start not in taps and not holds_back(run)
        }
        new = (onward | back) - fed - set(plan.tanks) - set(plan.mains)
        if not new:
            return frozenset(fed)
        fed |= new


def holds_back(run: Run) -> bool:
    """Whether a check valve in a run keeps water from going back."""
    return any(kind in CHECK_VALVES and count for kind, count in run.fittings.items())


def cut_off(plan: Plan, place: str) -> str:
    """The run whose check valve keeps the water of a place from going back, or an empty text.

    Parameters
    ----------
    plan : Plan
        The plan.
    place : str
        A heater, or the place of an accumulator.

    Returns
    -------
    str
        The first such run upstream of it. A diaphragm pump closes too, but far more of the line lies before it.
    """
    seen = {place}
    waiting = [place]
    while waiting:
        end = waiting.pop(0)
        for name, run in plan.runs.items():
            if run.end != end:
                continue
            if holds_back(run):
                return name
            if run.start not in seen:
                seen.add(run.start)
                waiting.append(run.start)
    return ""
