"""How hot water is brought near the outlets without running off: run-back lines, and rings with a pump of their own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from vanwater.plan.model import Plan

__all__ = ["Ring", "brought_to", "return_runs", "rings", "run_back_runs"]


@dataclass(frozen=True, slots=True)
class Ring:
    """A ring in which a small pump drives hot water past the outlets and back to the heater.

    Parameters
    ----------
    pump : str
        The pump that drives it.
    heater : str
        A heater in it.
    runs : tuple of str
        The runs of the ring in the order of the flow, from the pump round to it.
    back : tuple of str
        Those of them that serve the ring alone: from where it leaves the hot line to where it joins again.
    """

    pump: str
    heater: str
    runs: tuple[str, ...]
    back: tuple[str, ...]

    def hot(self, plan: Plan) -> tuple[str, ...]:
        """The runs from the heater to the last place where the hot line is shared, in the order of the flow."""
        first = next(number for number, run in enumerate(self.runs) if plan.runs[run].start == self.heater)
        turned = (*self.runs[first:], *self.runs[:first])
        return tuple(run for run in turned[: next((n for n, run in enumerate(turned) if run in self.back), 0)])


def run_back_runs(plan: Plan) -> tuple[str, ...]:
    """Runs that lead cooled water of the hot line back to the tank while one waits.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        In the order of the plan.
    """
    return tuple(name for name, run in plan.runs.items() if run.run_back)


def rings(plan: Plan) -> tuple[Ring, ...]:
    """The rings of a plan: a pump that hot water alone reaches, with the way from it back to it.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Ring
        One a pump, in the order of the plan.
    """
    drawn_from = {run.start for run in plan.runs.values() if run.end in plan.pumps}
    if drawn_from <= set(plan.tanks) or not plan.heaters:
        return ()
    onward = _onward(plan)
    closed = []
    for pump in plan.pumps:
        way = _round(plan, onward, pump)
        heater = next((plan.runs[run].start for run in way if plan.runs[run].start in plan.heaters), "")
        if not heater or pump in _reached(plan, onward, _sources(plan), without={heater}):
            continue
        served = _reached(plan, onward, _sources(plan), without={pump})
        back = tuple(
            run
            for run in way
            if plan.runs[run].start not in served or not _leads(plan, onward, plan.runs[run].end, without={pump})
        )
        closed.append(Ring(pump, heater, way, back))
    return tuple(closed)


def return_runs(plan: Plan) -> frozenset[str]:
    """Runs that no outlet draws through: run-back lines, and the backs of rings.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    frozenset of str
        They are shut, or still, while the outlets are looked at.
    """
    return frozenset((*run_back_runs(plan), *(run for ring in rings(plan) for run in ring.back)))


def brought_to(plan: Plan) -> frozenset[str]:
    """Places to which hot water is brought without running off.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    frozenset of str
        Where run-back lines begin, and the places of rings from the heater on.
    """
    ends = {plan.runs[run].start for run in run_back_runs(plan)}
    for ring in rings(plan):
        ends |= {plan.runs[run].end for run in ring.hot(plan)}
    return frozenset(ends)


def _onward(plan: Plan) -> dict[str, list[str]]:
    """Runs that begin at each place; those that run back to the tank are left out."""
    onward: dict[str, list[str]] = {}
    for name, run in plan.runs.items():
        if not run.run_back and run.end not in plan.tanks:
            onward.setdefault(run.start, []).append(name)
    return onward


def _sources(plan: Plan) -> list[str]:
    hanging = [name for name, pump in plan.pumps.items() if pump.tank is not None]
    return [*plan.tanks, *plan.mains, *hanging]


def _reached(plan: Plan, onward: Mapping[str, list[str]], start: Iterable[str], without: set[str]) -> set[str]:
    reached = set(start) - without
    stack = list(reached)
    while stack:
        for run in onward.get(stack.pop(), ()):
            end = plan.runs[run].end
            if end not in reached and end not in without:
                reached.add(end)
                stack.append(end)
    return reached


def _leads(plan: Plan, onward: Mapping[str, list[str]], place: str, without: set[str]) -> bool:
    """Whether some outlet draws from a place."""
    return not _reached(plan, onward, (place,), without).isdisjoint(plan.outlets)


def _round(plan: Plan, onward: Mapping[str, list[str]], pump: str) -> tuple[str, ...]:
    """The shortest way from a pump back to it; none where there is none."""
    came: dict[str, str] = {}
    waiting = [pump]
    for place in waiting:
        for run in onward.get(place, ()):
            end = plan.runs[run].end
            if end == pump:
                way = [run]
                while plan.runs[way[0]].start != pump:
                    way.insert(0, came[plan.runs[way[0]].start])
                return tuple(way)
            if end not in came:
                came[end] = run
                waiting.append(end)
    return ()
