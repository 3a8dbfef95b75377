"""What each outlet gives, where the pressure goes, and what the flow hangs on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import assumed
from vanwater.answers.core.working import planned, stated
from vanwater.answers.missing import missing
from vanwater.answers.outlets.alone import Alone, outlets_alone
from vanwater.answers.outlets.findings import gives, mains_only, outlet_findings, way_not_decided
from vanwater.answers.outlets.joined_tanks import joined_findings
from vanwater.answers.outlets.outlet import UNSURE, BudgetPiece, OutletSupply
from vanwater.answers.outlets.pressure_along import pressure_along
from vanwater.answers.outlets.priming import priming, priming_table
from vanwater.answers.outlets.pump import volts_findings
from vanwater.answers.outlets.suction import (
    drawing,
    npsh_required,
    npsh_to_spare,
    suction_findings,
    suction_numbers,
    suction_table,
)
from vanwater.answers.outlets.system_curve import set_points
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, SHARE
from vanwater.system.path_conditions import asked_first
from vanwater.system.path_conditions import missing as gaps_on
from vanwater.system.ways import way_from_mains

__all__ = ["Outlets", "outlets"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Outlets(Answer):
    """The answer on flow and pressure.

    Parameters
    ----------
    plan : Plan
        The plan that was asked, for what is worked out on demand.
    outlets : mapping of str to OutletSupply
        Those whose way is decided; the others have an empty row in the table.
    main : str
        The outlet that the verdict speaks of; empty where none is decided.
    """

    plan: Plan
    outlets: Mapping[str, OutletSupply]
    main: str

    @property
    def silent(self) -> bool:
        """Whether there is nothing to tell: a planned outlet keeps its place, also while its way is not whole."""
        return super().silent and not self.plan.outlets


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
        make_tables=partial(_tables, plan, alone.outlets, main),
        make_numbers=partial(_numbers, alone.outlets, main),
        assumptions=assumed(UNSURE) if alone.outlets else (),
        plan=plan,
        outlets=alone.outlets,
        main=main,
    )


def _findings(plan: Plan, alone: Alone) -> Iterator[Finding]:
    waiting = {outlet for lack in missing(plan) for outlet in lack.outlets}  # told above all findings
    for name, way in alone.ways.items():
        if name in alone.outlets:
            yield from outlet_findings(alone.outlets[name])
        elif name not in waiting:
            piped = way_from_mains(plan, name)
            lacks = gaps_on(plan, piped) if piped.mains else ()
            if way.broken and piped.mains and not piped.broken:
                yield way_not_decided(name, piped, lacks) if lacks else mains_only(name)
            else:
                yield way_not_decided(name, way, alone.gaps[name])
    for supply in drawing(alone.outlets):
        yield from suction_findings(supply)
    if not plan.outlets and "outlets" not in plan.van.without:
        yield Finding(
            "outlets.none",
            Verdict.NOT_DECIDED,
            say("No outlet is planned yet."),
            change=say(
                "Add a table for each outlet with its measured flow, and the runs that lead to it; where there is "
                "none, say {line}.",
                line='without = ["outlets"] in [van]',
            ),
            address="outlets",
        )
    yield from joined_findings(plan, [way for way in alone.ways.values() if not way.broken])
    yield from volts_findings(plan)


def _verdict(each: Mapping[str, OutletSupply], main: str) -> Say:
    if not main:
        return say("What the outlets give is not decided yet.")
    supply = each[main]
    if supply.runs_dry:
        return say("The {outlet} runs dry: the pump stops before it is started again.", outlet=main)
    if not supply.reaches:
        return say("No water reaches the {outlet}: the pressure does not lift it that high.", outlet=main)
    worst = max((piece for piece in supply.budget if piece.kind == "run"), key=lambda piece: piece.loss.likely)
    return say(
        "The {gives}; on the way there the {piece} takes most, {loss}.",
        gives=gives(supply),
        piece=worst.label,
        loss=worst.loss.rounded(2),
    )


def _numbers(each: Mapping[str, OutletSupply], main: str) -> Iterator[Number]:
    for supply in each.values():
        yield from (supply.flow, supply.pressure)
        if supply.cycles:
            yield from (supply.least, supply.most, supply.crossing)
        if supply.reaches:
            yield from (supply.rise, supply.inlet, supply.discharge, *supply.losses.values(), supply.lift)
            if supply.way.suction:
                yield from suction_numbers(supply)
    for supply in drawing(each):
        if supply.reaches:
            yield from (npsh_required(supply), npsh_to_spare(supply))
        dry = priming(supply)
        if dry is not None:
            yield from (number for number in (dry.lift, dry.dry, dry.spare) if number is not None)
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


def _tables(plan: Plan, each: Mapping[str, OutletSupply], main: str) -> Iterator[Table]:
    if not main:
        return
    supply = each[main]
    swings = any(every.swings for every in each.values())
    yield Table(
        "outlets",
        say("Each outlet open alone, the tank half full."),
        (
            Column("outlet"),
            Column("gives", FLOW),
            *((Column("swings from", FLOW), Column("to", FLOW)) if swings else ()),
            Column("wanted", FLOW),
            Column("pressure before it", PRESSURE),
            Column("pump"),
        ),
        tuple(
            (
                name,
                each[name].flow.shown if name in each else None,
                *((_swings(each[name]) if name in each else (None, None)) if swings else ()),
                planned(plan, f"outlets.{name}.wanted", FLOW).amount if outlet.wanted is not None else None,
                each[name].pressure.amount if name in each else None,
                _runs(each[name]) if name in each else "not decided",
            )
            for name, outlet in plan.outlets.items()
        ),
    )
    if supply.rise.likely > 0:
        yield Table(
            "budget",
            say(
                "Where the pump's pressure goes with the {outlet} open{mean}, largest first.",
                outlet=main,
                mean=say(" at its mean flow" if supply.cycles else ""),
            ),
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
    yield priming_table(drawing(each))


def _swings(supply: OutletSupply) -> tuple[Cell, Cell]:
    """Least and most flow while the pump cycles; empty where its flow does not swing."""
    if not supply.swings:
        return None, None
    return supply.least.rounded(2), supply.most.rounded(2)


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
