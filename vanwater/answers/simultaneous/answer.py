"""What the outlets give that a plan says people open together, by the whole network in one solve."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import RUN_OFF, assumed
from vanwater.answers.outlets.alone import outlets_alone
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.answers.simultaneous.budget import share_of
from vanwater.answers.simultaneous.findings import set_findings
from vanwater.answers.simultaneous.sets import OpenSet, open_sets, worst
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, SECONDS, SHARE, SPEED, TEMPERATURE

__all__ = ["Simultaneous", "simultaneous"]

MOST = 5
"""Remedies that are told for a set."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Simultaneous(Answer):
    """The answer on outlets that are open together.

    Parameters
    ----------
    plan : Plan
        The plan that was asked.
    sets : tuple of OpenSet
        What the outlets of each set give; those with an outlet that is not decided are left out.
    """

    plan: Plan
    sets: tuple[OpenSet, ...]


def simultaneous(plan: Plan) -> Simultaneous:
    """Flow, pressure and warmth at the outlets of a plan that are open together.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Simultaneous
        Not decided where no set is planned, or an outlet of each is not decided.
    """
    alone = outlets_alone(plan)
    sets = open_sets(alone.batch, alone.outlets)
    return Simultaneous(
        verdict=_verdict(sets),
        decided=bool(sets),
        findings=worst_first(set_findings(plan, sets)),
        make_tables=partial(_tables, sets),
        make_numbers=partial(_numbers, sets),
        assumptions=assumed((*UNSURE, RUN_OFF) if plan.heaters else UNSURE) if sets else (),
        plan=plan,
        sets=sets,
    )


def _verdict(sets: tuple[OpenSet, ...]) -> Say:
    if not sets:
        return say("Which outlets are open together, and what they give then, is not decided.")
    told = worst(sets)
    weakest = told.weakest
    how = " in the mean" if told.swings(weakest) else " at most"
    how = f"{how}, as the pump cycles" if told.cycles(weakest) else ""
    return say(
        f"With {{opened}} open the {{outlet}} gives {{flow}}{how}, {{lost}} less than alone.",
        opened=told.outlets,
        outlet=weakest,
        flow=told.flow[weakest],
        lost=told.lost[weakest].rounded(2),
    )


def _numbers(sets: tuple[OpenSet, ...]) -> Iterator[Number]:
    """Those that no table shows."""
    for opened in sets:
        for outlet in filter(opened.cycles, opened.outlets):
            yield from (opened.least[outlet], opened.most[outlet])
        for waiting in opened.wait.values():
            yield waiting.run_off
        if opened.run_off is not None:
            yield opened.run_off
        for point in opened.pumps.values():
            yield from (point.flow, point.rise)
            if point.cycles:
                yield point.crossing
                yield from point.times or ()
            yield from (number for number in (point.current, point.charge) if number is not None)


def _tables(sets: tuple[OpenSet, ...]) -> Iterator[Table]:
    if not sets:
        return
    yield Table(
        "together",
        say(
            "Outlets that are open together. The temperature is that of a tap left as it was set for its outlet alone."
        ),
        (
            Column("open together"),
            Column("outlet"),
            Column("alone", FLOW),
            Column("together", FLOW),
            Column("pressure before it", PRESSURE),
            Column("fastest run", SPEED),
            Column("tap left", TEMPERATURE),
            Column("hot after", SECONDS),
        ),
        tuple(
            (
                opened.name,
                outlet,
                opened.alone[outlet].flow.amount,
                opened.flow[outlet].shown,
                opened.pressure[outlet].amount,
                opened.speed[outlet].speed.rounded(2),
                opened.temperature[outlet].amount if outlet in opened.temperature else None,
                opened.wait[outlet].wait.amount if outlet in opened.wait else None,
            )
            for opened in sets
            for outlet in opened.outlets
        ),
    )
    yield from map(_budget, sets)
    yield Table(
        "together gains",
        say("What would bring the weakest outlet of each set more, by the whole network, largest first."),
        (Column("open together"), Column("change"), Column("outlet"), Column("gain", FLOW), Column("in all", FLOW)),
        tuple(
            (opened.name, gain.words, gain.outlet, gain.flow.amount, gain.all_together.amount)
            for opened in sets
            for gain in opened.gains[opened.weakest][:MOST]
        ),
    )


def _budget(opened: OpenSet) -> Table:
    budget = opened.budget
    driven = budget.rise.likely > 0
    return Table(
        f"together {opened.name}",
        say(
            "Where the pressure goes to the {outlet} with {opened} open, largest first.",
            outlet=budget.outlet,
            opened=opened.outlets,
        ),
        (Column("piece"), Column("takes", PRESSURE_DIFFERENCE), Column("share", SHARE)),
        tuple(
            (
                piece.label,
                piece.loss.rounded(2),
                share_of(opened.rows, budget, piece).rounded(2) if driven else None,
            )
            for piece in budget.largest_first
        ),
        note=say("The pieces add up to {rise}, all that drives the water.", rise=budget.rise.amount),
    )
