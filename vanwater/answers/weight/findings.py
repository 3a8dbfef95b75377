"""What is said of the weight: axles and total against what is permitted, sides, a light front axle, what is missing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.key import Key
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import limit, stated
from vanwater.answers.weight.masses import FULL, LEAVING, STATE, Masses
from vanwater.plan.model import Plan
from vanwater.quantities import MASS, VOLUME, Quantity
from vanwater.system.weight import STATES, Laden

__all__ = ["weight_findings"]

SPARE = 0.03
"""Share of a permitted load that should be left: scales, dirt and forgotten luggage (common practice)."""
LIFTED = 20.0
"""Mass that the water may take off the front axle without a word, kg (common practice)."""
LOPSIDED = 0.05
"""Share of the van's weight by which one side may carry more than the other (common practice)."""

_LOPSIDED = f"One side may carry {LOPSIDED:.0%} of the van's weight more than the other."
_PLATE = "the vehicle's plate"


def weight_findings(plan: Plan, masses: Masses) -> Iterator[Finding]:
    """Everything that is said of the weight.

    Parameters
    ----------
    plan : Plan
        The plan.
    masses : Masses
        Water and loads, and what the axles carry.

    Yields
    ------
    Finding
        In no order.
    """
    if not masses.laden.things:
        return
    yield from _gaps(plan, masses.laden)
    yield from _axle(plan, masses, "front", masses.front_load)
    yield from _axle(plan, masses, "rear", masses.rear_load)
    yield from _axle(plan, masses, "total", masses.total)
    yield from _lifted(masses)
    yield from _lopsided(masses)


def _axle(plan: Plan, masses: Masses, which: str, carried: Sequence[Number]) -> Iterator[Finding]:
    """One axle, or the total, against what is permitted: on the road, and with everything full."""
    loads, most = np.array([load.likely for load in carried]), masses.permitted(which)
    if np.isnan(loads).all() or math.isnan(most.likely):
        return
    worst = int(np.argmax(loads[:FULL]))
    unplaced = np.zeros_like(loads) if which == "total" else masses.laden.unplaced[0]
    change = None
    if loads[worst] > most.likely:
        verdict, change = Verdict.FAILS, _less(plan, masses, which, worst, float(loads[worst] - most.likely))
    elif loads[FULL] > most.likely:
        verdict, worst = Verdict.WATCH, FULL
        change = say("Empty grey tank and toilet before the fresh tank is filled.")
    elif float((loads + unplaced)[:FULL].max()) > (1.0 - SPARE) * most.likely:
        verdict, change = Verdict.WATCH, say("Weigh the loaded van on a public scale before the trip.")
    else:
        verdict = Verdict.FINE
    yield Finding(
        f"weight.{which}",
        verdict,
        _told(which, worst, carried[worst], most),
        value=carried[worst].amount,
        limit=most.amount,
        change=change,
        address=f"vehicle.permitted_{which}",
        source=_PLATE,
    )


def _told(which: str, state: int, load: Number, limit: Number) -> Say:
    when = STATE[STATES[state]].capitalize()
    if which == "total":
        return say("{when}, the van weighs {load}; {limit} are permitted.", when=when, load=load, limit=limit)
    return say(
        "{when}, the {which} axle carries {load}; {limit} are permitted.",
        when=when,
        which=which,
        load=load,
        limit=limit,
    )


def _less(plan: Plan, masses: Masses, which: str, state: int, over: float) -> Say:
    """What to leave behind: fresh water where that is enough, else anything else."""
    laden, wheelbase = masses.laden, plan.at("vehicle.wheelbase")
    for place, thing in enumerate(laden.things):
        if thing.kind != "fresh" or STATES[state] != "leaving":
            continue
        x, held = float(laden.x[0, place]), float(laden.mass[0, place] * laden.filled[0, state, place])
        to_rear = x / wheelbase if wheelbase is not None else math.nan
        share = {"front": 1.0 - to_rear, "rear": to_rear, "total": 1.0}[which]
        if share > 0.0 and over <= share * held:
            litres = _off(("tank", thing.name, "less", which), math.ceil(over / share) * 1e-3, VOLUME)
            return say("Leave with {litres} less in the {tank}, or take less along.", litres=litres, tank=thing.name)
    kilos = _off(("axle" if which != "total" else "van", which, "less"), float(math.ceil(over)), MASS)
    if which == "total":
        return say("Take {over} less along.", over=kilos)
    return say("Take {over} off it: leave things at home, or move them toward the other axle.", over=kilos)


