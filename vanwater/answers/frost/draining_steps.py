"""How the van is emptied before frost, in order: what the heights, drains and check valves of the plan say of it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from vanwater.answers.core.handover import Step
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.pump import BY_HAND
from vanwater.plan.tanks import label_of
from vanwater.quantities import PLACE
from vanwater.system.draining import DRAINS, Draining, draining, held_in_hand
from vanwater.system.numbering import PLACES, numbering

__all__ = ["draining_steps"]

_MANY = 3
"""Runs that are still named one by one."""


def draining_steps(plan: Plan) -> Iterator[Step]:
    """What is opened, where, and in which order, before a van stands in frost.

    Parameters
    ----------
    plan : Plan
        A plan whose water is not drained.

    Yields
    ------
    Step
        Heat off, tanks, pump, taps, drains, what has no way down, what keeps some in any case.
    """
    for place, text in enumerate(_texts(plan), 1):
        yield Step("Before frost", 10 * place, text)


def _texts(plan: Plan) -> Iterator[Say]:
    state = draining(plan)
    hot = [word for word, parts in (("heater", plan.heaters), ("heating pads", plan.pads)) if parts]
    if hot:
        yield say("Off: {things}; let hot water cool.", things=tuple(hot))
    if plan.tanks:
        yield say(
            "Empty {tanks}.",
            tanks=tuple(_tagged(plan, ("tanks", name), label_of(name)) for name in plan.tanks),
        )
    if plan.pumps:
        electric = any(pump.kind not in BY_HAND for pump in plan.pumps.values())
        yield (
            say("Run the pump until it sucks air, then switch it off.")
            if electric
            else say("Pump by hand until only air comes.")
        )
    if plan.outlets:
        mixed = ", mixing taps half way" if plan.mixers else ""
        laid = ", and lay hand-held hoses down" if held_in_hand(plan) else ""
        yield say(
            f"Open every tap{mixed}, the highest first{laid}: {{outlets}}.",
            outlets=_outlets(plan),
        )
    drains = tuple(_drains(plan))
    if drains:
        yield say("Open the drains, the lowest last: {drains}.", drains=drains)
    yield from _left(plan, state)
    yield from _pieces(plan, state)
    if plan.runs:
        yield say("Leave all of it open, with a note at the switch: empty.")


def _outlets(plan: Plan) -> tuple[Say, ...]:
    def height(name: str) -> float:
        return -(z if (z := plan.outlets[name].z) is not None else -math.inf)

    return tuple(
        _high(plan, _tagged(plan, ("outlets", name), name), ("outlets", name, "z"))
        for name in sorted(plan.outlets, key=height)
    )


def _drains(plan: Plan) -> Iterator[Say]:
    """Each drain valve with its tag, the run in which it sits and its height, the lowest last."""

    def height(name: str) -> float:
        run = plan.runs[name]
        return -(run.lowest if run.lowest is not None else math.inf)

    for name in sorted(plan.runs, key=height):
        for key in DRAINS:
            if plan.runs[name].fittings.get(key):
                drain = _tagged(plan, ("runs", name, "fittings", key), key)
                yield _high(plan, say("{drain} in {run}", drain=drain, run=_run(plan, name)), ("runs", name, "lowest"))


def _left(plan: Plan, state: Draining) -> Iterator[Say]:
    """What has no way down: where a joint is loosened; what sags, and what nobody knows, is blown out."""
    for pool in state.pools:
        if pool.lowest in plan.heaters:
            yield say(
                "Open the drain of the {heater} itself.", heater=_tagged(plan, ("heaters", pool.lowest), pool.lowest)
            )
            continue
        others = tuple(_run(plan, name) for name in pool.runs if name != pool.lowest)
        with_others = say("")
        if len(others) > _MANY:
            with_others = say(", and with it {count} runs more", count=len(others))
        elif others:
            with_others = say(", and with it {runs}", runs=others)
        yield say(
            "Low point: {lowest}. Nothing leads down out of it{others}: loosen {joint} over a bowl.",
            lowest=_high(plan, _run(plan, pool.lowest), ("runs", pool.lowest, "lowest")),
            joint=_joint(plan, pool.lowest),
            others=with_others,
        )
        if pool.heaters:
            yield say(
                "Open the drain of {heaters} itself.",
                heaters=tuple(_tagged(plan, ("heaters", name), name) for name in pool.heaters),
            )
    blown = tuple(_run(plan, name) for name in dict.fromkeys((*state.sags, *state.unsaid)))
    if blown:
        yield say(
            "Blow out, tap by tap, below the rating of the weakest piece and never into a tank: {runs}, of which it "
            "is not sure that they drain.",
            runs=blown,
        )


def _joint(plan: Plan, run: str) -> Say:
    """Which joint of a run is loosened: that at its lower end, where the plan says which that is."""
    ends = [
        (z, table, place)
        for place in (plan.runs[run].start, plan.runs[run].end)
        for table in PLACES
        if (z := getattr(getattr(plan, table).get(place), "z", None)) is not None
    ]
    if len(ends) < 2 or plan.runs[run].lowest is not None or ends[0][0] == ends[1][0]:
        return say("its lowest joint")
    _, table, place = min(ends)
    return say("its joint at the {end}", end=_high(plan, _tagged(plan, (table, place), place), (table, place, "z")))


def _pieces(plan: Plan, state: Draining) -> Iterator[Say]:
    """What keeps some water however well all else drains."""
    kept = [f"{kind}s" for kind in state.pieces if kind in ("filter", "strainer")]
    if kept:
        yield say("Open by hand and empty: {pieces}.", pieces=tuple(kept))
    if plan.accumulators:
        yield say("Push the water out of the accumulator: its gas does it, the lines open.")
    if state.traps:
        yield say(
            "Antifreeze of propylene glycol, never of ethylene glycol, into the traps: {runs}.",
            runs=tuple(_run(plan, name) for name in state.traps),
        )


def _run(plan: Plan, name: str) -> Say:
    number = numbering(plan).runs.get(name)
    return say("{name} ({tag})", name=name, tag=f"R{number}") if number is not None else say("{name}", name=name)


def _tagged(plan: Plan, address: tuple[str, ...], name: str) -> Say:
    number = numbering(plan).pieces.get(joined(address))
    return say("{name} ({tag})", name=name, tag=str(number)) if number is not None else say("{name}", name=name)


def _high(plan: Plan, told: Say, address: tuple[str, ...]) -> Say:
    """It with its height above the floor, where the plan says one."""
    number = planned(plan, joined(address), PLACE)
    if not math.isfinite(number.likely):
        return told
    return say("{told} at {height}", told=told, height=number.amount)
