"""Whether an accumulator is worth its place: drawdown, pre-charge, starts an hour, the shower's pulse, expansion."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cautions import ESTIMATE, HEATER
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import PUMPS, assumed
from vanwater.answers.core.working import Step
from vanwater.answers.pump_starts.expansion import expansion_finding, expansion_step
from vanwater.answers.pump_starts.findings import cushion_findings, no_accumulator
from vanwater.answers.pump_starts.hammer import hammer_finding, hammer_numbers
from vanwater.answers.pump_starts.over_time import over_time_numbers
from vanwater.answers.pump_starts.pump import PumpCushion, pump_cushion
from vanwater.answers.pump_starts.small_draws import small_draw_findings, small_draw_numbers
from vanwater.plan.model import Plan
from vanwater.plan.pump import SWITCHED
from vanwater.quantities import COMPLIANCE, FLOW, PRESSURE, STARTS, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.compliance import pump_line, switched
from vanwater.system.hot_line import rings

__all__ = ["Accumulator", "accumulator"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Accumulator(Answer):
    """The answer on accumulator and pump switch.

    Parameters
    ----------
    pumps : tuple of PumpCushion
        Pumps whose curve and switch are decided.
    """

    pumps: tuple[PumpCushion, ...]


def accumulator(plan: Plan, draw: float | None = None) -> Accumulator:
    """How often each pump starts, and what an accumulator does about it.

    Parameters
    ----------
    plan : Plan
        The plan.
    draw : float, optional
        Steady draw that starts are told for [m³/s]; a hand-wash without it, less where the pump gives less.

    Returns
    -------
    Accumulator
        Pumps that are not decided are told in the findings.
    """
    pumps = tuple(pump_cushion(plan, pump, draw) for pump in switched(plan))
    findings: list[Finding] = []
    for one in pumps:
        findings += cushion_findings(plan, one)
        findings += small_draw_findings(plan, one)
        findings += hammer_finding(plan, one.pump)
    never = {name: told for name in plan.pumps if (told := no_accumulator(plan, name)) is not None}
    findings += [*never.values(), *_gaps(plan)]
    grown = {heater: expansion_step(plan, heater) for heater in plan.heaters}
    findings += [expansion_finding(plan, heater, step) for heater, step in grown.items()]
    return Accumulator(
        verdict=_verdict(pumps, never),
        decided=bool(pumps or never),
        make_tables=partial(_tables, pumps),
        findings=worst_first(findings),
        make_numbers=partial(_numbers, plan, pumps, grown),
        assumptions=(*assumed((PUMPS,)), *_lines(plan)) if pumps else (),
        cautions=(HEATER, ESTIMATE) if plan.heaters else (ESTIMATE,),
        pumps=pumps,
    )


def _numbers(plan: Plan, pumps: tuple[PumpCushion, ...], grown: Mapping[str, Step]) -> Mapping[str, Step]:
    """The sums by key; those that follow the minute of each set of outlets take some milliseconds."""
    found: dict[str, Step] = {}
    for one in pumps:
        name = f"accumulator.{one.pump}"
        found |= {f"{name}.worst_starts": one.worst_starts, f"{name}.setting": one.setting}
        if one.drawdown is not None:
            found[f"{name}.drawdown"] = one.drawdown
        found.update(small_draw_numbers(plan, one))
    found |= {f"accumulator.{heater}.expansion": step for heater, step in grown.items()}
    return {**found, **hammer_numbers(plan), **over_time_numbers(plan)}


def _gaps(plan: Plan) -> Iterator[Finding]:
    known = {*switched(plan), *(ring.pump for ring in rings(plan))}  # a ring's pump has no switch
    for name, pump in plan.pumps.items():
        if name in known or pump.kind not in SWITCHED:
            continue
        gap = next(field for field in ("curve", "cut_in", "cut_out") if getattr(pump, field) is None)
        yield Finding(
            f"accumulator.{name}.switch",
            Verdict.NOT_DECIDED,
            say("How often the {pump} starts is not decided.", pump=name),
            change=say("Say its curve and the pressures of its switch."),
            address=f"pumps.{name}.{gap}",
        )
    if not plan.pumps:
        yield Finding(
            "accumulator.pump",
            Verdict.NOT_DECIDED,
            say("No pump is planned."),
            change=say("Add the pump, if there is one; gravity needs no accumulator."),
            address="pumps",
        )


def _verdict(pumps: tuple[PumpCushion, ...], never: Mapping[str, Finding]) -> Say:
    if never and not pumps:
        return next(iter(never.values())).statement
    if not pumps:
        return say("How often the pump starts is not decided yet.")
    one = pumps[0]
    flow = Amount(one.draw, FLOW)
    if not one.stops:
        return say("The {pump} never reaches the pressure at which its switch stops it.", pump=one.pump)
    if one.drawdown is None:
        return say(
            "Without an accumulator the {pump} chatters: it starts {starts} at a trickle of {flow}.",
            pump=one.pump,
            starts=one.bare,
            flow=flow,
        )
    return say(
        "The {pump} starts {starts} at a trickle of {flow}; without the accumulator {bare}.",
        pump=one.pump,
        starts=one.starts,
        flow=flow,
        bare=one.bare,
    )


def _tables(pumps: tuple[PumpCushion, ...]) -> Iterator[Table]:
    if not pumps:
        return
    yield Table(
        "starts",
        say("Starts an hour at a trickle of {flow}, and at the draw that is worst.", flow=Amount(pumps[0].draw, FLOW)),
        (
            Column("pump"),
            Column("water between starts", VOLUME),
            Column("starts", STARTS),
            Column("without", STARTS),
            Column("worst draw", FLOW),
            Column("starts then", STARTS),
        ),
        tuple(
            (
                one.pump,
                one.drawdown.result if one.drawdown is not None else None,
                one.starts.amount,
                one.bare,
                one.worst,
                one.worst_starts.result,
            )
            for one in pumps
        ),
        say("None at the low end means that a weaker pump runs on: it never reaches its cut-out under that trickle.")
        if any(one.starts.low <= 0 < one.starts.likely for one in pumps)
        else None,
    )
    yield Table(
        "pre-charge",
        say("Pre-charge with the line empty, as a gauge reads it."),
        (
            Column("pump"),
            Column("set it to", PRESSURE),
            Column("planned, coldest", PRESSURE),
            Column("hottest and highest", PRESSURE),
        ),
        tuple(
            (
                one.pump,
                one.setting.result,
                *(Amount(value, PRESSURE) if np.isfinite(value) else None for value in one.precharge),
            )
            for one in pumps
        ),
    )


def _lines(plan: Plan) -> Iterator[Assumption]:
    for pump in switched(plan):
        if plan.pumps[pump].line_gives is not None:
            continue
        line = pump_line(Batch(plan), pump)
        yield Assumption(
            f"line.{pump}",
            say(
                "The hoses behind the {pump} are taken to give {low} to {high}, by their material.",
                pump=pump,
                low=Amount(float(line.low[0]), COMPLIANCE, 2),
                high=Amount(float(line.high[0]), COMPLIANCE, 2),
            ),
            "With the accumulator shut off, catch what runs out between cut-out and cut-in.",
            "thick-walled tube of the hose's modulus, table of compliances",
            f"pumps.{pump}.line_gives",
        )