def _off(key: Key, value: float, quantity: Quantity) -> Number:
    method = "What the load is over its limit, on this axle by its place, rounded up."
    return stated("to leave behind", value, quantity, method, source="balance of moments").keyed(
        *key, exact="rounded up"
    )


def _lifted(masses: Masses) -> Iterator[Finding]:
    front = np.array([change.likely for change in masses.front[:FULL]])
    if np.isnan(front).all() or float(front.min()) > -LIFTED:
        return
    worst = int(np.argmin(front))
    yield Finding(
        "weight.lifted",
        Verdict.WATCH,
        say(
            "{when}, the water takes {mass} off the front axle.",
            when=STATE[STATES[worst]].capitalize(),
            mass=masses.front[worst].negated,
        ),
        change=say("Move what sits behind the rear axle forward: a light front axle steers and brakes poorly."),
        source="common practice",
    )


def _lopsided(masses: Masses) -> Iterator[Finding]:
    right = np.array([side.likely for side in masses.right[:FULL]])
    if masses.drained or np.isnan(right).any() or math.isnan(masses.total[LEAVING].likely):
        return
    worst = int(np.argmax(np.abs(right)))
    more = masses.right[worst].amount if right[worst] > 0 else masses.right[worst].negated
    most = LOPSIDED * masses.total[worst].likely
    over = abs(right[worst]) > most
    sides = ("right", "left") if right[worst] > 0 else ("left", "right")
    yield Finding(
        "weight.sides",
        Verdict.WATCH if over else Verdict.FINE,
        say(
            "{when}, the water weighs {more} more on the {heavy} side than on the {light} one.",
            when=STATE[STATES[worst]].capitalize(),
            more=more,
            heavy=sides[0],
            light=sides[1],
        ),
        value=more,
        limit=limit("right over left", most, MASS, "common practice", _LOPSIDED).amount,
        change=say("Put what is heavy and can move on the {light} side.", light=sides[1]) if over else None,
        source="common practice",
    )


def _gaps(plan: Plan, laden: Laden) -> Iterator[Finding]:
    if plan.at("vehicle.wheelbase") is None:
        yield Finding(
            "weight.wheelbase",
            Verdict.NOT_DECIDED,
            say("What the water puts on each axle is not decided."),
            change=say("Give the wheelbase."),
            address="vehicle.wheelbase",
        )
    lost = [thing for thing, x in zip(laden.things, laden.x[0], strict=True) if np.isnan(x)]
    if lost:
        yield Finding(
            "weight.places",
            Verdict.NOT_DECIDED,
            say("Where along the van the {things} sits is not decided, so no axle counts it.", things=lost[0].name)
            if len(lost) == 1
            else say(
                "Where along the van {things} sit is not decided, so no axle counts them.",
                things=tuple(thing.name for thing in lost),
            ),
            change=say("Measure how far behind the front axle their centres lie."),
            address=f"{lost[0].address}.x",
        )
    missing = [
        key
        for key in ("empty_front", "empty_rear", "permitted_front", "permitted_rear", "permitted_total")
        if plan.at(f"vehicle.{key}") is None
    ]
    if missing and plan.vehicle is not None:
        weighed = all(key.startswith("permitted") for key in missing)
        yield Finding(
            "weight.limits",
            Verdict.NOT_DECIDED,
            say("Whether axles and van may carry all that is not decided."),
            change=say("Read the permitted loads from the vehicle's plate.")
            if weighed
            else say("Weigh both axles of the empty van, tanks dry, and read the permitted loads from its plate."),
            address=f"vehicle.{missing[0]}",
        )
