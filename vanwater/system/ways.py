"""The way of the water to one outlet: from the tank through the pump, hot and cold joined at a mixing tap.

Only names are followed here; :mod:`vanwater.system.supply` puts numbers to them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from vanwater.plan.model import Plan
from vanwater.system.hot_line import return_runs

__all__ = ["Way", "sources", "way_from_mains", "way_to"]


WEIGHT = 9.8e3
"""Of a cubic metre of water, N: only to tell which of joined tanks gives most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """The runs that lead to an outlet, in the order of the flow.

    Parameters
    ----------
    outlet : str
        Where the water leaves.
    tank : str
        Fresh tank it comes from; empty where the way does not reach one.
    pump : str
        Pump on the way; empty for gravity.
    heater : str
        Heater on the hot leg; empty where there is none.
    mixer : str
        Mixing tap, or the outlet itself where both legs meet there; empty where nothing is mixed.
    suction, trunk, hot, cold, mixed : tuple of str
        Runs before the pump, from there to the parting of hot and cold, the two legs, and behind the mixer.
        Without a mixer everything behind the pump is trunk.
    broken : tuple of str
        Why the way is not complete: sentences for the builder, empty when it is.
    mains : str
        Inlet that it comes from instead of a tank.
    joined : tuple of tuple of str
        Runs that bring water from further tanks to where it joins this way, each from its tank or pump down.
    """

    outlet: str
    tank: str = ""
    pump: str = ""
    heater: str = ""
    mixer: str = ""
    suction: tuple[str, ...] = ()
    trunk: tuple[str, ...] = ()
    hot: tuple[str, ...] = ()
    cold: tuple[str, ...] = ()
    mixed: tuple[str, ...] = ()
    broken: tuple[str, ...] = ()
    mains: str = ""
    joined: tuple[tuple[str, ...], ...] = ()

    @property
    def runs(self) -> tuple[str, ...]:
        """All runs in the order of the flow; hot leg before cold leg."""
        return (*self.suction, *self.trunk, *self.hot, *self.cold, *self.mixed)


@dataclass(frozen=True, slots=True)
class _Split:
    """What runs in a row pass: tank, pump and heater (empty for none), runs before the pump and behind it."""

    tank: str
    pump: str
    heater: str
    suction: tuple[str, ...]
    trunk: tuple[str, ...]


def way_to(plan: Plan, outlet: str) -> Way:
    """Follow the runs of a plan upstream from an outlet to its tank.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str
        Name of the outlet.

    Returns
    -------
    Way
        With ``broken`` filled where the way has a gap or cannot be followed in series. Where tanks are joined it
        follows the one whose water stands highest, or whose pump is the strongest; the others are ``joined``.
    """
    return plan.once(f"way to {outlet}", lambda: _way(plan, outlet, _without(plan, plan.mains, _off_grid(plan))))


def way_from_mains(plan: Plan, outlet: str) -> Way:
    """Follow the runs of a plan upstream from an outlet to an inlet for the water of a campsite.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str
        Name of the outlet.

    Returns
    -------
    Way
        Without tank and pump; ``broken`` where no inlet feeds the outlet.
    """
    way = _way(plan, outlet, _without(plan, _off_grid(plan), plan.mains))
    first = next(iter(way.runs), "")
    inlet = plan.runs[first].start if first else ""
    if inlet not in plan.mains:
        return replace(way, broken=(f'No run leads from an inlet for mains water to "{outlet}".',))
    lost = tuple(told for told in way.broken if not told.startswith("No run leads from a tank"))
    return replace(way, mains=inlet, broken=lost)


def _off_grid(plan: Plan) -> list[str]:
    return [*(name for name, tank in plan.tanks.items() if tank.holds == "fresh"), *plan.pumps]


def _without(plan: Plan, others: Iterable[str], sources: Iterable[str]) -> dict[str, list[str]]:
    """Runs by the place where they end, without those that only other sources feed."""
    left_out = _fed(plan, others) - _fed(plan, sources) if plan.mains else set()
    left_out |= return_runs(plan)
    arriving: dict[str, list[str]] = {}
    for name, run in plan.runs.items():
        if name not in left_out:
            arriving.setdefault(run.end, []).append(name)
    return arriving


