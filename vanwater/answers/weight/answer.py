"""What the water puts on the axles and sides, trip by trip, and whether that is permitted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.weight.findings import weight_findings
from vanwater.answers.weight.masses import FULL, LEAVING, STATE, Masses
from vanwater.plan.model import Plan
from vanwater.quantities import MASS, PLACE
from vanwater.system.batch import Batch
from vanwater.system.weight import Laden, laden

__all__ = ["Weight", "weight"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Weight(Answer):
    """The answer on weight.

    Parameters
    ----------
    masses : Masses
        Water and loads, what that puts on axles and sides, and what the axles carry, state by state.
    """

    masses: Masses


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
    masses = Masses(batch, laden(batch))
    findings = worst_first(weight_findings(plan, masses))
    placed = masses.laden.unplaced[0, FULL] < masses.laden.water[0, FULL]
    return Weight(
        verdict=_verdict(masses, findings),
        decided=(bool(placed) or plan.water.drained) and plan.at("vehicle.wheelbase") is not None,
        make_tables=partial(_tables, masses),
        findings=findings,
        make_numbers=partial(_numbers, masses),
        assumptions=tuple(_assumptions(plan, masses.laden)),
        masses=masses,
    )


def _verdict(masses: Masses, findings: tuple[Finding, ...]) -> Say:
    if not masses.laden.things:
        return say("No tank is planned, so no water is weighed.")
    if findings and findings[0].verdict is Verdict.FAILS:
        return findings[0].statement
    if masses.drained:
        left = masses.payload
        return (
            say("Drained, the water weighs nothing.")
            if np.isnan(left.likely)
            else say("Drained, the water weighs nothing; {left} of payload are left.", left=left)
        )
    water, front, rear = (held[LEAVING] for held in (masses.water, masses.front, masses.rear))
    if np.isnan(front.likely) or masses.laden.unplaced[0, LEAVING] > 0.0:
        return say("The van leaves with {water} of water; where all of it rests is not decided yet.", water=water)
    axles = say(
        "Leaving full, {water} of water put {front} on the front axle and {rear} on the rear",
        water=water,
        front=front,
        rear=rear,
    )
    if np.isnan(masses.payload.likely):
        return say("{axles}.", axles=axles)
    return say("{axles}; {left} of payload are left.", axles=axles, left=masses.payload)


def _numbers(masses: Masses) -> Iterator[Number]:
    if masses.laden.things and np.isfinite(masses.payload.likely):
        yield masses.payload


def _tables(masses: Masses) -> Iterator[Table]:
    if not masses.laden.things:
        return
    if not masses.drained:
        yield _by_state(
            "states",
            say("The water, and what it adds to the axles against dry tanks."),
            {
                "water": masses.water,
                "front": masses.front,
                "rear": masses.rear,
                "right over left": masses.right,
            },
            False,
        )
        yield _by_state(
            "centre",
            say("Where the centre of mass of the water lies."),
            {"behind front axle": masses.behind, "right of centre line": masses.beside},
            False,
        )
    weighed = {"front axle": masses.front_load, "rear axle": masses.rear_load, "in all": masses.total}
    yield _by_state("carried", say("What the axles carry, with people and loads."), weighed, masses.drained)
    things = (*masses.laden.things, *masses.laden.loads)
    numbers = (*masses.full, *masses.riding), masses.places, masses.on_front, masses.on_rear
    yield Table(
        "places",
        say("What each weighs when full, and what that puts on the axles."),
        (
            Column("what"),
            Column("holds"),
            Column("full", MASS),
            Column("behind front axle", PLACE),
            Column("on front", MASS),
            Column("on rear", MASS),
        ),
        tuple(
            (thing.name, thing.kind, *map(_cell, row))
            for thing, row in zip(things, zip(*numbers, strict=True), strict=True)
        ),
    )


def _by_state(key: str, caption: Say, columns: Mapping[str, Sequence[Number]], drained: bool) -> Table:
    """Numbers state by state, without the columns in which nothing is known; no rows where none is."""
    told = [words for words in STATE.values() if not drained or words == STATE["dry"]]
    known = {
        heading: numbers
        for heading, numbers in columns.items()
        if any(np.isfinite(number.likely) for number in numbers)
    }
    return Table(
        key,
        caption,
        (Column("state"), *(Column(heading, numbers[0].quantity) for heading, numbers in known.items())),
        tuple((words, *(_cell(numbers[place]) for numbers in known.values())) for place, words in enumerate(told))
        if known
        else (),
    )


def _cell(number: Number) -> Cell:
    return number.amount if np.isfinite(number.likely) else None


def _assumptions(plan: Plan, laden: Laden) -> Iterator[Assumption]:
    if not laden.things:
        return
    heated = bool(plan.heaters)
    yield Assumption(
        "states",
        say("Tanks, heater and lines are drained.")
        if plan.water.drained
        else say(
            f"Home, the fresh tanks are drained, grey tanks and toilets full{'; the heater stays full' * heated}."
        ),
        "",
        "common practice",
    )
    yield Assumption(
        "lines",
        say("The little water in hoses, pump and accumulator is not counted."),
        "",
        "common practice",
    )
    if any(plan.tanks[thing.name].filled is not None for thing in laden.things if thing.kind != "heater"):
        yield Assumption("filled", say("The van leaves with its tanks filled as planned."), "", "the plan")
    if plan.vehicle is not None and plan.vehicle.empty_front is not None:
        yield Assumption(
            "weighed",
            say(
                f"The empty van was weighed with every tank{' and the heater' * heated} dry, on its wheels, standing "
                "level."
            ),
            "Weigh it axle by axle on a public scale.",
            "the plan",
            "vehicle.empty_front",
        )
