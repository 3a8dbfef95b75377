"""How one pump starts and stops: starts against draw, what the accumulator gives, its pre-charge."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.spread import spread
from vanwater.answers.core.statement import Amount, Range
from vanwater.answers.core.unsure import PUMPS, rows_of
from vanwater.answers.core.working import Step, step
from vanwater.physics import accumulator as gas
from vanwater.physics import cycling
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.switching import Cushion, Switch
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, RATIO, STARTS, Array
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.compliance import LineCompliance, accumulator_of, cushion, pump_line, side_by_side, switch

__all__ = ["SMALL_DRAW", "PumpCushion", "pump_cushion"]

SMALL_DRAW = 2e-3 / 60
"""The steady trickle that starts are told for, m³/s: a hand-wash of 2 L/min (common practice)."""

DRIPS = (0.1e-3 / 3600, 0.3e-3 / 3600, 1.0e-3 / 3600)
"""What a dripping tap loses, m³/s: 0.1 to 1 L/h, a drop in two seconds to a thin thread (common practice)."""

NIGHT = 8 * 3600.0
"""A night [s]."""

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
    night, bare_night : Range
        Starts that a dripping tap makes in a night, as planned and by the line alone, by the range of the drip.
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
    night: Range
    bare_night: Range
    draw: float
    worst: Amount
    worst_starts: Step
    setting: Step
    precharge: tuple[float, float]
    switch: Switch
    cushion: Cushion
    line: LineCompliance

    @property
    def stops(self) -> bool:
        """Whether the pump reaches its cut-out at all."""
        return _stopped_at(self.switch) > 0

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
        most = 1.2 * max(_stopped_at(self.switch), self.draw, SMALL_DRAW / 10)
        draws = np.linspace(most / points, most, points)
        alone = [Cushion(0.0, 0.0, self.cushion.atmosphere, give) for give in (self.line.high, self.line.low)]
        first, second, third = (cycling.starts_at_draw(draws, self.switch, give) for give in (self.cushion, *alone))
        return draws, first, second, third


def pump_cushion(plan: Plan, pump: str, draw: float | None) -> PumpCushion:
    """Solve how a pump starts and stops, its unsure pressure as rows.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        A pump whose curve and switch are decided.
    draw : float or None
        Steady draw that starts are told for [m³/s]; a hand-wash without it, less where the pump gives less.

    Returns
    -------
    PumpCushion
        With the accumulator behind it, if there is one whose pre-charge is decided.
    """
    batch = Batch(plan, low_and_high((PUMPS,)))
    pairs = rows_of(batch, (PUMPS,))
    vessel = accumulator_of(plan, pump)
    if vessel and plan.accumulators[vessel].precharge is None:
        vessel = ""
    at = switch(batch, pump)
    line = pump_line(batch, pump)
    kept = cushion(batch, vessel, line.likely * float(not vessel))
    if draw is None:
        draw = min(SMALL_DRAW, 0.5 * max(_stopped_at(at), 0.0))
    alone = [cushion(batch, "", give) for give in (line.high, line.low)]
    draws = np.array([draw, *DRIPS])[:, np.newaxis, np.newaxis]
    (starts, low, high), *drips = cycling.starts_at_draw(draws, at, side_by_side([kept, *alone]))
    night, *bare = (NIGHT * np.array([drip[place, 0] for drip in drips]) for place in range(3))
    worst = cycling.worst_draw(at, kept)
    planned = Batch(plan)
    single, one_line = switch(planned, pump), LineCompliance(line.low[:1], line.likely[:1], line.high[:1])
    one = cushion(planned, vessel, one_line.likely * float(not vessel))
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
        Range(float(night[0]), float(night[1]), float(night[2]), RATIO, 2),
        Range(float(bare[0][0]), float(np.sqrt(bare[0][1] * bare[1][1])), float(bare[1][2]), RATIO, 2),
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


def _stopped_at(at: Switch) -> float:
    """Flow that the pump gives at its cut-out, in the plan's own row [m³/s]; below zero where it does not get there."""
    return float(np.ravel(at.curve.flow_at(np.asarray(at.cut_out)))[0])
