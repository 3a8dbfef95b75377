"""The cold as one batch: tanks, runs and pads for the plan, its unsure inputs and its remedies at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from vanwater.answers.core.amount import Amount
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import rows_of
from vanwater.answers.core.water_number import start_number
from vanwater.answers.core.working import limit, planned
from vanwater.answers.frost.cold_rows import cold_remedies, unsure_cold
from vanwater.physics import frost, tank_loss
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.model import Plan
from vanwater.plan.winter import BESIDE
from vanwater.quantities import DURATION, HOURS, TEMPERATURE, Array, Quantity
from vanwater.system.batch import Batch, Unsure, low_and_high
from vanwater.system.exposed import RunHeat, conductances, exposed, run_heat, standing
from vanwater.system.heat import FACES, TankHeat, beside, tank_heat, transmittances
from vanwater.system.pads import mean_cold, pads_of
from vanwater.system.surroundings import Case, Neighbours, neighbours

__all__ = [
    "CASES",
    "FILLS",
    "FREEZING",
    "HEATING_OFF",
    "NIGHT",
    "NOBODY",
    "STATES",
    "Cold",
    "TankCold",
    "cold_of",
    "lasting",
    "pads_off",
    "told_in",
]

FREEZING = limit("freezing of water", FREEZING_POINT, TEMPERATURE, "freezing point at the pressure of the atmosphere")
"""Freezing, for sentences."""

NIGHT = limit("a winter night", 12 * 3600.0, HOURS, "common practice", "The coldest hours of a winter night.", 2)
"""How long a night lasts, for judging."""

FILLS = {"full": 1.0, "half": 0.5, "tenth": 0.1}
"""How full a tank is told: full, half, the last tenth."""

STATES = ("parked", "driving")
"""The states of the heated van at the design cold."""

HEATING_OFF, NOBODY = "heating off", "nobody there"
"""The living room cools as a body; the van is left cold for long, its room as cold as the outside."""

CASES = (*STATES, "parked_at_mean", "driving_at_mean")
"""What is solved: at the design cold parked and driving, at the mean cold parked and driving."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TankCold:
    """One tank in the cold, along the rows.

    Parameters
    ----------
    heat : TankHeat
        Its faces.
    start : Number
        Temperature of its water when the heat goes off.
    transmittance : array, shape (cases, rows, faces)
        Of each face in the four cases [W/(m²·K)].
    beside : array, shape (cases, rows, faces)
        Temperature beside each face [K].
    through : array, shape (cases, rows)
        Heat that it loses for each kelvin [W/K].
    rest : array, shape (cases, rows)
        Temperature at which it comes to rest without heat [K].
    needed : array, shape (cases, rows)
        Heat that holds it; none where its neighbours feed it [W].
    mass : array, shape (fills, rows)
        Water in it, 1 kg a litre as in every heat sum [kg].
    """

    heat: TankHeat
    start: Number
    transmittance: Array
    beside: Array
    through: Array
    rest: Array
    needed: Array
    mass: Array


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Cold:
    """A plan in its design cold, along the rows.

    Parameters
    ----------
    plan : Plan
        The plan; its design cold lies below freezing.
    batch : Batch
        With its rows.
    unsure : tuple of Unsure
        The inputs that are not sure.
    pairs : sequence of UnsureRows
        Where they stand.
    outside, mean, hold, start, room : Number
        Design cold, mean cold, temperature held, temperature of the water in the runs when the heat goes off: that of
        the coldest fresh tank, that of the heated room.
    tanks : mapping of str to TankCold
        Tanks that can freeze or have a pad, and whose faces are decided.
    warm : tuple of str
        Tanks with nothing colder than freezing beside them.
    gaps : tuple of str
        Tanks of which the plan does not say enough.
    runs : tuple of RunHeat
        Exposed runs whose bore is decided.
    bare : tuple of str
        Exposed runs whose bore is not decided.
    around : Neighbours
        Temperatures at the design cold.
    conductance : array, shape (2, rows, runs)
        Heat that each run loses for each kelvin, parked and driving [W/K].
    """

    plan: Plan
    batch: Batch
    unsure: tuple[Unsure, ...]
    pairs: Sequence[UnsureRows]
    outside: Number
    mean: Number
    hold: Number
    start: Number
    room: Number
    tanks: Mapping[str, TankCold]
    warm: tuple[str, ...]
    gaps: tuple[str, ...]
    runs: tuple[RunHeat, ...]
    bare: tuple[str, ...]
    around: Neighbours
    conductance: Array


