"""What the outlets give on the water of a campsite, alone and together, and what keeps it from tank and pump."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import assumed
from vanwater.answers.mains.findings import mains_findings
from vanwater.answers.mains.flows import OnMains, mains_unsure, on_mains, sets_on_mains
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE
from vanwater.system.path_conditions import asked_first, mains_ways
from vanwater.system.ways import Way, way_to

__all__ = ["Mains", "mains"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Mains(Answer):
    """The answer on a campsite's water.

    Parameters
    ----------
    outlets : mapping of str to OnMains
        What each outlet gives that the mains feeds.
    """

    outlets: Mapping[str, OnMains]


def mains(plan: Plan) -> Mains:
    """Flow and pressure at each outlet of a plan that stands on a campsite's tap.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Mains
        Not decided where no inlet feeds an outlet.
    """
    piped = mains_ways(plan)
    outlets = on_mains(plan, piped)
    off_grid = [way for outlet in plan.outlets if not (way := way_to(plan, outlet)).broken]
    return Mains(
        verdict=_verdict(outlets),
        decided=bool(outlets),
        findings=worst_first(mains_findings(plan, off_grid, piped)),
        make_tables=partial(_tables, plan, piped, outlets),
        assumptions=assumed(mains_unsure(plan, piped)) if piped else (),
        outlets=outlets,
    )


def _verdict(outlets: Mapping[str, OnMains]) -> Say:
    name = asked_first({outlet: fed.way for outlet, fed in outlets.items()})
    if not name:
        return say("What the outlets give on a campsite's water is not decided.")
    return say(
        "On a campsite's water the {outlet} gives {flow}, {pressure} before it.",
        outlet=name,
        flow=outlets[name].flow,
        pressure=outlets[name].pressure.amount,
    )


def _tables(plan: Plan, piped: tuple[Way, ...], outlets: Mapping[str, OnMains]) -> Iterator[Table]:
    yield Table(
        "mains",
        say("Each outlet open alone on a campsite's tap, instead of tank and pump."),
        (
            Column("outlet"),
            Column("gives", FLOW),
            Column("pressure before it", PRESSURE),
            Column("at the inlet", PRESSURE),
        ),
        tuple((outlet, fed.flow.shown, fed.pressure.amount, fed.source.amount) for outlet, fed in outlets.items()),
    )
    yield Table(
        "mains together",
        say("Outlets open together on a campsite's tap, instead of tank and pump."),
        (Column("open together"), Column("outlet"), Column("gives", FLOW), Column("pressure before it", PRESSURE)),
        tuple(
            (each.name, outlet, flow.shown, each.pressure[outlet].amount)
            for each in sets_on_mains(plan, piped)
            for outlet, flow in each.flow.items()
        ),
    )
