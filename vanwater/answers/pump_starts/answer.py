"""Whether an accumulator is worth its place: drawdown, pre-charge, starts an hour, expansion."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import GAS, PUMPS, assumed
from vanwater.answers.core.working import limit
from vanwater.answers.pump_starts.cycle import UNSURE, PumpCycle, pump_cycle
from vanwater.answers.pump_starts.expansion import expansion_finding, growth
from vanwater.answers.pump_starts.findings import cycle_findings, no_accumulator
from vanwater.answers.pump_starts.hammer import blows, hammer_finding
from vanwater.answers.pump_starts.over_time import Minute, minutes
from vanwater.plan.model import Plan
from vanwater.plan.pump import SWITCHED
from vanwater.quantities import FLOW, PRESSURE, SHARE, STARTS, VOLUME
from vanwater.system.accumulators import accumulators_behind, behind
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.compliance import pump_line, switch_gaps, switched
from vanwater.system.hot_line import rings
from vanwater.system.path_conditions import pumpless, run_gaps

__all__ = ["PumpStarts", "pump_starts"]


@dataclass(frozen=True, kw_only=True, eq=False)
class PumpStarts(Answer):
    """The answer on accumulator and pump switch.

    Parameters
    ----------
    plan : Plan
        The plan.
    pumps : tuple of PumpCycle
        Pumps whose curve, switch and line are decided.
    """

    plan: Plan
    pumps: tuple[PumpCycle, ...]

    @property
    def minutes(self) -> Mapping[str, Minute]:
        """A minute of each set of outlets, by its name; followed when first read, which takes some milliseconds."""
        return minutes(self.plan)


def pump_starts(plan: Plan) -> PumpStarts:
    """How often each pump starts, and what an accumulator does about it.

    Parameters
    ----------
    plan : Plan
        The plan; starts are told for a steady draw that it may say ("pumps.pump.trickle"), else for a thin stream.

    Returns
    -------
    PumpStarts
        Pumps that are not decided are told in the findings.
    """
    batch = Batch(plan, low_and_high(UNSURE))
    known = [pump for pump in switched(plan) if np.all(pump_line(batch, pump).likely > 0)]
    pumps = tuple(pump_cycle(batch, pump) for pump in known)
    findings: list[Finding] = []
    for cycle in pumps:
        findings += cycle_findings(plan, cycle)
        findings += hammer_finding(plan, cycle.pump)
    never = {name: told for name in plan.pumps if (told := no_accumulator(plan, name)) is not None}
    findings += [*never.values(), *_gaps(plan, known)]
    grown = {heater: growth(batch, heater) for heater in plan.heaters}
    findings += [expansion_finding(batch, heater, number) for heater, number in grown.items()]
    return PumpStarts(
        verdict=_verdict(plan, pumps, never),
        decided=bool(pumps or never),
        make_tables=partial(_tables, pumps),
        findings=worst_first(findings),
        make_numbers=partial(_numbers, plan, pumps),
        assumptions=(*assumed((PUMPS,)), *_lines(plan, pumps), *_gases(plan, pumps)) if pumps else (),
        plan=plan,
        pumps=pumps,
    )


def _numbers(plan: Plan, pumps: tuple[PumpCycle, ...]) -> Iterator[Number]:
    """What each of several accumulators gives, what shutting each tap adds, and each minute followed."""
    for cycle in pumps:
        yield from cycle.drawdowns
    for blow in blows(plan).values():
        yield from (blow.fast, blow.quick, blow.leisurely, blow.late, blow.total)
    for minute in minutes(plan).values():
        yield from minute


def _gaps(plan: Plan, known: Collection[str]) -> Iterator[Finding]:
    passed = {*known, *(ring.pump for ring in rings(plan))}  # a ring's pump has no switch
    for name, pump in plan.pumps.items():
        if name in passed or pump.kind not in SWITCHED:
            continue
        lacks = [f"pumps.{name}.{field}" for field in switch_gaps(pump)]
        runs = [] if lacks else sorted(behind(plan, name))
        fields = (*lacks, *(gap for run in runs for gap in run_gaps(plan, run)))
        yield Finding(
            f"pump_starts.{name}.{'switch' if lacks else 'line'}",
            Verdict.NOT_DECIDED,
            say("How often the {pump} starts is not decided.", pump=name),
            change=say("Give {fields}.", fields=fields)
            if fields
            else say("Give the runs behind it a length above nothing, or {field}.", field=f"pumps.{name}.line_gives")
            if runs
            else say("Draw the run that leaves it."),
            address=fields[0] if fields else f"pumps.{name}.line_gives" if runs else "runs",
        )
    if not plan.pumps and not pumpless(plan):
        yield Finding(
            "pump_starts.pump",
            Verdict.NOT_DECIDED,
            say("No pump is planned."),
            change=say("Add the pump; where there is none, say {line}.", line='without = ["pump"] in [van]'),
            address="pumps",
        )


def _verdict(plan: Plan, pumps: tuple[PumpCycle, ...], never: Mapping[str, Finding]) -> Say:
    if never and not pumps:
        return next(iter(never.values())).statement
    if not pumps:
        none = pumpless(plan)
        return say("No pump: nothing starts." if none else "How often the pump starts is not decided yet.")
    cycle = pumps[0]
    if not cycle.stops:
        return say("The {pump} never reaches the pressure at which its switch stops it.", pump=cycle.pump)
    told: dict[str, Given] = {"pump": cycle.pump, "flow": cycle.draw}
    if cycle.runs_on:
        most = cycle.at_cut_out.rounded(2)
        return say("At a trickle of {flow} the {pump} runs on: it brings {most} at its cut-out.", most=most, **told)
    apart = () if cycle.vessel else accumulators_behind(plan, cycle.pump)
    if apart:
        does = say("chatters") if cycle.bare is None else say("starts {bare}", bare=cycle.bare)
        words = "The {vessel} does not feed every tap: the {pump} {does} at a trickle of {flow}."
        return say(words, vessel=apart[0], does=does, **told)
    if cycle.starts is None:
        by = (
            say(" in spite of the {vessels}", vessels=cycle.vessels)
            if cycle.vessels
            else say(" without an accumulator")
        )
        return say("The {pump} chatters{by} at a trickle of {flow}.", by=by, **told)
    bare = say("it chatters") if cycle.bare is None else say("{bare}", bare=cycle.bare)
    if not cycle.vessel:
        return say("Without an accumulator the {pump} starts {bare} at a trickle of {flow}.", bare=bare, **told)
    return say(
        "The {pump} starts {starts} at a trickle of {flow}; without the accumulator {bare}.",
        starts=cycle.starts,
        bare=bare,
        **told,
    )


def _or_chatters(starts: Number | None, ranged: bool = False) -> Cell:
    return say("chatters") if starts is None else starts.shown if ranged else starts.amount


def _tables(pumps: tuple[PumpCycle, ...]) -> Iterator[Table]:
    if not pumps:
        return
    yield Table(
        "starts",
        say("Starts an hour at a trickle of {flow}, and at the draw that is worst.", flow=pumps[0].draw),
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
                cycle.pump,
                cycle.between.amount if cycle.vessel else None,
                _or_chatters(cycle.starts),
                _or_chatters(cycle.bare, ranged=True),
                cycle.worst_draw.amount,
                _or_chatters(cycle.worst_starts),
            )
            for cycle in pumps
        ),
    )
    several = any(len(cycle.vessels) > 1 for cycle in pumps)
    yield Table(
        "pre-charge",
        say("Pre-charge with the line empty, as a gauge reads it."),
        (
            Column("pump"),
            *((Column("accumulator"),) if several else ()),
            Column("set it to", PRESSURE),
            Column("planned, coldest", PRESSURE),
            Column("hottest and highest", PRESSURE),
        ),
        tuple(
            (
                cycle.pump,
                *((vessel,) if several else ()),
                cycle.settings.get(vessel, cycle.setting).amount,
                *(reading.amount for reading in cycle.readings[vessel][1:]),
            )
            if vessel
            else (cycle.pump, *((None,) if several else ()), cycle.setting.amount, None, None)
            for cycle in pumps
            for vessel in cycle.vessels or ("",)
        ),
    )


def _gases(plan: Plan, pumps: tuple[PumpCycle, ...]) -> Iterator[Assumption]:
    less = limit("what a gas that is squeezed fast gives less", 1.0 - 1.0 / GAS.high, SHARE, GAS.source, digits=2)
    for vessel in (vessel for cycle in pumps for vessel in cycle.vessels):
        yield Assumption(
            f"gas.{vessel}",
            say(
                "The gas of the {vessel} is taken to stay as warm as its surroundings; squeezed fast, it gives up to "
                "{less} less water between two starts.",
                vessel=vessel,
                less=less,
            ),
            GAS.measure,
            GAS.source,
        )
        if plan.accumulators[vessel].set_altitude is None:
            yield Assumption(
                f"set.{vessel}",
                say("The pre-charge of the {vessel} is taken to be set where the van stands.", vessel=vessel),
                "Give the height at which it was set: higher up its gauge reads more.",
                "ideal gas law",
                f"accumulators.{vessel}.set_altitude",
            )


def _lines(plan: Plan, pumps: tuple[PumpCycle, ...]) -> Iterator[Assumption]:
    for cycle in pumps:
        if plan.pumps[cycle.pump].line_gives is not None:
            continue
        yield Assumption(
            f"line.{cycle.pump}",
            say(
                "The hoses behind the {pump} are taken to give {low} to {high}, by their material.",
                pump=cycle.pump,
                low=cycle.stiffest,
                high=cycle.softest,
            ),
            f"{'With the accumulator shut off, catch' if plan.accumulators else 'Catch'} what runs out between cut-out "
            "and cut-in.",
            "thick-walled tube of the hose's modulus, table of compliances",
            f"pumps.{cycle.pump}.line_gives",
        )
