"""Hoses and pipes in the cold as physics sees them: size, foam, what lies beside, the heat they hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.pipe_loss import Pipe, pipe_conductance_in_air, water_equivalent
from vanwater.physics.vessel import run_content
from vanwater.plan.model import Plan
from vanwater.plan.tables import MaterialRow, materials, pipes
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.heat import FOAM_CONDUCTIVITY
from vanwater.system.supply import run_bore
from vanwater.system.surroundings import Case, Codes, beside_codes, wind_at

__all__ = ["HOSE_WALL", "RunHeat", "conductances", "exposed", "run_heat", "wall_material"]

HOSE_WALL = 2.5e-3
"""Wall of a hose of which neither stock size nor outside is said, m (common practice)."""

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
        Their names; a run of which nothing is said lies in the room.
    """
    return tuple(name for name, run in plan.runs.items() if run.beside in ("outside", "box"))


def wall_material(size: str | None) -> MaterialRow:
    """What the wall of a stock size is made of; soft PVC where no stock size is named."""
    made_of = pipes()[size].material if size is not None else "reinforced pvc"
    return materials()[_WALLS.get(made_of, made_of)]


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
        return stock if stock is not None else wall_material(size).conductivity

    outer = batch.each((f"{at}.size", f"{at}.outside"), outside)
    known = bool(np.isfinite(outer[0]))
    outer = np.maximum(np.where(np.isfinite(outer), outer, bore + 2.0 * HOSE_WALL), bore)
    material = wall_material(part.size)
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
