"""Hoses and pipes in the cold as physics sees them: size, foam, what lies beside, the heat they hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.pipe_loss import Pipe, pipe_conductance_in_air, water_equivalent
from vanwater.physics.vessel import run_content
from vanwater.plan.drawn import reached
from vanwater.plan.model import Plan
from vanwater.plan.part import above
from vanwater.plan.tables import MaterialRow, materials, pipes
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.heat import FOAM_CONDUCTIVITY
from vanwater.system.supply import run_bore
from vanwater.system.surroundings import Case, Codes, beside_codes, wind_at

__all__ = [
    "HOSE_WALL",
    "LEAST_SLOPE",
    "LEAST_SLOPE_SMOOTH",
    "RunHeat",
    "conductances",
    "drains",
    "exposed",
    "least_slope",
    "run_heat",
    "standing",
    "unknown_wall",
    "wall_material",
    "waste_runs",
]

HOSE_WALL = 2.5e-3
"""Wall of a hose of which neither stock size nor outside is said, m (common practice)."""

LEAST_SLOPE = 0.02
"""Slope with which a waste hose empties itself, corrugated or flexible (common practice)."""

LEAST_SLOPE_SMOOTH = 0.01
"""Slope with which a smooth waste pipe does (EN 12056-2, branches without vent, from memory)."""

_SMOOTH = 1e-4
"""Roughness below which a waste pipe is smooth, m."""

_WALLS = {
    "reinforced pvc": "pvc soft",
    "braided silicone": "silicone",
    "multilayer": "pex",
    "polyethylene": "polyethylene soft",
    "pvc-u": "pvc",
}
"""Rows of the table of materials for what the table of pipes calls otherwise."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class RunHeat:
    """One run of hose or pipe along the rows.

    Parameters
    ----------
    run : str
        Its name.
    pipe : Pipe
        Length, bore, outside, foam; each shaped (rows,).
    codes : array of int, shape (rows,)
        What lies beside it, as places in ``BESIDE``.
    water, wall : array, shape (rows,)
        Water in it, and the water equivalent of its wall [kg].
    material : MaterialRow
        What its wall is made of.
    wall_known : bool
        Whether its outside is said, by itself or by a stock size.
    """

    run: str
    pipe: Pipe
    codes: Codes
    water: Array
    wall: Array
    material: MaterialRow
    wall_known: bool


def exposed(plan: Plan) -> tuple[str, ...]:
    """Runs that lie outside or in an unheated box, as the plan says.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        Their names; a run of which nothing is said lies in the room. A waste run that drains is left out, unless it has
        a trap.
    """
    return tuple(name for name in standing(plan) if plan.runs[name].beside in ("outside", "box"))


def standing(plan: Plan) -> tuple[str, ...]:
    """Runs in which water stands when nobody draws, wherever they lie.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        All but the waste runs that drain and have no trap.
    """
    return tuple(name for name, run in plan.runs.items() if run.trap or not drains(plan, name))


def waste_runs(plan: Plan) -> tuple[str, ...]:
    """Runs that lead away what the outlets gave.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of str
        Those that begin at an outlet, and those behind them up to a tank.
    """
    behind = reached(plan.outlets, ((run.start, run.end) for run in plan.runs.values() if run.start not in plan.tanks))
    return tuple(name for name, run in plan.runs.items() if run.start in behind and run.start not in plan.tanks)


def drains(plan: Plan, run: str) -> bool:
    """Whether a run is a waste run that empties by its slope.

    Parameters
    ----------
    plan : Plan
        The plan.
    run : str
        Its name.

    Returns
    -------
    bool
        True while its slope is not said; False for every other kind of run, which stands full.
    """
    part = plan.runs[run]
    if run not in waste_runs(plan):
        return False
    return part.slope is None or not above(least_slope(part.size), part.slope)