def _fed(plan: Plan, sources: Iterable[str]) -> set[str]:
    """Runs that lead away from sources, as far as the next tank."""
    fed: set[str] = set()
    waiting = list(sources)
    while waiting:
        place = waiting.pop()
        for name, run in plan.runs.items():
            if run.start == place and name not in fed:
                fed.add(name)
                if run.end not in plan.tanks:
                    waiting.append(run.end)
    return fed


def _way(plan: Plan, outlet: str, arriving: Mapping[str, list[str]]) -> Way:
    mixed, place, trouble, others = _upstream(plan, arriving, outlet, stop_at_mixer=True)
    if trouble:
        return Way(outlet=outlet, mixed=tuple(mixed), broken=(trouble,))
    joined = arriving.get(place, [])
    if len(joined) < 2:
        passed = _split(plan, mixed)
        broken = (*_no_tank(passed.tank, place), *_one_sided(plan, mixed))
        return Way(
            outlet=outlet,
            tank=passed.tank,
            pump=passed.pump,
            heater=passed.heater,
            suction=passed.suction,
            trunk=passed.trunk,
            broken=broken,
            joined=tuple(others),
        )
    return _joined(plan, arriving, outlet, place, mixed)


def _joined(plan: Plan, arriving: Mapping[str, list[str]], outlet: str, place: str, mixed: list[str]) -> Way:
    """The way to an outlet whose water is mixed at a place from a hot and a cold leg."""
    legs: list[list[str]] = []
    others: list[tuple[str, ...]] = []
    for run in arriving[place]:
        start = plan.runs[run].start
        upper, _, trouble, others = _upstream(plan, arriving, start, stop_at_mixer=False, below=(run, *mixed))
        if trouble:
            return Way(outlet=outlet, mixer=place, mixed=tuple(mixed), broken=(trouble,))
        legs.append([*upper, run])
    shared = 0
    while shared < min(map(len, legs)) and legs[0][shared] == legs[1][shared]:
        shared += 1
    passed = _split(plan, legs[0][:shared])
    heated = [any(plan.runs[run].start in plan.heaters for run in leg[shared:]) for leg in legs]
    broken = _no_tank(passed.tank, place)
    if heated[0] == heated[1]:
        which = "Both runs" if heated[0] else "None of the runs"
        broken = (f'{which} to "{place}" come from a heater: one must be hot, one cold.', *broken)
    if not passed.pump and any(plan.runs[run].end in plan.pumps for leg in legs for run in leg[shared:]):
        broken = (*broken, f'The hot and the cold leg to "{place}" have no common pump; the series path needs one.')
    hot, cold = (legs[0], legs[1]) if heated[0] else (legs[1], legs[0])
    heater = next((plan.runs[run].start for run in hot[shared:] if plan.runs[run].start in plan.heaters), "")
    return Way(
        outlet=outlet,
        tank=passed.tank,
        pump=passed.pump,
        heater=heater,
        mixer=place,
        suction=passed.suction,
        trunk=passed.trunk,
        hot=tuple(hot[shared:]),
        cold=tuple(cold[shared:]),
        mixed=tuple(mixed),
        broken=broken,
        joined=tuple(others),
    )


def sources(plan: Plan, way: Way) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """All tanks and pumps that give water to a way.

    Parameters
    ----------
    plan : Plan
        The plan.
    way : Way
        A way that is not broken.

    Returns
    -------
    tuple of tuple of str
        Tanks, and pumps; the ones followed first.
    """
    others = [_split(plan, list(branch)) for branch in way.joined]
    tanks = [way.tank, *(other.tank for other in others)]
    pumps = [way.pump, *(other.pump for other in others)]
    return tuple(filter(None, tanks)), tuple(dict.fromkeys(filter(None, pumps)))


def _no_tank(tank: str, place: str) -> tuple[str, ...]:
    return () if tank else (f'No run leads from a tank to "{place}".',)


def _one_sided(plan: Plan, runs: Iterable[str]) -> tuple[str, ...]:
    """Mixing taps on the way to which one run leads: the other side is still to be drawn."""
    taps = [plan.runs[run].start for run in runs if plan.runs[run].start in plan.mixers]
    return tuple(f'One run leads to the mixing tap "{tap}"; its other side is not drawn yet.' for tap in taps)


