"""The cold as one batch: tanks, runs and pads for the plan, its unsure inputs and its remedies at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Amount, Range
from vanwater.answers.core.unsure import rows_of
from vanwater.answers.frost.cold_rows import cold_remedies, unsure_cold
from vanwater.physics import frost, tank_loss
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.model import Plan
from vanwater.plan.winter import BESIDE
from vanwater.quantities import DURATION, HOURS, TEMPERATURE, Array
from vanwater.system.batch import Batch, Unsure, low_and_high
from vanwater.system.exposed import RunHeat, conductances, exposed, run_heat
from vanwater.system.heat import FACES, TankHeat, beside, tank_heat, transmittances
from vanwater.system.pads import mean_cold, pads_of
from vanwater.system.surroundings import Case, Neighbours, neighbours

__all__ = [
    "DRIVING",
    "DRIVING_MEAN",
    "FILLS",
    "FREEZING",
    "PARKED",
    "PARKED_MEAN",
    "Cold",
    "TankCold",
    "cold_of",
    "label_of",
    "lasting",
    "lasting_range",
]

FREEZING = Amount(FREEZING_POINT, TEMPERATURE)
"""Freezing, for sentences."""

FILLS = {"full": 1.0, "half": 0.5, "tenth": 0.1}
"""How full a tank is told: full, half, the last tenth."""

PARKED, DRIVING, PARKED_MEAN, DRIVING_MEAN = range(4)
"""The cases: at the design cold parked and driving, at the mean cold parked and driving."""


@dataclass(frozen=True, slots=True, eq=False)
class TankCold:
    """One tank in the cold, along the rows.

    Parameters
    ----------
    heat : TankHeat
        Its faces.
    transmittance : array, shape (cases, rows, faces)
        Of each face in the four cases [W/(m²·K)].
    beside : array, shape (cases, rows, faces)
        Temperature beside each face [K].
    through : array, shape (cases, rows)
        Heat that it loses for each kelvin [W/K].
    rest : array, shape (cases, rows)
        Temperature at which it comes to rest without heat [K].
    mass : array, shape (fills, rows)
        Water in it, 1 kg a litre as in every heat sum [kg].
    """

    heat: TankHeat
    transmittance: Array
    beside: Array
    through: Array
    rest: Array
    mass: Array

    @classmethod
    def of(cls, heat: TankHeat, transmittance: Array, beside: Array) -> TankCold:
        """By its faces and what the cases make of them."""
        return cls(
            heat,
            transmittance,
            beside,
            tank_loss.conductance(heat.faces.area, transmittance),
            tank_loss.equilibrium_temperature(heat.faces.area, transmittance, beside),
            np.array(list(FILLS.values()))[:, None] * heat.content * 1000.0,
        )

    def needed(self, case: int, hold: Array) -> Array:
        """Heat that holds it; none where its neighbours feed it [W]."""
        return frost.holding_power(self.through[case], hold, self.rest[case])


@dataclass(frozen=True, slots=True, eq=False)
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
    outside, mean, hold, start : array, shape (rows,)
        Design cold, mean cold, temperature held, temperature when the heat goes off [K].
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
    outside: Array
    mean: Array
    hold: Array
    start: Array
    tanks: Mapping[str, TankCold]
    warm: tuple[str, ...]
    gaps: tuple[str, ...]
    runs: tuple[RunHeat, ...]
    bare: tuple[str, ...]
    around: Neighbours
    conductance: Array


def label_of(tank: str) -> str:
    """What a tank is called in a sentence: its name, with the word tank where the name has no such word."""
    words = ("tank", "can", "cans", "container", "cassette", "canister", "barrel", "bag", "bottle")
    return tank if any(word in words for word in tank.lower().split()) else f"{tank} tank"


def lasting(seconds: float) -> Amount:
    """A time until something freezes: hours, below one hour minutes."""
    return Amount(seconds, HOURS if seconds >= 3600.0 else DURATION, 2)


def lasting_range(low: float, likely: float, high: float) -> Range:
    """A range of such times, never below none."""
    return Range(max(low, 0.0), likely, high, lasting(likely).quantity, 2)


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
    batch = Batch(plan, [*low_and_high(unsure), *cold_remedies(plan, lying)])
    outside, mean, hold = batch.number("frost.design_cold"), mean_cold(batch), batch.number("frost.hold")
    start = batch.number("frost.start")
    start = np.where(np.isfinite(start), start, batch.number("site.cold_water"))
    cases = [Case(hold, air, driving) for air in (outside, mean) for driving in (False, True)]
    around = [neighbours(batch, air) for air in (outside, mean)]
    cold, warm, gaps = _sorted_tanks(batch, around[0])
    tanks = {}
    for heat, u in zip(cold, transmittances(batch, cold, cases), strict=True):
        design, milder = (air.beside(heat.codes) for air in around)
        tanks[heat.tank] = TankCold.of(heat, u, np.array([design, design, milder, milder]))
    runs = {name: run_heat(batch, name) for name in lying}
    known = tuple(run for run in runs.values() if run is not None)
    half_way = 0.5 * (start + FREEZING_POINT)
    cooling = [Case(half_way, outside, driving) for driving in (False, True)]
    return Cold(
        plan,
        batch,
        unsure,
        rows_of(batch, unsure),
        outside,
        mean,
        hold,
        start,
        tanks,
        warm,
        gaps,
        known,
        tuple(name for name, run in runs.items() if run is None),
        around[0],
        conductances(batch, known, cooling),
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
