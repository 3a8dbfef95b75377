"""What a tank holds below a surface that slopes with the van, and which tanks share one surface."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics import tilted_cylinders, vessel
from vanwater.plan.model import Plan
from vanwater.plan.tables import fittings
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["Surfaces", "held", "one_surface", "placed", "surfaces"]


@dataclass(frozen=True, slots=True, eq=False)
class Surfaces:
    """The surfaces at which a tank is full, and at which its pick-up leaves the water.

    Parameters
    ----------
    full, left : array, shape (rows,)
        Their heights above the tank's floor at its middle [m].
    """

    full: Array
    left: Array


def one_surface(plan: Plan) -> tuple[tuple[str, ...], ...]:
    """Fresh tanks that runs join without a pump or a check valve between, so that their water stands equally high.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of tuple of str
        Names of two or more tanks each, in the order of the plan; valves count as open.
    """
    return plan.once("tanks of one surface", lambda: _one_surface(plan))


def _one_surface(plan: Plan) -> tuple[tuple[str, ...], ...]:
    groups: list[set[str]] = []
    for run in plan.runs.values():
        checked = any(
            count and key in fittings() and fittings()[key].kind == "check valve" for key, count in run.fittings.items()
        )
        if run.run_back or checked or run.start in plan.outlets:
            continue
        start = f"{run.start} behind" if run.start in plan.pumps else run.start
        joined = [group for group in groups if group & {start, run.end}]
        groups = [*(group for group in groups if group not in joined), set.union({start, run.end}, *joined)]
    fresh = [name for name, tank in plan.tanks.items() if tank.holds == "fresh"]
    several = (tuple(name for name in fresh if name in group) for group in groups)
    return tuple(sorted((tanks for tanks in several if len(tanks) > 1), key=lambda tanks: fresh.index(tanks[0])))


def placed(plan: Plan, tanks: tuple[str, ...]) -> bool:
    """Whether the plan says the sides and the places of some tanks, so that one surface can be laid through them."""
    every = [plan.tanks[name] for name in tanks]
    return all(tank.inside_height is not None and None not in (tank.x, tank.y, tank.z) for tank in every)


def surfaces(batch: Batch, name: str) -> Surfaces:
    """The surfaces of a tank whose sides are known, as parked.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The tank.

    Returns
    -------
    Surfaces
        By its own overflow and pick-up; of joined tanks by the lowest overflow and the highest pick-up of all of them,
        where their places are said.
    """
    own = _own(batch, name)
    shared = next((tanks for tanks in one_surface(batch.plan) if name in tanks), ())
    if not shared or not placed(batch.plan, shared):
        return own
    above = _above(batch, name)
    every = [(_own(batch, tank), _above(batch, tank)) for tank in shared]
    return Surfaces(
        full=np.min([each.full + height for each, height in every], axis=0) - above,
        left=np.max([each.left + height for each, height in every], axis=0) - above,
    )


def held(batch: Batch, name: str, surface: Array) -> Array:
    """Water that one tank holds below a surface, as parked.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The tank; its sides are known.
    surface : array, shape (rows,)
        Height of the surface above the tank's floor at its middle [m].

    Returns
    -------
    array, shape (rows,)
        Of one of equal ones [m³].
    """
    at, tank = f"tanks.{name}", batch.plan.tanks[name]
    pitch, roll = _tilt(batch)
    along, across = (batch.number(f"{at}.{side}") for side in tank.footprint)
    middle = (along / 2, across / 2, surface, pitch, roll)
    if tank.shape == "box":
        return vessel.box_volume_below(along, across, batch.number(f"{at}.height"), *middle)
    diameter = batch.number(f"{at}.diameter")
    if tank.shape == "standing cylinder":
        return tilted_cylinders.vertical_cylinder_volume_below(diameter, batch.number(f"{at}.height"), *middle)
    if tank.lies == "across":
        return tilted_cylinders.horizontal_cylinder_volume_below(
            diameter, across, across / 2, along / 2, surface, roll, pitch
        )
    return tilted_cylinders.horizontal_cylinder_volume_below(diameter, along, *middle)


def _own(batch: Batch, name: str) -> Surfaces:
    """The surfaces of a tank by itself: the overflow sits in its middle, the pick-up where it is said."""
    at, tank = f"tanks.{name}", batch.plan.tanks[name]
    top = batch.number(f"{at}.diameter" if tank.shape == "lying cylinder" else f"{at}.height")
    overflow = batch.number(f"{at}.overflow")
    away = []
    for field, side in zip(("pickup_from_front", "pickup_from_left"), tank.footprint, strict=True):
        said, middle = batch.number(f"{at}.{field}"), batch.number(f"{at}.{side}") / 2
        away.append(np.where(np.isnan(said), 0.0, said - middle))
    return Surfaces(
        full=np.where(np.isnan(overflow), top, overflow),
        left=batch.number(f"{at}.pickup") + tilted_cylinders.surface_slope(*_tilt(batch), *away),
    )


def _above(batch: Batch, name: str) -> Array:
    """How high a tank's floor at its middle lies above the van's origin, measured as the water does."""
    x, y, z = (batch.number(f"tanks.{name}.{axis}") for axis in "xyz")
    return z + tilted_cylinders.surface_slope(*_tilt(batch), x, y)


def _tilt(batch: Batch) -> tuple[Array, Array]:
    return batch.number("site.pitch"), batch.number("site.roll")