def _upstream(
    plan: Plan,
    arriving: Mapping[str, list[str]],
    place: str,
    *,
    stop_at_mixer: bool,
    below: tuple[str, ...] = (),
) -> tuple[list[str], str, str, list[tuple[str, ...]]]:
    """Runs from the source down to a place, where they begin, what went wrong, and runs of joined tanks.

    What was followed already, from that place down, is ``below``: a run that begins at one of its ends closes a circle.
    """
    runs: list[str] = []
    seen = {place, *(plan.runs[run].end for run in below)}
    while place not in plan.tanks and place not in plan.mains:
        joined = arriving.get(place, [])
        if len(joined) == 2 and stop_at_mixer and (place in plan.mixers or place in plan.outlets):
            break
        if not joined:
            break
        if len(joined) > 1:
            at_tee = place in plan.tees
            branches, trouble = _branches(plan, arriving, joined, (*runs, *below)) if at_tee else ([], "")
            if not branches:
                return runs, place, trouble or _crowded(plan, place, joined), []
            lead, *others = branches
            return [*lead, *runs], plan.runs[lead[0]].start, "", [tuple(other) for other in others]
        run = joined[0]
        runs.insert(0, run)
        place = plan.runs[run].start
        if place in seen:
            return runs, place, _circle(plan, place, (*runs, *below)), []
        seen.add(place)
    return runs, place, "", []


def _circle(plan: Plan, place: str, runs: tuple[str, ...]) -> str:
    """Why no water comes out of runs, of which the first begins at a place where a later one ends."""
    last = next(number for number, run in enumerate(runs) if plan.runs[run].end == place)
    names = ", ".join(f'"{run}"' for run in runs[: last + 1])
    return f"The runs {names} lead in a circle: the water goes round instead of out."


def _crowded(plan: Plan, place: str, joined: list[str]) -> str:
    """Why a place cannot be passed to which several runs lead."""
    starts = {plan.runs[run].start for run in joined}
    if len(starts) == 1:
        wider = len(joined) ** (1.75 / 4.75)  # as much flow at the same loss, by Blasius's friction
        return f'{len(joined)} runs lead side by side to "{place}"; draw one run of {wider:.1f} times the bore instead.'
    return f'{len(joined)} runs lead to "{place}"; the series path follows one.'


def _branches(
    plan: Plan, arriving: Mapping[str, list[str]], joined: list[str], below: tuple[str, ...]
) -> tuple[list[list[str]], str]:
    """Runs that meet at a tee, each from a tank of its own down, the strongest first; none where that is not so.

    Where they lead in a circle, that is told beside.
    """
    branches: list[list[str]] = []
    for run in joined:
        start = plan.runs[run].start
        if start in plan.tanks or start in plan.mains:
            branches.append([run])
            continue
        followed = (run, *below)
        if any(plan.runs[other].end == start for other in followed):
            return [], _circle(plan, start, followed)
        upper, _, trouble, others = _upstream(plan, arriving, start, stop_at_mixer=False, below=followed)
        if trouble:
            return [], trouble
        branches += [[*upper, run], *map(list, others)]
    tanks = [_split(plan, branch).tank for branch in branches]
    if "" in tanks or len(set(tanks)) < len(tanks):
        return [], ""
    return sorted(branches, key=lambda branch: -_drive(plan, branch)), ""


def _drive(plan: Plan, branch: list[str]) -> float:
    """Pressure with which the water of a tank comes, its height and its pump together [Pa]."""
    passed = _split(plan, branch)
    planned = plan.tanks[passed.tank]
    height = (planned.z or 0.0) + (planned.inside_height or 0.0) / 2
    curve = plan.pumps[passed.pump].curve if passed.pump else None
    return WEIGHT * height + (curve[0][1] if curve else 0.0)


def _split(plan: Plan, runs: list[str]) -> _Split:
    """What runs in a row pass, from the source down; without a pump all of them are trunk."""
    first = plan.runs[runs[0]].start if runs else ""
    tank = first if first in plan.tanks else (plan.pumps[first].tank or "") if first in plan.pumps else ""
    pump = heater = ""
    suction: list[str] = []
    trunk: list[str] = []
    for run in runs:
        start, end = plan.runs[run].start, plan.runs[run].end
        if start in plan.pumps:
            pump = start
        if start in plan.heaters:
            heater = start
        (trunk if pump else suction).append(run)
        if not pump and end in plan.pumps:
            pump = end
    if not pump:
        suction, trunk = [], runs
    return _Split(tank, pump, heater, tuple(suction), tuple(trunk))
