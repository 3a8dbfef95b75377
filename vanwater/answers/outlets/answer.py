"""What each outlet gives, where the pressure goes, and what the flow hangs on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import assumed
from vanwater.answers.core.working import planned, stated
from vanwater.answers.outlets.alone import Alone, outlets_alone
from vanwater.answers.outlets.findings import mains_only, outlet_findings, way_not_decided
from vanwater.answers.outlets.joined_tanks import joined_findings
from vanwater.answers.outlets.loose_ends import loose_ends
from vanwater.answers.outlets.outlet import UNSURE, BudgetPiece, OutletSupply
from vanwater.answers.outlets.pressure_along import pressure_along
from vanwater.answers.outlets.pump import volts_findings
from vanwater.answers.outlets.suction import npsh, priming, suction_findings, suction_table
from vanwater.answers.outlets.system_curve import set_points
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, SHARE
from vanwater.system.path_conditions import asked_first, mains_ways

__all__ = ["Outlets", "outlets"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Outlets(Answer):
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


def outlets(plan: Plan) -> Outlets:
    """Flow and pressure at each outlet of a plan, open alone.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Outlets
        Outlets whose way is not decided are told in the findings.
    """
    alone = outlets_alone(plan)
    main = asked_first({name: supply.way for name, supply in alone.outlets.items()})
    return Outlets(
        verdict=_verdict(alone.outlets, main),
        decided=bool(alone.outlets),
        findings=worst_first(_findings(plan, alone)),
        make_tables=partial(_tables, alone.outlets, main),
        make_numbers=partial(_numbers, alone.outlets, main),
        assumptions=assumed(UNSURE) if alone.outlets else (),
        plan=plan,
        outlets=alone.outlets,
        main=main,
    )


def _findings(plan: Plan, alone: Alone) -> Iterator[Finding]:
    piped = {way.outlet for way in mains_ways(plan)}
    for name, way in alone.ways.items():
        if name in alone.outlets:
            yield from outlet_findings(alone.outlets[name])
        elif name in piped and not way.tank:
            yield mains_only(name)
        else:
            yield way_not_decided(name, way, alone.gaps[name])
    for pump in plan.pumps:
        behind = [supply for supply in alone.outlets.values() if supply.way.pump == pump and supply.way.suction]
        if behind:
            yield from suction_findings(max(behind, key=lambda supply: supply.flow.likely))
    if not plan.outlets:
        yield Finding(
            "outlets.none",
            Verdict.NOT_DECIDED,
            say("No outlet is planned yet."),
            change=say("Add a table for each outlet with its measured flow, and the runs that lead to it."),
            address="outlets",
        )
    yield from joined_findings(plan, [way for way in alone.ways.values() if not way.broken])
    yield from loose_ends(plan)
    yield from volts_findings(plan)


def _verdict(each: Mapping[str, OutletSupply], main: str) -> Say:
    if not main:
        return say("What the outlets give is not decided yet.")
    supply = each[main]
    if not supply.reaches:
        return say("No water reaches the {outlet}: the pressure does not lift it that high.", outlet=main)
    worst = max((piece for piece in supply.budget if piece.kind == "run"), key=lambda piece: piece.loss.likely)
    return say(
        "The {outlet} gives {flow}; on the way there the {piece} takes most, {loss}.",
        outlet=main,
        flow=supply.flow,
        piece=worst.label,
        loss=worst.loss.rounded(2),
    )


def _numbers(each: Mapping[str, OutletSupply], main: str) -> Iterator[Number]:
    for supply in each.values():
        yield from (supply.flow, supply.pressure)
        if supply.reaches:
            yield from (supply.rise, supply.inlet, supply.discharge, *supply.losses.values(), supply.lift)
            if supply.way.suction:
                left = priming(supply)
                yield from (npsh(supply),) if left is None else (npsh(supply), left)
    if main:
        supply = each[main]
        yield from (stretch.lift for stretch in pressure_along(supply))
        for point in set_points(supply.plan, supply.way.pump, each).values() if supply.way.pump else ():
            yield from point


def _runs(supply: OutletSupply) -> str:
    """How the pump runs under an outlet, in a word."""
    if supply.cycles is not None:
        return "cycles" if supply.cycles else "steady"
    kind = supply.plan.pumps[supply.way.pump].kind if supply.way.pump else ""
    return "by hand" if kind in BY_HAND else "steady" if kind in ("speed-controlled", "submersible") else ""


def _tables(each: Mapping[str, OutletSupply], main: str) -> Iterator[Table]:
    if not main:
        return
    supply = each[main]
    yield Table(
        "outlets",
        say("Each outlet open alone, the tank half full."),
        (
            Column("outlet"),
            Column("gives", FLOW),
            Column("wanted", FLOW),
            Column("pressure before it", PRESSURE),
            Column("pump"),
        ),
        tuple(
            (
                name,
                each[name].flow.shown,
                planned(supply.plan, f"outlets.{name}.wanted", FLOW).amount
                if supply.plan.outlets[name].wanted is not None
                else None,
                each[name].pressure.amount,
                _runs(each[name]),
            )
            for name in each
        ),
    )
    if supply.rise.likely > 0:
        yield Table(
            "budget",
            say("Where the pump's pressure goes with the {outlet} open, largest first.", outlet=main),
            (Column("piece"), Column("takes", PRESSURE_DIFFERENCE), Column("share", SHARE)),
            tuple(
                (piece.label, piece.loss.rounded(2), _share(supply, piece).rounded(2))
                for piece in sorted(supply.budget, key=lambda piece: -piece.loss.likely)
            ),
        )
    yield Table(
        "gains",
        say("What would bring the {outlet} more, largest first.", outlet=main),
        (Column("change"), Column("gain", FLOW)),
        tuple((gain.words, gain.flow.amount) for gain in supply.gains[:5]),
    )
    yield suction_table(each.values())


def _share(supply: OutletSupply, piece: BudgetPiece) -> Number:
    """What a piece takes of the pump's rise."""
    loss, rise = piece.loss.values, supply.rise.values
    return stated(
        f"share of the {piece.label} in the pump's rise",
        np.divide(loss, rise, out=np.full(rise.shape, np.nan), where=rise > 0.0),
        SHARE,
        "What it takes over what the pump gives.",
        facts=(("takes", (loss, PRESSURE_DIFFERENCE)), ("the pump's rise", (rise, PRESSURE_DIFFERENCE))),
        source="share of a whole",
    ).keyed(*piece.loss.key, "share", pairs=supply.pairs)
