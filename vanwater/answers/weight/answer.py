"""What the water puts on the axles and sides, trip by trip, and whether that is permitted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cautions import ESTIMATE, WEIGHT
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.weight.findings import FULL, LEAVING, STATE, Carried, carried, weight_findings
from vanwater.answers.weight.sums import weight_sums
from vanwater.physics.mass import front_load, rear_load
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH, MASS, Array
from vanwater.system.batch import Batch
from vanwater.system.weight import STATES, Laden, laden

__all__ = ["Weight", "weight"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Weight(Answer):
    """The answer on weight.

    Parameters
    ----------
    laden : Laden
        What holds water, its places, and what that puts on axles and sides, state by state.
    carried : Carried
        What the axles carry in each state, and what they may.
    """

    laden: Laden
    carried: Carried


def weight(plan: Plan) -> Weight:
    """What the water weighs and where it rests.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Weight
        Change of the axles against dry; what they carry where the van was weighed. What is not decided is told in the
        findings.
    """
    batch = Batch(plan)
    found = laden(batch)
    borne = carried(batch, found)
    findings = worst_first(weight_findings(plan, found, borne))
    return Weight(
        verdict=_verdict(found, borne, findings),
        decided=bool(found.unplaced[0, FULL] < found.water[0, FULL]) and plan.at("vehicle.wheelbase") is not None,
        make_tables=partial(_tables, plan, found, borne),
        findings=findings,
        make_numbers=partial(weight_sums, plan, found, borne),
        assumptions=tuple(_assumptions(plan, found)),
        cautions=(WEIGHT, ESTIMATE),
        laden=found,
        carried=borne,
    )


def _verdict(found: Laden, borne: Carried, findings: tuple[Finding, ...]) -> Say:
    if not found.things:
        return say("No tank is planned, so no water is weighed.")
    if findings and findings[0].verdict is Verdict.FAILS:
        return findings[0].statement
    water = Amount(float(found.water[0, LEAVING]), MASS)
    if np.isnan(found.front[0, LEAVING]) or found.unplaced[0, LEAVING] > 0.0:
        return say("The van leaves with {water} of water; where all of it rests is not decided yet.", water=water)
    told = say(
        "Leaving full, {water} of water put {front} on the front axle and {rear} on the rear",
        water=water,
        front=Amount(float(found.front[0, LEAVING]), MASS),
        rear=Amount(float(found.rear[0, LEAVING]), MASS),
    )
    left = borne.payload
    if np.isnan(left):
        return say("{told}.", told=told)
    return say("{told}; {left} of payload are left.", told=told, left=Amount(left, MASS))


def _tables(plan: Plan, found: Laden, borne: Carried) -> Iterator[Table]:
    if not found.things:
        return
    yield _states(
        "states",
        say("Water, and its change of the axles against dry."),
        (
            ("water", found.water[0]),
            ("front", found.front[0]),
            ("rear", found.rear[0]),
            ("right over left", found.right[0]),
        ),
    )
    weighed = (("front axle", borne.front), ("rear axle", borne.rear), ("in all", borne.total))
    if any(np.isfinite(loads).any() for _, loads in weighed):
        yield _states("carried", say("What the axles carry, with people and loads."), weighed)
    yield Table(
        "places",
        say("What each weighs when full, and what that puts on the axles."),
        (
            Column("what"),
            Column("holds"),
            Column("full", MASS),
            Column("behind front axle", LENGTH),
            Column("on front", MASS),
            Column("on rear", MASS),
        ),
        tuple(_places(plan, found)),
    )


def _states(key: str, caption: Say, columns: tuple[tuple[str, Array], ...]) -> Table:
    """Masses state by state, without the columns in which nothing is known."""
    known = [(heading, numbers) for heading, numbers in columns if np.isfinite(numbers).any()]
    return Table(
        key,
        caption,
        (Column("state"), *(Column(heading, MASS) for heading, _ in known)),
        tuple(
            (STATE[state], *(_cell(float(numbers[place])) for _, numbers in known))
            for place, state in enumerate(STATES)
        ),
    )


def _places(plan: Plan, found: Laden) -> Iterator[tuple[Cell, ...]]:
    wheelbase = plan.at("vehicle.wheelbase")
    names = [(thing.name, thing.kind) for thing in found.things] + [(one.name, "load") for one in found.loads]
    mass = np.append(found.mass[0], [plan.loads[one.name].mass for one in found.loads])
    x = np.append(found.x[0], [plan.loads[one.name].x for one in found.loads])
    axle = wheelbase if wheelbase is not None else np.nan
    front, rear = front_load(mass, x, axle), rear_load(mass, x, axle)
    for place, (name, kind) in enumerate(names):
        at = Amount(float(x[place]), LENGTH) if np.isfinite(x[place]) else None
        yield name, kind, _cell(float(mass[place])), at, _cell(float(front[place])), _cell(float(rear[place]))


def _cell(value: float) -> Amount | None:
    return Amount(value, MASS, 4 if abs(value) >= 1000.0 else 3) if np.isfinite(value) else None


def _assumptions(plan: Plan, found: Laden) -> Iterator[Assumption]:
    if not found.things:
        return
    yield Assumption(
        "states",
        say("Home, the fresh tanks are drained, grey tanks and toilets full; the heater stays full."),
        "",
        "common practice",
    )
    yield Assumption(
        "lines",
        say("Water in hoses, pump and accumulator, a litre or two, is not counted."),
        "",
        "common practice",
    )
    if any(plan.tanks[one.name].filled is not None for one in found.things if one.kind != "heater"):
        yield Assumption("filled", say("The van leaves with its tanks filled as planned."), "", "the plan")
    if plan.vehicle is not None and plan.vehicle.empty_front is not None:
        yield Assumption(
            "weighed",
            say("The empty van was weighed with every tank and the heater dry, on its wheels, standing level."),
            "Weigh it axle by axle on a public scale.",
            "the plan",
            "vehicle.empty_front",
        )
