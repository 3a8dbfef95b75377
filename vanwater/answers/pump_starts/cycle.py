"""How one pump starts and stops: starts against draw, what the accumulator gives, its pre-charge, small draws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import PUMPS, rows_of
from vanwater.answers.core.working import by, planned, stated, step
from vanwater.physics import accumulator as gas
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.cycling import starts_at_draw, worst_draw
from vanwater.physics.small_draws import start_chance, starts_meanwhile
from vanwater.physics.switching import ElasticStorage, Switch, volume_between
from vanwater.plan.model import Plan
from vanwater.quantities import COMPLIANCE, FLOW, RATIO, STARTS, VOLUME, Array, Quantity
from vanwater.system.batch import Batch
from vanwater.system.compliance import elastic_storage, pump_line, side_by_side, switch
from vanwater.system.over_time import HAND_WASH, switched_outlets, vessel_of
from vanwater.system.stores import outlet_of

__all__ = ["DRIPS", "NIGHT", "SMALL_DRAW", "PumpCycle", "pump_cycle"]

SMALL_DRAW = 2e-3 / 60
"""The steady trickle that starts are told for, m³/s: a hand-wash of 2 L/min (common practice)."""

DRIPS = (0.1e-3 / 3600, 0.3e-3 / 3600, 1.0e-3 / 3600)
"""What a dripping tap loses, m³/s: 0.1 to 1 L/h, a drop in two seconds to a thin thread (common practice)."""

NIGHT = 8 * 3600.0
"""A night [s]."""

MARGIN = 1e4
"""What the pre-charge is kept below cut-in at the worst, Pa: 0.1 bar (common practice)."""

WARMTH = 293.15
"""Temperature at which a pre-charge is set where no accumulator is planned [K]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PumpCycle:
    """How one pump starts and stops.

    Parameters
    ----------
    pump, vessel : str
        The pump, and the accumulator behind it; empty for none.
    draw : Number
        The steady draw that starts are told for [m³/s].
    at_cut_out : Number
        Flow of the pump at its cut-out; not above zero where it does not get there [m³/s].
    between : Number
        Water between two starts: what the accumulator gives, without one what the line does [m³].
    starts, bare : Number
        Starts under the draw, as planned and by the line alone, by the range of its hoses [1/s].
    night, bare_night : Number
        Starts that a dripping tap makes in a night, likewise, by the range of the drip.
    worst_draw, worst_starts : Number
        The draw that makes it start most often [m³/s], and the starts then [1/s].
    setting : Number
        Pressure to set the pre-charge to [Pa].
    coldest, hottest : Number or None
        Gauge reading of the planned pre-charge where it is lowest and where it is highest [Pa].
    wash, wash_starts : Number or None
        Water of a hand-wash behind it [m³], and the chance that it starts the pump.
    softest, stiffest : Number
        What its hoses alone give, at most and at least [m³/Pa].
    switch : Switch
        The pump's switch and curve.
    storage : ElasticStorage
        What yields behind it as planned.
    pairs : sequence of UnsureRows
        The rows in which its pressure is varied.
    """

    pump: str
    vessel: str
    draw: Number
    at_cut_out: Number
    between: Number
    starts: Number
    bare: Number
    night: Number
    bare_night: Number
    worst_draw: Number
    worst_starts: Number
    setting: Number
    coldest: Number | None
    hottest: Number | None
    wash: Number | None
    wash_starts: Number | None
    softest: Number
    stiffest: Number
    switch: Switch
    storage: ElasticStorage
    pairs: Sequence[UnsureRows]

    @property
    def stops(self) -> bool:
        """Whether the pump reaches its cut-out at all."""
        return self.at_cut_out.likely > 0

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
        most = 1.2 * max(self.at_cut_out.likely, self.draw.likely, SMALL_DRAW / 10)
        draws = np.linspace(most / points, most, points)
        air = self.storage.atmosphere
        alone = (ElasticStorage(atmosphere=air, compliance=line.values) for line in (self.softest, self.stiffest))
        first, second, third = (
            starts_at_draw(draws[:, np.newaxis], self.switch, give)[:, 0] for give in (self.storage, *alone)
        )
        return draws, first, second, third


