"""What each outlet gives, where the pressure goes, and what the flow hangs on.

Each outlet alone along its way from the tank: a series of runs with a hot and a cold leg that join at the mixing
tap, all unsure inputs and all remedies rows of one solve.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.cautions import DRINKING_WATER, ESTIMATE, MAINS_AND_BATTERY, SCALD
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.spread import Influence
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import assumed
from vanwater.answers.core.working import Step, shown
from vanwater.answers.outlets.findings import mains_only, outlet_findings, priming, suction_finding, way_not_decided
from vanwater.answers.outlets.joined_tanks import joined_findings
from vanwater.answers.outlets.loose_ends import loose_ends
from vanwater.answers.outlets.outlet import UNSURE, OutletSupply, outlets_alone
from vanwater.answers.outlets.suction import npsh, npsh_finding, suction_table
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, SHARE
from vanwater.system.path_conditions import asked_first, mains_ways

__all__ = ["Supply", "supply"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Supply(Answer):
    """The answer on flow and pressure.

    Parameters
    ----------
    plan : Plan
        The plan that was asked, for what is worked out on demand.
    outlets : mapping of str to OutletSupply
        Those whose way is decided.
    main : str
        The outlet that the verdict speaks of; empty where none is decided.
    """

    plan: Plan
    outlets: Mapping[str, OutletSupply]
    main: str


def supply(plan: Plan) -> Supply:
    """Flow and pressure at each outlet of a plan, open alone.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Supply
        Outlets whose way is not decided are told in the findings.
    """
    findings: list[Finding] = []
    alone = outlets_alone(plan)
    ways, outlets = alone.ways, alone.outlets
    piped = mains_ways(plan)
    for name, way in ways.items():
        if name not in outlets:
            only = not way.tank and any(one.outlet == name for one in piped)
            findings.append(mains_only(name) if only else way_not_decided(name, way, alone.gaps[name]))
            continue
        findings += outlet_findings(plan, outlets[name])
    for pump in plan.pumps:
        behind = [one for one in outlets.values() if one.way.pump == pump and one.way.suction]
        if behind:
            most = max(behind, key=lambda one: one.flow.likely)
            findings.append(suction_finding(plan, most))
            findings += npsh_finding(plan, most)
    if not plan.outlets:
        findings.append(
            Finding(
                "supply.outlets",
                Verdict.NOT_DECIDED,
                say("No outlet is planned yet."),
                change=say("Add a table for each outlet with its measured flow, and the runs that lead to it."),
                address="outlets",
            )
        )
    whole = [way for way in ways.values() if not way.broken]
    findings += joined_findings(plan, whole)
    findings += loose_ends(plan)
    main = asked_first({name: one.way for name, one in outlets.items()})
    cautions = [DRINKING_WATER, ESTIMATE]
    if plan.heaters:
        cautions.insert(0, SCALD)
    if plan.pumps or plan.heaters:
        cautions.append(MAINS_AND_BATTERY)
    return Supply(
        verdict=_verdict(outlets, main),
        decided=bool(outlets),
        make_tables=partial(_tables, plan, outlets, main),
        findings=worst_first(findings),
        make_numbers=partial(_all_numbers, plan, outlets),
        assumptions=assumed(UNSURE) if outlets else (),
        cautions=tuple(cautions),
        plan=plan,
        outlets=outlets,
        main=main,
    )


def _verdict(outlets: Mapping[str, OutletSupply], main: str) -> Say:
    if not main:
        return say("What the outlets give is not decided yet.")
    one = outlets[main]
    if not one.reaches:
        return say("No water reaches the {outlet}: the pressure does not lift it that high.", outlet=main)
    runs = [piece for piece in one.budget if piece.kind == "run"]
    worst = max(runs, key=lambda piece: piece.loss)
    return say(
        "The {outlet} gives {flow}; on the way there the {piece} takes most, {loss}.",
        outlet=main,
        flow=one.flow,
        piece=worst.label,
        loss=Amount(worst.loss, PRESSURE_DIFFERENCE, 2),
    )


def _all_numbers(plan: Plan, outlets: Mapping[str, OutletSupply]) -> Mapping[str, Step]:
    found: dict[str, Step] = {}
    for one in outlets.values():
        found |= _numbers(plan, one)
    return found


def _numbers(plan: Plan, one: OutletSupply) -> dict[str, Step]:
    name = f"supply.{one.outlet}"
    flow = shown(
        f"flow at the {one.outlet}",
        one.flow,
        "The flow at which the pump's rise and the lift equal all losses and the outlet's own, solved for every row "
        "at once; the range combines what each unsure input moves, one at a time, by root-sum-square.",
        facts=[
            ("formula", "p_pump(Q) + ρ g (z_s − z_o) = Σ Δp(Q) + max(Δp hot(x Q), Δp cold((1−x) Q)) + (Q/k)²"),
            ("pressure rise of the pump", Amount(one.rise, PRESSURE)),
            ("hot share of the flow", Amount(float(np.ravel(one.case.physics.hot_share)[0]), SHARE)),
            *((f"{hung.name} from low to high", _moved(hung)) for hung in one.influences),
        ],
        residual=Amount(float(np.abs(one.solved.residual[0])), PRESSURE_DIFFERENCE),
        value=one.solved.flow,
        source="Darcy-Weisbach with Colebrook's friction factor; Crane, Flow of Fluids, TP-410, chapter 1",
    )
    if not one.reaches:
        return {f"{name}.flow": flow}
    rise = shown(
        f"pressure rise of the pump for the {one.outlet}",
        Amount(one.rise, PRESSURE_DIFFERENCE),
        "Where the pump's pressure goes: the pieces add up to its rise.",
        parts=[(piece.label, Amount(piece.loss, PRESSURE_DIFFERENCE)) for piece in one.budget],
        residual=Amount(float(np.abs(one.solved.residual[0])) + 1e-6, PRESSURE_DIFFERENCE),
        value=one.solved.pump_rise,
        source="Bernoulli's equation with losses",
    )
    found = {f"{name}.flow": flow, f"{name}.rise": rise}
    if one.way.suction:
        found[f"{name}.npsh"] = npsh(plan, one)
    if one.way.suction and plan.pumps[one.way.pump].priming_lift is not None:
        found[f"{name}.priming"] = priming(plan, one)
    return found


def _runs(plan: Plan, one: OutletSupply) -> str:
    """How the pump runs under an outlet, in a word."""
    if one.cycles is not None:
        return "cycles" if one.cycles else "steady"
    kind = plan.pumps[one.way.pump].kind if one.way.pump else ""
    return "by hand" if kind in BY_HAND else "steady" if kind in ("speed-controlled", "submersible") else ""


def _moved(hung: Influence) -> Say:
    return say("{low} to {high}", low=Amount(hung.low, FLOW), high=Amount(hung.high, FLOW))


def _tables(plan: Plan, outlets: Mapping[str, OutletSupply], main: str) -> tuple[Table, ...]:
    if not main:
        return ()
    rows = tuple(
        (
            name,
            one.flow,
            Amount(wanted, FLOW) if (wanted := plan.outlets[name].wanted) is not None else None,
            one.pressure.amount,
            _runs(plan, one),
        )
        for name, one in outlets.items()
    )
    each = Table(
        "outlets",
        say("Each outlet open alone, the tank half full."),
        (
            Column("outlet"),
            Column("gives", FLOW),
            Column("wanted", FLOW),
            Column("pressure before it", PRESSURE),
            Column("pump"),
        ),
        rows,
    )
    one = outlets[main]
    budget = Table(
        "budget",
        say("Where the pump's pressure goes with the {outlet} open, largest first.", outlet=main),
        (Column("piece"), Column("takes", PRESSURE_DIFFERENCE), Column("share", SHARE)),
        tuple(
            (piece.label, Amount(piece.loss, PRESSURE_DIFFERENCE, 2), Amount(piece.loss / one.rise, SHARE, 2))
            for piece in sorted(one.budget, key=lambda piece: -piece.loss)
        )
        if one.rise > 0
        else (),
    )
    gains = Table(
        "gains",
        say("What would bring the {outlet} more, largest first.", outlet=main),
        (Column("change"), Column("gain", FLOW)),
        tuple((gain.words, Amount(gain.flow, FLOW, 2)) for gain in one.gains[:5]),
    )
    shown_tables = (each, budget, gains, suction_table(plan, outlets))
    return tuple(table for table in shown_tables if table.rows)
