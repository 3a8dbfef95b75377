"""What is said of the weight: axles and total against what is permitted, sides, a light front axle, what is missing."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.plan.model import Plan
from vanwater.quantities import MASS, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.weight import STATES, Laden

__all__ = ["FULL", "HOME", "LEAVING", "STATE", "Carried", "carried", "weight_findings"]

LEAVING, HOME, FULL = (STATES.index(state) for state in ("leaving", "home", "full"))

STATE: Mapping[str, str] = {
    "dry": "all dry",
    "leaving": "leaving full",
    "home": "coming home",
    "full": "everything full",
}
"""The states of a trip in words."""

SPARE = 0.03
"""Share of a permitted load that should be left: scales, dirt and forgotten luggage (common practice)."""
LIFTED = 20.0
"""Mass that the water may take off the front axle without a word, kg (common practice)."""
LOPSIDED = 0.05
"""Share of the van's weight by which one side may carry more than the other (common practice)."""

_PLATE = "the vehicle's plate"


@dataclass(frozen=True, slots=True, eq=False)
class Carried:
    """What the axles carry in each state with people and loads, and what they may; NaN where it is not decided.

    Parameters
    ----------
    front, rear, total : array, shape (states,)
        What they carry [kg].
    most_front, most_rear, most_total : float
        What is permitted [kg].
    """

    front: Array
    rear: Array
    total: Array
    most_front: float
    most_rear: float
    most_total: float

    @property
    def payload(self) -> float:
        """What may still be loaded in the heavier of leaving and coming home [kg]; below zero where it is too much."""
        return self.most_total - float(max(self.total[LEAVING], self.total[HOME]))


def carried(batch: Batch, found: Laden) -> Carried:
    """What the axles carry, state by state.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    found : Laden
        Water and loads with their places.

    Returns
    -------
    Carried
        For the plan itself, row 0.
    """
    empty_front, empty_rear, *most = (
        float(batch.number(f"vehicle.{key}")[0])
        for key in ("empty_front", "empty_rear", "permitted_front", "permitted_rear", "permitted_total")
    )
    return Carried(
        empty_front + found.loads_front[0] + found.front[0],
        empty_rear + found.loads_rear[0] + found.rear[0],
        empty_front + empty_rear + found.loads_mass[0] + found.water[0],
        *most,
    )


def weight_findings(plan: Plan, found: Laden, borne: Carried) -> Iterator[Finding]:
    """Everything that is said of the weight.

    Parameters
    ----------
    plan : Plan
        The plan.
    found : Laden
        Water and loads with their places.
    borne : Carried
        What the axles carry.

    Yields
    ------
    Finding
        In no order.
    """
    if not found.things:
        return
    yield from _gaps(plan, found)
    yield from _axle(plan, found, "front", borne.front, borne.most_front)
    yield from _axle(plan, found, "rear", borne.rear, borne.most_rear)
    yield from _axle(plan, found, "total", borne.total, borne.most_total)
    yield from _lifted(found)
    yield from _lopsided(found, borne)


def _axle(plan: Plan, found: Laden, which: str, loads: Array, most: float) -> Iterator[Finding]:
    """One axle, or the total, against what is permitted: on the road, and with everything full."""
    if np.isnan(loads).all() or math.isnan(most):
        return
    worst = int(np.argmax(loads[:FULL]))
    load, unplaced = float(loads[worst]), np.zeros_like(loads) if which == "total" else found.unplaced[0]
    limit = Amount(most, MASS, 4)
    change = None
    if load > most:
        verdict, change = Verdict.FAILS, _less(plan, found, which, worst, load - most)
    elif float(loads[FULL]) > most:
        verdict, worst, load = Verdict.WATCH, FULL, float(loads[FULL])
        change = say("Empty grey tank and toilet before the fresh tank is filled.")
    elif float((loads + unplaced)[:FULL].max()) > (1.0 - SPARE) * most:
        verdict, change = Verdict.WATCH, say("Weigh the loaded van on a public scale before the trip.")
    else:
        verdict = Verdict.FINE
    yield Finding(
        f"weight.{which}",
        verdict,
        _told(which, worst, Amount(load, MASS, 4), limit),
        value=Amount(load, MASS, 4),
        limit=limit,
        change=change,
        address=f"vehicle.permitted_{which}",
        source=_PLATE,
    )


def _told(which: str, state: int, load: Amount, limit: Amount) -> Say:
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


def _less(plan: Plan, found: Laden, which: str, state: int, over: float) -> Say:
    """What to leave behind: fresh water where that is enough, else anything else."""
    wheelbase = plan.at("vehicle.wheelbase")
    for place, thing in enumerate(found.things):
        if thing.kind != "fresh" or STATES[state] != "leaving":
            continue
        x, mass = float(found.x[0, place]), float(found.mass[0, place] * found.filled[0, state, place])
        to_rear = x / wheelbase if wheelbase is not None else math.nan
        share = {"front": 1.0 - to_rear, "rear": to_rear, "total": 1.0}[which]
        if share > 0.0 and over <= share * mass:
            litres = Amount(math.ceil(over / share) * 1e-3, VOLUME)
            return say("Leave with {litres} less in the {tank}, or take less along.", litres=litres, tank=thing.name)
    over_ = Amount(math.ceil(over), MASS)
    if which == "total":
        return say("Take {over} less along.", over=over_)
    return say("Take {over} off it: leave things at home, or move them toward the other axle.", over=over_)


def _lifted(found: Laden) -> Iterator[Finding]:
    front = found.front[0, :FULL]
    if np.isnan(front).all() or float(front.min()) > -LIFTED:
        return
    worst = int(np.argmin(front))
    yield Finding(
        "weight.lifted",
        Verdict.WATCH,
        say(
            "{when}, the water takes {mass} off the front axle.",
            when=STATE[STATES[worst]].capitalize(),
            mass=Amount(-float(front[worst]), MASS),
        ),
        change=say("Move what sits behind the rear axle forward: a light front axle steers and brakes poorly."),
        source="common practice",
    )


def _lopsided(found: Laden, borne: Carried) -> Iterator[Finding]:
    right = found.right[0, :FULL]
    if np.isnan(right).any() or math.isnan(float(borne.total[LEAVING])):
        return
    worst = int(np.argmax(np.abs(right)))
    more = Amount(abs(float(right[worst])), MASS)
    limit = Amount(LOPSIDED * float(borne.total[worst]), MASS)
    over = more.value > limit.value
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
        limit=limit,
        change=say("Put what is heavy and can move on the {light} side.", light=sides[1]) if over else None,
        source="common practice",
    )


def _gaps(plan: Plan, found: Laden) -> Iterator[Finding]:
    if plan.at("vehicle.wheelbase") is None:
        yield Finding(
            "weight.wheelbase",
            Verdict.NOT_DECIDED,
            say("What the water puts on each axle is not decided."),
            change=say("Say the wheelbase."),
            address="vehicle.wheelbase",
        )
    lost = [thing for thing, x in zip(found.things, found.x[0], strict=True) if np.isnan(x)]
    if lost:
        yield Finding(
            "weight.places",
            Verdict.NOT_DECIDED,
            say("Where along the van the {things} sits is not decided, so no axle counts it.", things=lost[0].name)
            if len(lost) == 1
            else say(
                "Where along the van {things} sit is not decided, so no axle counts them.",
                things=tuple(one.name for one in lost),
            ),
            change=say("Say how far behind the front axle their centres lie."),
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