def pump_cycle(batch: Batch, pump: str) -> PumpCycle:
    """Solve how a pump starts and stops.

    Parameters
    ----------
    batch : Batch
        The plan with the pump's unsure pressure as rows.
    pump : str
        A pump whose curve and switch are decided.

    Returns
    -------
    PumpCycle
        With the accumulator behind it, if there is one whose pre-charge is decided.
    """
    pairs, vessel = rows_of(batch, (PUMPS,)), vessel_of(batch.plan, pump)
    at, line = switch(batch, pump), pump_line(batch, pump)
    kept = elastic_storage(batch, vessel, line.likely * float(not vessel))
    soft, hard = (elastic_storage(batch, "", give) for give in (line.high, line.low))
    flow = at.curve.flow_at(np.asarray(at.cut_out))
    at_cut_out = stated(f"flow of the {pump} at its cut-out", flow, FLOW, "Its curve at its volts.", source="the plan")
    draw = _draw(batch, pump, at_cut_out.likely)
    draws = np.array([draw.likely, *DRIPS])[:, np.newaxis, np.newaxis]
    starts = starts_at_draw(draws, at, side_by_side([kept, soft, hard]))  # draws, storages, rows
    steady = by("starts under a steady draw", starts[0, 0], STARTS, starts_at_draw, draw=draw, switch=at, storage=kept)
    worst = step("draw with the most starts", worst_draw, switch=at, storage=kept)
    worst = worst.keyed("pump", pump, "worst_draw", pairs=pairs)
    worst_starts = step("starts under the worst draw", starts_at_draw, draw=worst, switch=at, storage=kept)
    night, by_soft, by_hard = (NIGHT * starts[1:, place] for place in range(3))
    dripping = by(
        f"starts of the {pump} in a night by a dripping tap",
        night[1],
        RATIO,
        starts_meanwhile,
        duration=NIGHT,
        drip=DRIPS[1],
        switch=at,
        storage=kept,
    )
    between = _between(vessel, at, kept).keyed(
        *(("accumulator", vessel, "drawdown") if vessel else ("pump", pump, "between_starts")), pairs=pairs
    )
    wash = _wash(batch.plan, pump) if at_cut_out.likely > 0 else None
    chance = None
    if wash is not None:
        chance = step(f"chance that a hand-wash starts the {pump}", start_chance, draw=wash, given=between)
        chance = chance.keyed("pump", pump, "start_chance", "hand_wash", pairs=pairs, digits=2)
    coldest, hottest = _readings(batch, vessel)
    return PumpCycle(
        pump=pump,
        vessel=vessel,
        draw=draw,
        at_cut_out=at_cut_out.keyed("pump", pump, "flow", "cut_out", pairs=pairs),
        between=between,
        starts=steady.keyed("pump", pump, "starts", pairs=pairs, least=0.0),
        bare=_geometric("starts by the hoses alone", starts[0, 1], starts[0, 2], STARTS).keyed(
            "pump", pump, "starts", "hoses_alone", bracket=(float(starts[0, 1, 0]), float(starts[0, 2, 0])), digits=2
        ),
        night=dripping.keyed("pump", pump, "night_starts", bracket=(float(night[0, 0]), float(night[2, 0])), digits=2),
        bare_night=_geometric("starts in a night by the hoses alone", by_soft[1], by_hard[1], RATIO).keyed(
            "pump", pump, "night_starts", "hoses_alone", bracket=(float(by_soft[0, 0]), float(by_hard[2, 0])), digits=2
        ),
        worst_draw=worst,
        worst_starts=worst_starts.keyed("pump", pump, "starts", "worst", pairs=pairs, least=0.0),
        setting=_setting(batch, pump, vessel).keyed("pump", pump, "precharge_setting", pairs=pairs),
        coldest=coldest,
        hottest=hottest,
        wash=wash,
        wash_starts=chance,
        softest=_gives("at most", line.high).keyed("pump", pump, "line_gives", "most", digits=2),
        stiffest=_gives("at least", line.low).keyed("pump", pump, "line_gives", "least", digits=2),
        switch=at,
        storage=kept,
        pairs=pairs,
    )


