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
    density : array, shape (rows,)
        Of the cold water [kg/m³].
    content, mass : array, shape (rows, things)
        Water that each holds when full [m³], [kg].
    x, y : array, shape (rows, things)
        Their places behind the front axle and right of the centre line; NaN where it is not decided [m].
    on_front, on_rear, on_right, on_left : array, shape (rows, things)
        What each puts on axles and sides when full; NaN where that is not decided [kg].
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
    load_mass, load_x, load_front, load_rear : array, shape (rows, loads)
        What each of them weighs [kg], its place [m], what it puts on the axles; NaN where that is not decided [kg].
    loads_mass, loads_front, loads_rear, loads_right : array, shape (rows,)
        What they weigh together, and put on axles and sides [kg].
    """

    things: tuple[Thing, ...]
    density: Array
    content: Array
    mass: Array
    x: Array
    y: Array
    on_front: Array
    on_rear: Array
    on_right: Array
    on_left: Array
    filled: Array
    water: Array
    unplaced: Array
    front: Array
    rear: Array
    right: Array
    loads: tuple[Thing, ...]
    load_mass: Array
    load_x: Array
    load_front: Array
    load_rear: Array
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
    content = _columns(rows, [_content(batch, thing) for thing in things])
    full = content * density[:, None]
    x, y = (_columns(rows, [batch.number(f"{thing.address}.{way}") for thing in things]) for way in "xy")
    filled = np.stack([_filled(batch, thing) for thing in things], axis=-1) if things else np.zeros((rows, 4, 0))
    wheelbase, track = (batch.number(f"vehicle.{name}")[:, None] for name in ("wheelbase", "track"))
    masses = full[:, None, :] * filled
    on_front, on_rear = mass.front_load(full, x, wheelbase), mass.rear_load(full, x, wheelbase)
    on_right, on_left = mass.right_load(full, y, track), mass.left_load(full, y, track)
    loads = tuple(Thing(name, "load", f"loads.{name}") for name in plan.loads)
    ride, at, beside = (
        _columns(rows, [batch.number(f"{load.address}.{k}") for load in loads]) for k in ("mass", *"xy")
    )
    load_front, load_rear = mass.front_load(ride, at, wheelbase), mass.rear_load(ride, at, wheelbase)
    across = mass.right_load(ride, beside, track) - mass.left_load(ride, beside, track)
    aboard = np.ones((rows, 1, len(loads)))
    return Laden(
        things=things,
        density=density,
        content=content,
        mass=full,
        x=x,
        y=y,
        on_front=on_front,
        on_rear=on_rear,
        on_right=on_right,
        on_left=on_left,
        filled=filled,
        water=masses.sum(axis=-1),
        unplaced=np.where(np.isnan(x)[:, None, :], masses, 0.0).sum(axis=-1),
        front=_along(on_front, x, wheelbase, filled),
        rear=_along(on_rear, x, wheelbase, filled),
        right=_across(on_right - on_left, track, masses, filled),
        loads=loads,
        load_mass=ride,
        load_x=at,
        load_front=load_front,
        load_rear=load_rear,
        loads_mass=ride.sum(axis=-1),
        loads_front=_along(load_front, at, wheelbase, aboard)[:, 0],
        loads_rear=_along(load_rear, at, wheelbase, aboard)[:, 0],
        loads_right=_across(across, track, ride[:, None, :], aboard)[:, 0],
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
    """How full a thing is in each state, shape (rows, states); all are dry in a drained van."""
    brimful = np.ones(len(batch))
    if batch.plan.water.drained:
        return np.zeros((len(batch), len(STATES)))
    if thing.kind == "heater":
        leaving, home = brimful, brimful
    else:
        fresh = thing.kind == "fresh"
        leaving = batch.number(f"{thing.address}.filled", 1.0 if fresh else 0.0)
        home = brimful - fresh
    return np.stack([0.0 * brimful, leaving, home, brimful], axis=-1)


def _along(each: Array, x: Array, wheelbase: Array, filled: Array) -> Array:
    """What an axle carries state by state, summed over the things that have a place, shape (rows, states)."""
    placed = np.where(np.isnan(x), 0.0 * wheelbase, each)
    return np.asarray((placed[:, None, :] * filled).sum(axis=-1), dtype=np.float64)


def _across(each: Array, track: Array, masses: Array, filled: Array) -> Array:
    """Right less left state by state, NaN where something with mass has no place across the van."""
    more = np.where(masses == 0.0, 0.0 * track[:, None, :], each[:, None, :] * filled)
    return np.asarray(more.sum(axis=-1), dtype=np.float64)


def _columns(rows: int, columns: list[Array]) -> Array:
    return np.stack(columns, axis=-1) if columns else np.zeros((rows, 0))
