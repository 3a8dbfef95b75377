"""How one pump starts and stops: starts against draw, what the accumulator gives, its pre-charge, small draws."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.chatter import CHATTER, LEAST_CYCLE
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import GAS, PUMPS, rows_of
from vanwater.answers.core.working import by, stated, step
from vanwater.answers.pump_starts.accumulator_size import LIMIT, RUNS_ON, Fitted, fitted, starts_with
from vanwater.answers.pump_starts.draws import DRIPS, NIGHT, SMALL_DRAW, hand_wash, steady_draw
from vanwater.answers.pump_starts.precharge import readings, setting
from vanwater.physics import accumulator as gas
from vanwater.physics.cycling import starts_at_draw, worst_draw
from vanwater.physics.small_draws import start_chance, starts_meanwhile
from vanwater.physics.switching import ElasticStorage, Switch, about_mean_state, volume_between
from vanwater.quantities import COMPLIANCE, FLOW, RATIO, STARTS, VOLUME, Array, Quantity
from vanwater.system.accumulators import accumulators_behind
from vanwater.system.batch import Batch
from vanwater.system.compliance import elastic_storage, precharge_here, pump_line, side_by_side, switch
from vanwater.system.over_time import vessels_of

__all__ = ["UNSURE", "PumpCycle", "pump_cycle"]

UNSURE = (PUMPS, GAS)
"""What moves the starts of a pump."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class PumpCycle:
    """How one pump starts and stops.

    Parameters
    ----------
    pump : str
        The pump.
    vessels : tuple of str
        The accumulators that act together behind it, the first one first; empty for none.
    draw : Number
        The steady draw that starts are told for [m³/s].
    at_cut_out : Number
        Flow of the pump at its cut-out; not above zero where it does not get there [m³/s].
    between : Number
        Water between two starts: what the accumulators give together, without one what the line does [m³].
    drawdowns : tuple of Number
        What each of several accumulators gives of that [m³].
    starts, bare : Number or None
        Starts under the draw, as planned and by the line alone, by the range of its hoses [1/s]; None where the pump
        chatters.
    night, bare_night : Number or None
        Starts that a dripping tap makes in a night, likewise, by the range of the drip.
    worst_draw : Number
        The draw that makes it start most often [m³/s].
    worst_starts : Number or None
        The starts then [1/s].
    too_small : bool
        Whether the planned accumulator lets it start more often than the limit under the draw.
    set_right : Number or None
        Starts with that one, its pre-charge set as is advised, where they stay below the limit then [1/s].
    fitted : Fitted or None
        The accumulator that it wants, where none is planned or even its pre-charge set right does not make the planned
        one large enough, and a pre-charge can follow the van.
    setting : Number
        Pressure to set the pre-charge of the first one to [Pa].
    settings : mapping of str to Number
        The same for each further accumulator behind the pump [Pa].
    readings : mapping of str to tuple of Number
        Gauge readings of the pre-charge of each: where the van stands as warm as it was set, where it is lowest and
        where it is highest [Pa].
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
    vessels: tuple[str, ...]
    draw: Number
    at_cut_out: Number
    between: Number
    drawdowns: tuple[Number, ...]
    starts: Number | None
    bare: Number | None
    night: Number | None
    bare_night: Number | None
    worst_draw: Number
    worst_starts: Number | None
    too_small: bool
    set_right: Number | None
    fitted: Fitted | None
    setting: Number
    settings: Mapping[str, Number]
    readings: Mapping[str, tuple[Number, Number, Number]]
    wash: Number | None
    wash_starts: Number | None
    softest: Number
    stiffest: Number
    switch: Switch
    storage: ElasticStorage
    pairs: Sequence[UnsureRows]

    @property
    def vessel(self) -> str:
        """The accumulator that counts first; empty for none."""
        return next(iter(self.vessels), "")

    @property
    def stops(self) -> bool:
        """Whether the pump reaches its cut-out at all."""
        return self.at_cut_out.likely > 0

    @property
    def may_not_stop(self) -> bool:
        """Whether it no longer reaches its cut-out where its pressure is at the low end of what is unsure."""
        return self.stops and bool(self.at_cut_out.values[self.pairs[0].low] <= 0)

    @property
    def runs_on(self) -> bool:
        """Whether it brings no more at its cut-out than the draw takes, so that it runs on instead of cycling."""
        return self.at_cut_out.likely <= self.draw.likely

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
        The plan with the pump's unsure pressure and the gas's exponent as rows.
    pump : str
        A pump whose curve and switch are decided.

    Returns
    -------
    PumpCycle
        With the accumulators behind it whose pre-charge is decided.
    """
    pairs, vessels = rows_of(batch, UNSURE), vessels_of(batch.plan, pump)
    vessel = next(iter(vessels), "")
    at, line = switch(batch, pump), pump_line(batch, pump)
    kept = elastic_storage(batch, vessels, line.likely * _alone(batch, vessels, at))
    kept = about_mean_state(at, kept, batch.factor(GAS.key))
    soft, hard = (elastic_storage(batch, (), give) for give in (line.high, line.low))
    flow = at.curve.flow_at(np.asarray(at.cut_out))
    at_cut_out = stated(f"flow of the {pump} at its cut-out", flow, FLOW, "Its curve at its volts.", source="the plan")
    draw = steady_draw(batch, pump)
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
    drawdowns = tuple(
        _drawdown(name, at, gas_of).keyed("accumulator", name, "drawdown", pairs=pairs)
        for name, gas_of in zip(vessels, kept.vessels, strict=False)
    )
    between = drawdowns[0] if len(drawdowns) == 1 else _between(drawdowns, at, kept)
    if len(drawdowns) != 1:
        between = between.keyed("pump", pump, "between_starts", pairs=pairs)
    enough, bare_enough = (
        float(np.min(water[: batch.designs.start])) >= LEAST_CYCLE
        for water in (between.values, volume_between(at, hard))
    )
    advised = setting(batch, pump, vessel).keyed("pump", pump, "precharge_setting", pairs=pairs)
    wash = hand_wash(batch.plan, pump) if at_cut_out.likely > 0 and between.likely > 0 else None
    chance = None
    if wash is not None:
        chance = step(f"chance that a hand-wash starts the {pump}", start_chance, draw=wash, given=between)
        chance = chance.keyed("pump", pump, "start_chance", "hand_wash", pairs=pairs, digits=2)
    told = steady.keyed("pump", pump, "starts", pairs=pairs, least=0.0, none=RUNS_ON)
    by_hoses = _geometric("starts by the hoses alone", starts[0, 1], starts[0, 2], STARTS).keyed(
        "pump", pump, "starts", "hoses_alone", bracket=(float(starts[0, 1, 0]), float(starts[0, 2, 0])), digits=2
    )
    bare = _unless_chattering(by_hoses, bare_enough)
    steadily = enough and (bool(vessel) or bare is not None)
    by_drip = _geometric("starts in a night by the hoses alone", by_soft[1], by_hard[1], RATIO).keyed(
        "pump", pump, "night_starts", "hoses_alone", bracket=(float(by_soft[0, 0]), float(by_hard[2, 0])), digits=2
    )
    dripping = dripping.keyed("pump", pump, "night_starts", bracket=(float(night[0, 0]), float(night[2, 0])), digits=2)
    too_small = bool(vessel) and told.likely > LIMIT
    right = None
    if too_small and advised.likely > 0:
        gases = [batch.number(f"accumulators.{name}.volume") for name in vessels]
        right = starts_with(batch, pump, at, draw, np.sum(gases, axis=0), advised, pairs)
        right = right if right.likely <= LIMIT else None
    wants = not vessel or (too_small and right is None)
    return PumpCycle(
        pump=pump,
        vessels=vessels,
        draw=draw,
        at_cut_out=at_cut_out.keyed("pump", pump, "flow", "cut_out", pairs=pairs),
        between=between,
        drawdowns=drawdowns if len(drawdowns) > 1 else (),
        starts=_unless_chattering(told, steadily),
        bare=bare,
        night=_unless_chattering(dripping, enough),
        bare_night=_unless_chattering(by_drip, bare_enough),
        worst_draw=worst,
        worst_starts=_unless_chattering(
            worst_starts.keyed("pump", pump, "starts", "worst", pairs=pairs, least=0.0, none=RUNS_ON), steadily
        ),
        too_small=too_small,
        set_right=right,
        fitted=fitted(batch, pump, at, draw, advised, pairs) if wants else None,
        setting=advised,
        settings={
            name: setting(batch, pump, name).keyed("accumulator", name, "precharge_setting", pairs=pairs)
            for name in accumulators_behind(batch.plan, pump)
            if name != vessel
        },
        readings={name: readings(batch, name) for name in vessels},
        wash=wash,
        wash_starts=chance,
        softest=_gives("at most", line.high).keyed("pump", pump, "line_gives", "most", digits=2),
        stiffest=_gives("at least", line.low).keyed("pump", pump, "line_gives", "least", digits=2),
        switch=at,
        storage=kept,
        pairs=pairs,
    )


