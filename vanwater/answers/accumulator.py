"""Whether an accumulator is worth its place: drawdown, pre-charge, starts an hour, the shower's pulse, expansion."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from vanwater.answers.answer import Answer, Assumption, Column, Table
from vanwater.answers.cautions import ESTIMATE, HEATER
from vanwater.answers.cushion_findings import cushion_findings
from vanwater.answers.expansion import expansion_finding, expansion_step
from vanwater.answers.finding import Finding, Verdict, worst_first
from vanwater.answers.spread import spread
from vanwater.answers.unsure import PUMPS, assumed, rows_of
from vanwater.answers.wording import Amount, Range, Say, say
from vanwater.answers.working import Step, step
from vanwater.physics import accumulator as gas
from vanwater.physics import cycling
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.switching import Cushion, Switch
from vanwater.plan.model import Plan
from vanwater.quantities import COMPLIANCE, FLOW, PRESSURE, STARTS, VOLUME, Array
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.cushion import (
    LineCompliance,
    accumulator_of,
    cushion,
    pump_line,
    switch,
    switched,
)

__all__ = ["Accumulator", "PumpCushion", "accumulator"]

SMALL_DRAW = 2e-3 / 60
"""The steady trickle that starts are told for, m³/s: a hand-wash of 2 L/min (common practice)."""

MARGIN = 1e4
"""What the pre-charge is kept below cut-in at the worst, Pa: 0.1 bar (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class PumpCushion:
    """How one pump starts and stops.

    Parameters
    ----------
    pump, vessel : str
        The pump, and the accumulator behind it; empty for none.
    drawdown : Step or None
        Water that the accumulator gives between cut-out and cut-in [m³].
    starts : Range
        Starts under the small draw, as planned.
    bare : Range
        Starts under it by the line alone, by the range of its hoses.
    draw : float
        The small draw [m³/s].
    worst : Amount
        The draw that makes it start most often.
    worst_starts : Step
        Starts under that draw.
    setting : Step
        Pressure to set the pre-charge to.
    precharge : tuple of float
        Gauge reading of the planned pre-charge where it is lowest and where it is highest [Pa]; NaN for none.
    switch : Switch
        The pump's switch and curve.
    cushion : Cushion
        What yields behind it as planned.
    line : LineCompliance
        What its hoses alone give.
    """

    pump: str
    vessel: str
    drawdown: Step | None
    starts: Range
    bare: Range
    draw: float
    worst: Amount
    worst_starts: Step
    setting: Step
    precharge: tuple[float, float]
    switch: Switch
    cushion: Cushion
    line: LineCompliance

    def along(self, points: int = 60) -> tuple[Array, Array, Array, Array]:
        """Starts along draws, a little beyond the one that keeps the pump running.

        Parameters
        ----------
        points : int
            How many draws.

        Returns
        -------
        tuple of array
            Draws [m³/s]; starts as planned, and by the line alone at its most and its least give [1/s].
        """
        stopped = float(self.switch.curve.flow_at(np.asarray(self.switch.cut_out)).ravel()[0])
        most = 1.2 * max(stopped, self.draw)
        draws = np.linspace(most / points, most, points)
        alone = [Cushion(0.0, 0.0, self.cushion.atmosphere, give) for give in (self.line.high, self.line.low)]
        first, second, third = (cycling.starts_at_draw(draws, self.switch, give) for give in (self.cushion, *alone))
        return draws, first, second, third


@dataclass(frozen=True, slots=True, kw_only=True)
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
    pumps = tuple(_cushioned(plan, pump, draw) for pump in switched(plan))
    findings: list[Finding] = []
    numbers: dict[str, Step] = {}
    for one in pumps:
        findings += cushion_findings(plan, one)
        name = f"accumulator.{one.pump}"
        numbers |= {f"{name}.worst_starts": one.worst_starts, f"{name}.setting": one.setting}
        if one.drawdown is not None:
            numbers[f"{name}.drawdown"] = one.drawdown
    findings += _gaps(plan)
    for heater in plan.heaters:
        grown = expansion_step(plan, heater)
        numbers[f"accumulator.{heater}.expansion"] = grown
        findings.append(expansion_finding(plan, heater))
    return Accumulator(
        key="accumulator",
        title="Pump starts and accumulator",
        verdict=_verdict(pumps),
        decided=bool(pumps),
        tables=tuple(_tables(pumps)),
        findings=worst_first(findings),
        numbers=numbers,
        assumptions=(*assumed((PUMPS,)), *_lines(plan)) if pumps else (),
        cautions=(HEATER, ESTIMATE) if plan.heaters else (ESTIMATE,),
        pumps=pumps,
    )


def _cushioned(plan: Plan, pump: str, draw: float | None) -> PumpCushion:
    batch = Batch(plan, low_and_high((PUMPS,)))
    pairs = rows_of(batch, (PUMPS,))
    vessel = accumulator_of(plan, pump)
    if vessel and plan.accumulators[vessel].precharge is None:
        vessel = ""
    at = switch(batch, pump)
    line = pump_line(batch, pump)
    kept = cushion(batch, vessel, line.likely * float(not vessel))
    if draw is None:
        draw = min(SMALL_DRAW, 0.5 * float(at.curve.flow_at(np.asarray(at.cut_out))[0]))
    starts = cycling.starts_at_draw(draw, at, kept)
    low, high = (cycling.starts_at_draw(draw, at, cushion(batch, "", give)) for give in (line.high, line.low))
    worst = cycling.worst_draw(at, kept)
    alone = Batch(plan)
    single, one_line = switch(alone, pump), pump_line(alone, pump)
    one = cushion(alone, vessel, one_line.likely * float(not vessel))
    site, kept_at = plan.site, plan.accumulators[vessel].set_at if vessel else 293.15
    highest = air_pressure(max(site.altitude, site.highest or site.altitude))
    setting = step(
        "pre-charge to set",
        gas.precharge_setting,
        cut_in=plan.pumps[pump].cut_in,
        margin=MARGIN,
        atmosphere=air_pressure(site.altitude),
        temperature=kept_at,
        lowest_atmosphere=highest,
        highest_temperature=site.warmest,
    )
    return PumpCushion(
        pump,
        vessel,
        _drawdown(plan, pump, vessel, batch) if vessel else None,
        spread(starts, pairs, 0.0).range(STARTS),
        Range(float(low[0]), float(np.sqrt(low[0] * high[0])), float(high[0]), STARTS, 2),
        draw,
        Amount(float(worst[0]), FLOW),
        step("starts under the worst draw", cycling.starts_at_draw, draw=worst[0], switch=single, cushion=one),
        setting,
        _readings(plan, vessel),
        single,
        one,
        one_line,
    )


def _drawdown(plan: Plan, pump: str, vessel: str, batch: Batch) -> Step:
    kept = cushion(batch, vessel, np.zeros(len(batch)))
    return step(
        f"what {vessel} gives between the switch pressures",
        gas.drawdown,
        volume=kept.volume,
        precharge=kept.precharge,
        cut_in=plan.pumps[pump].cut_in,
        cut_out=plan.pumps[pump].cut_out,
        atmosphere=kept.atmosphere,
    )


def _readings(plan: Plan, vessel: str) -> tuple[float, float]:
    """Lowest and highest gauge reading of the planned pre-charge over the van's range of height and warmth."""
    if not vessel:
        return (float("nan"), float("nan"))
    known = plan.accumulators[vessel]
    site = plan.site
    home, top = air_pressure(site.altitude), air_pressure(max(site.altitude, site.highest or site.altitude))
    set_to = known.precharge if known.precharge is not None else float("nan")
    return (
        float(gas.precharge_elsewhere(set_to, home, known.set_at, home, site.coldest)),
        float(gas.precharge_elsewhere(set_to, home, known.set_at, top, site.warmest)),
    )


def _gaps(plan: Plan) -> Iterator[Finding]:
    known = switched(plan)
    for name, pump in plan.pumps.items():
        if name in known:
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


def _verdict(pumps: tuple[PumpCushion, ...]) -> Say:
    if not pumps:
        return say("How often the pump starts is not decided yet.")
    one = pumps[0]
    flow = Amount(one.draw, FLOW)
    if one.drawdown is None:
        return say(
            "Without an accumulator the {pump} chatters: {starts} at a trickle of {flow}.",
            pump=one.pump,
            starts=one.bare,
            flow=flow,
        )
    return say(
        "The accumulator gives {water} between starts: the {pump} starts {starts} at a trickle of {flow}, instead of "
        "{bare} without it.",
        water=one.drawdown.result,
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