def least_slope(size: str | None) -> float:
    """Slope with which a waste run of a stock size empties itself, as a share."""
    row = pipes()[size] if size is not None else None
    smooth = row is not None and row.kind == "drain" and row.roughness < _SMOOTH
    return LEAST_SLOPE_SMOOTH if smooth else LEAST_SLOPE


def wall_material(size: str) -> MaterialRow:
    """What the wall of a stock size is made of."""
    made_of = pipes()[size].material
    return materials()[_WALLS.get(made_of, made_of)]


@lru_cache
def unknown_wall() -> MaterialRow:
    """A wall of which nothing is said, on the side that freezes sooner.

    Returns
    -------
    MaterialRow
        It conducts as well as the best and holds as little heat as the least of what hoses and pipes are made of.
    """
    walls = [wall_material(size) for size in pipes()]
    least = min(walls, key=lambda wall: wall.density * wall.heat_capacity)
    return replace(least, key="not said", name="not said", conductivity=max(wall.conductivity for wall in walls))


def run_heat(batch: Batch, run: str) -> RunHeat | None:
    """A run along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    run : str
        Its name.

    Returns
    -------
    RunHeat or None
        None while its bore is not decided. Where no length is decided it counts as one metre long, which changes
        heat and mass alike.
    """
    at, part = f"runs.{run}", batch.plan.runs[run]
    if part.size is None and part.bore is None:
        return None
    bore, length = run_bore(batch, run), batch.number(f"{at}.length", 1.0)
    length = np.where(length > 0, length, 1.0)

    def outside(size: str | None, own: float | None) -> float:
        stock = pipes()[size].outside if size is not None else None
        return own if own is not None else stock if stock is not None else np.nan

    def conducts(size: str | None) -> float:
        stock = pipes()[size].wall_conductivity if size is not None else None
        return stock if stock is not None else _wall(size, part.material).conductivity

    outer = batch.each((f"{at}.size", f"{at}.outside"), outside)
    known = bool(np.isfinite(outer[0]))
    outer = np.maximum(np.where(np.isfinite(outer), outer, bore + 2.0 * HOSE_WALL), bore)
    material = _wall(part.size, part.material)
    pipe = Pipe(
        length=length,
        bore=bore,
        outside=outer,
        wall_conductivity=batch.each((f"{at}.size",), conducts),
        foam=batch.number(f"{at}.foam", 0.0),
        foam_conductivity=batch.number(f"{at}.foam_conductivity", FOAM_CONDUCTIVITY) * batch.factor("foam"),
    )
    water = run_content(bore, length) * 1000.0
    wall = water_equivalent(length, bore, outer, material.density, material.heat_capacity)
    return RunHeat(
        run=run,
        pipe=pipe,
        codes=beside_codes(batch, part.beside or "room", f"{at}.beside"),
        water=water,
        wall=wall,
        material=material,
        wall_known=known,
    )


def _wall(size: str | None, said: str | None) -> MaterialRow:
    if size is not None:
        return wall_material(size)
    return materials()[said] if said is not None else unknown_wall()


def conductances(batch: Batch, runs: Sequence[RunHeat], cases: Sequence[Case]) -> Array:
    """Heat that each run loses for each kelvin in every case, in one call of the physics.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    runs : sequence of RunHeat
        The runs.
    cases : sequence of Case
        States of the van.

    Returns
    -------
    array, shape (cases, rows, runs)
        Conductance [W/K].
    """
    if not runs:
        return np.zeros((len(cases), len(batch), 0))
    air, speed = wind_at(batch, np.stack([run.codes for run in runs], axis=-1), cases)
    inside = np.stack([case.inside for case in cases])[..., None]
    known = ("length", "bore", "outside", "wall_conductivity", "foam", "foam_conductivity")
    pipe = Pipe(**{name: np.stack([np.asarray(getattr(run.pipe, name)) for run in runs], axis=-1) for name in known})
    return pipe_conductance_in_air(inside, air, pipe, speed, air_pressure(batch.number("site.altitude"))[:, None])