def pads_off(plan: Plan, begins: bool = False) -> str:
    """What the situation is called in which the room is heated and nothing heats the tanks."""
    name = "pads off, van heated" if plan.pads else "van heated"
    return name.capitalize() if begins else name


def unwarmed(plan: Plan) -> str:
    """Said of a run: pads are on tanks, so none of them keeps it."""
    return ", no pad on it," if plan.pads else ""


def told_in(seconds: float) -> Quantity:
    """What a time until something freezes is told in: hours, below one hour minutes."""
    return HOURS if seconds >= 3600.0 else DURATION


def lasting(hours: Number) -> Amount:
    """A time until something freezes, without its range."""
    return hours.rounded(2, told_in(hours.likely))


def cold_of(plan: Plan) -> Cold:
    """Solve a plan in its design cold, with its unsure inputs and its remedies.

    Parameters
    ----------
    plan : Plan
        A plan with a design cold.

    Returns
    -------
    Cold
        Along the rows.
    """
    unsure = unsure_cold(plan)
    lying = exposed(plan)
    batch = Batch(plan, [*low_and_high(unsure), *cold_remedies(plan, lying, standing(plan))])

    def said(address: str, values: Array | None = None) -> Number:
        values = batch.number(address) if values is None else values
        return replace(planned(plan, address, TEMPERATURE), values=values)

    outside, hold = said("frost.design_cold"), said("frost.hold")
    mean = said("frost.design_cold" if plan.frost.mean_cold is None else "frost.mean_cold", mean_cold(batch))
    pairs = rows_of(batch, unsure)
    fresh = [start_number(batch, name, pairs) for name, tank in plan.tanks.items() if tank.holds == "fresh"]
    start = min(fresh, key=lambda number: number.likely, default=start_number(batch, "", pairs))
    cases = [Case(hold.values, air, driving) for air in (outside.values, mean.values) for driving in (False, True)]
    around = [neighbours(batch, air) for air in (outside.values, mean.values)]
    cold, warm, gaps = _sorted_tanks(batch, around[0])
    runs = {name: run_heat(batch, name) for name in lying}
    known = tuple(run for run in runs.values() if run is not None)
    half_way = 0.5 * (start.values + FREEZING_POINT)
    cooling = [Case(half_way, outside.values, driving) for driving in (False, True)]
    return Cold(
        plan=plan,
        batch=batch,
        unsure=unsure,
        pairs=pairs,
        outside=outside,
        mean=mean,
        hold=hold,
        start=start,
        room=said("frost.room"),
        tanks={
            heat.tank: _tank_cold(heat, each, hold.values, around, start_number(batch, heat.tank, pairs))
            for heat, each in zip(cold, transmittances(batch, cold, cases), strict=True)
        },
        warm=warm,
        gaps=gaps,
        runs=known,
        bare=tuple(name for name, run in runs.items() if run is None),
        around=around[0],
        conductance=conductances(batch, known, cooling),
    )


def _tank_cold(
    heat: TankHeat, transmittance: Array, hold: Array, around: Sequence[Neighbours], start: Number
) -> TankCold:
    area, (design, milder) = heat.faces.area, (air.beside(heat.codes) for air in around)
    beside = np.array([design, design, milder, milder])
    through = tank_loss.conductance(area, transmittance)
    rest = tank_loss.equilibrium_temperature(area, transmittance, beside)
    return TankCold(
        heat=heat,
        start=start,
        transmittance=transmittance,
        beside=beside,
        through=through,
        rest=rest,
        needed=frost.holding_power(through, hold, rest),
        mass=np.array(list(FILLS.values()))[:, None] * heat.content * 1000.0,
    )


def _sorted_tanks(batch: Batch, design: Neighbours) -> tuple[list[TankHeat], tuple[str, ...], tuple[str, ...]]:
    """Tanks that can freeze or have a pad; tanks with nothing below freezing beside them; tanks not decided."""
    plan, cold, warm, gaps = batch.plan, [], [], []
    around = dict(zip(BESIDE, design.temperature[:, 0], strict=True))
    heated = pads_of(plan)
    for name, tank in plan.tanks.items():
        sides = [beside(tank, face) for face in FACES]
        if name not in heated and all(side and around[side] >= FREEZING_POINT for side in sides):
            warm.append(name)
            continue
        heat = tank_heat(batch, name)
        if heat is None:
            gaps.append(name)
        else:
            cold.append(heat)
    return cold, tuple(warm), tuple(gaps)
