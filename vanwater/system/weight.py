"""What the water weighs and where it sits, trip by trip: dry, leaving, coming home, everything full."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics import mass, water
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.full_volume import full_volume
from vanwater.system.hot_pipe import pipe_content

__all__ = ["STATES", "Laden", "Thing", "laden", "line_content"]

STATES = ("dry", "leaving", "home", "full")
"""Everything dry; leaving with fresh tanks and heaters full; home with grey and toilets full; everything full."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that holds water, or a load that rides along.

    Parameters
    ----------
    name : str
        Its name in the plan.
    kind : str
        What it holds ("fresh", "grey", "urine", "cassette", "heater"), or "load".
    address : str
        Where it stands in the plan.
    """

    name: str
    kind: str
    address: str


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Laden:
    """What the water and the loads weigh, and what that puts on axles and sides.

    Parameters
    ----------
    things : tuple of Thing
        Tanks and heaters.
    mass : array, shape (rows, things)
        Water that each holds when full [kg].
    x, y : array, shape (rows, things)
        Their places behind the front axle and right of the centre line; NaN where it is not decided [m].
    filled : array, shape (rows, states, things)
        How full each is, state by state [-].
    water : array, shape (rows, states)
        All the water [kg].
    unplaced : array, shape (rows, states)
        What of it has no place along the van [kg].
    front, rear : array, shape (rows, states)
        What the rest puts on the axles; NaN without a wheelbase [kg].
    right : array, shape (rows, states)
        How much more the right side carries than the left; NaN where track or a place is not decided [kg].
    loads : tuple of Thing
        What else rides along.
    loads_mass, loads_front, loads_rear, loads_right : array, shape (rows,)
        What that weighs, and puts on axles and sides [kg].
    """

    things: tuple[Thing, ...]
    mass: Array
    x: Array
    y: Array
    filled: Array
    water: Array
    unplaced: Array
    front: Array
    rear: Array
    right: Array
    loads: tuple[Thing, ...]
    loads_mass: Array
    loads_front: Array
    loads_rear: Array
    loads_right: Array


def laden(batch: Batch) -> Laden:
    """Put masses and places to what holds water and to what rides along.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    Laden
        Along the rows.
    """
    plan, rows = batch.plan, len(batch)
    things = (
        *(Thing(name, tank.holds, f"tanks.{name}") for name, tank in plan.tanks.items()),
        *(Thing(name, "heater", f"heaters.{name}") for name in plan.heaters),
    )
    density = water.density(batch.number("site.cold_water"))
    full = _columns(rows, [_content(batch, thing) for thing in things]) * density[:, None]
    x, y = (_columns(rows, [batch.number(f"{thing.address}.{way}") for thing in things]) for way in "xy")
    filled = np.stack([_filled(batch, thing) for thing in things], axis=-1) if things else np.zeros((rows, 4, 0))
    wheelbase, track = batch.number("vehicle.wheelbase"), batch.number("vehicle.track")
    masses = full[:, None, :] * filled
    front, rear = _axles(masses, x[:, None, :], wheelbase[:, None, None])
    loads = tuple(Thing(name, "load", f"loads.{name}") for name in plan.loads)
    ride, at, beside = (
        _columns(rows, [batch.number(f"{load.address}.{k}") for load in loads]) for k in ("mass", *"xy")
    )
    loads_front, loads_rear = _axles(ride, at, wheelbase[:, None])
    return Laden(
        things=things,
        mass=full,
        x=x,
        y=y,
        filled=filled,
        water=masses.sum(axis=-1),
        unplaced=np.where(np.isnan(x)[:, None, :], masses, 0.0).sum(axis=-1),
        front=front,
        rear=rear,
        right=_right(masses, y[:, None, :], track[:, None, None]),
        loads=loads,
        loads_mass=ride.sum(axis=-1),
        loads_front=loads_front,
        loads_rear=loads_rear,
        loads_right=_right(ride, beside, track[:, None]),
    )


def line_content(batch: Batch) -> Array:
    """Water in all hoses and pipes whose size and length are decided.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    array, shape (rows,)
        Content [m³].
    """
    return pipe_content(batch, batch.plan.runs)


def _content(batch: Batch, thing: Thing) -> Array:
    return batch.number(f"{thing.address}.volume") if thing.kind == "heater" else full_volume(batch, thing.name)


def _filled(batch: Batch, thing: Thing) -> Array:
    """How full a thing is in each state, shape (rows, states)."""
    brimful = np.ones(len(batch))
    if thing.kind == "heater":
        leaving, home = brimful, brimful
    else:
        fresh = thing.kind == "fresh"
        leaving = batch.number(f"{thing.address}.filled", 1.0 if fresh else 0.0)
        home = brimful - fresh
    return np.stack([0.0 * brimful, leaving, home, brimful], axis=-1)


def _axles(masses: Array, x: Array, wheelbase: Array) -> tuple[Array, Array]:
    """Front and rear axle, summed over the things that have a place."""
    placed = np.where(np.isnan(x), 0.0, masses)
    at = np.where(np.isnan(x), 0.0, x)
    return mass.front_load(placed, at, wheelbase).sum(axis=-1), mass.rear_load(placed, at, wheelbase).sum(axis=-1)


def _right(masses: Array, y: Array, track: Array) -> Array:
    """Right less left, NaN where something with mass has no place across the van."""
    more = mass.right_load(masses, y, track) - mass.left_load(masses, y, track)
    return np.asarray(np.where(masses == 0.0, 0.0 * track, more).sum(axis=-1), dtype=np.float64)


def _columns(rows: int, columns: list[Array]) -> Array:
    return np.stack(columns, axis=-1) if columns else np.zeros((rows, 0))