def _alone(batch: Batch, vessels: Sequence[str], at: Switch) -> Array:
    """1 where the line alone gives water between the switch pressures: without vessels, or where none takes any."""
    empty = [precharge_here(batch, vessel) >= np.asarray(at.cut_out) for vessel in vessels]
    return np.asarray(np.logical_and.reduce(empty), dtype=np.float64) if empty else np.ones(len(batch))


def _unless_chattering(number: Number, enough: bool) -> Number | None:
    """Starts that are a number still: with enough water between two of them and not one a second."""
    if number.quantity is not STARTS:
        return number if enough else None
    most = number.likely if number.range is None else number.range[1]
    return number if enough and most < CHATTER else None


def _drawdown(vessel: str, at: Switch, gas_of: ElasticStorage) -> Number:
    """What one accumulator gives."""
    return step(
        f"what {vessel} gives between the switch pressures",
        gas.drawdown,
        volume=gas_of.volume,
        precharge=gas_of.precharge,
        cut_in=at.cut_in,
        cut_out=at.cut_out,
        atmosphere=gas_of.atmosphere,
        exponent=gas_of.exponent,
    )


def _between(drawdowns: Sequence[Number], at: Switch, kept: ElasticStorage) -> Number:
    """What several accumulators give together; without one what the line does."""
    if not drawdowns:
        return step("water between two starts", volume_between, switch=at, storage=kept)
    return stated(
        "what the accumulators give together between the switch pressures",
        np.sum([number.values for number in drawdowns], axis=0),
        VOLUME,
        "They stand on the same side of the pump and act together, each from its own pre-charge on.",
        parts=[(number.name, number) for number in drawdowns],
        source="Boyle's law",
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
        f"water that the hoses take up under pressure, {name}",
        line,
        COMPLIANCE,
        "Each run by its material, bore and length; as measured where the plan says it.",
        source="thick-walled tube of the hose's modulus, table of compliances",
    )