def _draw(batch: Batch, pump: str, most: float) -> Number:
    """The draw that the plan says, else a hand-wash, less where the pump gives less."""
    said = batch.plan.pumps[pump].trickle
    if said is not None:
        return planned(batch.plan, f"pumps.{pump}.trickle", FLOW)
    return stated(
        "steady draw that starts are told for",
        min(SMALL_DRAW, 0.5 * max(most, 0.0)),
        FLOW,
        "A hand-wash of 2 L/min; half of what the pump gives at its cut-out where that is less.",
        source="common practice",
    ).keyed("pump", pump, "trickle")


def _between(vessel: str, at: Switch, kept: ElasticStorage) -> Number:
    if not vessel:
        return step("water between two starts", volume_between, switch=at, storage=kept)
    return step(
        f"what {vessel} gives between the switch pressures",
        gas.drawdown,
        volume=kept.volume,
        precharge=kept.precharge,
        cut_in=at.cut_in,
        cut_out=at.cut_out,
        atmosphere=kept.atmosphere,
    )


def _geometric(name: str, soft: Array, hard: Array, quantity: Quantity) -> Number:
    """The likely value between the two ends that the kinds of hose give."""
    return stated(
        name,
        np.sqrt(soft * hard),
        quantity,
        "The geometric mean of what the softest and the stiffest hoses of their kind make it.",
        facts=[("by the softest", (soft, quantity)), ("by the stiffest", (hard, quantity))],
        source="conservation of volume with the hoses' elasticity",
    )


def _gives(name: str, line: Array) -> Number:
    return stated(
        f"water that the hoses take up for each bar, {name}",
        line,
        COMPLIANCE,
        "Each run by its material, bore and length; as measured where the plan says it.",
        source="thick-walled tube of the hose's modulus, table of compliances",
    )


def _setting(batch: Batch, pump: str, vessel: str) -> Number:
    home, top = _air(batch)
    return step(
        "pre-charge to set",
        gas.precharge_setting,
        cut_in=batch.number(f"pumps.{pump}.cut_in"),
        margin=MARGIN,
        atmosphere=home,
        temperature=batch.number(f"accumulators.{vessel}.set_at") if vessel else WARMTH,
        lowest_atmosphere=top,
        highest_temperature=batch.number("site.warmest"),
    )


def _readings(batch: Batch, vessel: str) -> tuple[Number, Number] | tuple[None, None]:
    """Gauge reading of the planned pre-charge on the coldest day, and on the hottest at the highest place."""
    if not vessel:
        return None, None
    at, (home, top) = f"accumulators.{vessel}", _air(batch)
    coldest, hottest = (
        step(
            f"pre-charge of the {vessel}, {words}",
            gas.precharge_elsewhere,
            precharge=batch.number(f"{at}.precharge"),
            atmosphere=home,
            temperature=batch.number(f"{at}.set_at"),
            new_atmosphere=air,
            new_temperature=batch.number(f"site.{warmth}"),
        ).keyed("accumulator", vessel, "precharge", warmth)
        for words, air, warmth in (
            ("coldest", home, "coldest"),
            ("hottest and highest", top, "warmest"),
        )
    )
    return coldest, hottest


def _air(batch: Batch) -> tuple[Array, Array]:
    """Pressure of the air where the van stands and at the highest place that it goes to [Pa]."""
    altitude = batch.number("site.altitude")
    highest = np.fmax(altitude, batch.number("site.highest"))
    return batch.once("air", lambda: (air_pressure(altitude), air_pressure(highest)))


def _wash(plan: Plan, pump: str) -> Number | None:
    """Water of a hand-wash behind a pump; None where nobody washes hands there."""
    if HAND_WASH not in plan.uses or not plan.uses[HAND_WASH].each_time:
        return None
    outlet, ways = outlet_of(plan, HAND_WASH), switched_outlets(plan)
    if outlet and (outlet not in ways or ways[outlet].pump != pump):
        return None
    method = "Its volume as planned, else its flow over its duration."
    wash = stated("water of a hand-wash", plan.uses[HAND_WASH].each_time, VOLUME, method, source="the plan")
    return wash.keyed("use", HAND_WASH, "each_time", digits=2)
