"""What the outlets give that a plan says people open together, by the whole network in one solve."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.cautions import ESTIMATE, SCALD
from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.core.unsure import RUN_OFF, assumed
from vanwater.answers.outlets.alone import outlets_alone
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.answers.simultaneous.findings import set_findings
from vanwater.answers.simultaneous.sets import OpenSet, open_sets
from vanwater.answers.simultaneous.sums import set_numbers
from vanwater.answers.simultaneous.tables import set_tables
from vanwater.plan.model import Plan
from vanwater.quantities import SHARE

__all__ = ["Simultaneous", "simultaneous"]


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
        make_tables=partial(set_tables, sets),
        make_numbers=partial(set_numbers, sets),
        assumptions=assumed((*UNSURE, RUN_OFF) if plan.heaters else UNSURE) if sets else (),
        cautions=((SCALD, ESTIMATE) if plan.heaters else (ESTIMATE,)) if sets else (),
        plan=plan,
        sets=sets,
    )


def _verdict(sets: tuple[OpenSet, ...]) -> Say:
    if not sets:
        return say("Which outlets are open together, and what they give then, is not decided.")
    first = sets[0]
    outlet = first.weakest
    flow, alone = first.flow[outlet], first.alone[outlet].flow.likely
    return say(
        "With {opened} open the {outlet} gives {flow}, {lost} less than alone.",
        opened=first.outlets,
        outlet=outlet,
        flow=flow,
        lost=Amount(1.0 - flow.likely / alone if alone > 0 else 0.0, SHARE, 2),
    )
