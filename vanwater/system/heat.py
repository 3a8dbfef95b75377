"""Tanks in the cold as physics sees them: faces, layers, what lies beside each, along the rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.film import Facing
from vanwater.physics.heat_loss import face_transmittance
from vanwater.physics.shape_factors import box_areas, cylinder_areas
from vanwater.physics.tank_faces import Faces, Layers
from vanwater.plan.tables import materials
from vanwater.plan.tanks import SIDES, Tank
from vanwater.plan.winter import BESIDE, Beside
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.full_volume import full_volume
from vanwater.system.surroundings import Case, Codes, beside_codes, wind_at

__all__ = [
    "FACES",
    "FOAM_CONDUCTIVITY",
    "WALL",
    "WALL_MATERIAL",
    "Side",
    "TankHeat",
    "beside",
    "faces_of",
    "tank_heat",
    "transmittances",
]

WALL = 5e-3
"""Thickness of a tank's wall while it is not said, m (common practice)."""

WALL_MATERIAL = "polyethylene"
"""Material of a tank's wall while it is not said, a row of the table of materials."""

FOAM_CONDUCTIVITY = 0.037
"""Conductivity of insulation while it is not said, W/(m·K): closed-cell foam of the table of materials."""

Side = Literal["bottom", "top", "front", "rear", "left", "right"]
"""A face of a tank."""

FACES: tuple[Side, ...] = ("bottom", "top", "front", "rear", "left", "right")
"""The faces of a tank, in the order of :meth:`vanwater.physics.tank_faces.Faces.of_box`."""

_LAYERS = ("wall", "wall_conductivity", "foam", "foam_conductivity", "foam_area", "skin_area")
"""What of the layers of a tank is known along the rows."""

_LOOKS = (Facing.DOWN, Facing.UP, Facing.SIDE, Facing.SIDE, Facing.SIDE, Facing.SIDE)


@dataclass(frozen=True, slots=True, eq=False)
class TankHeat:
    """One tank as its faces, all equal ones together.

    Every face counts whole, however full the tank is: above the water the air in it carries the heat. That is on the
    safe side, and little off where the foam outside resists more than the air inside.

    Parameters
    ----------
    tank : str
        Its name.
    faces : Faces
        All of it, areas shaped (rows, faces).
    layers : Layers
        Wall and foam, shaped (rows, faces).
    codes : array of int, shape (rows, faces)
        What lies beside each face, as places in ``BESIDE``.
    content : array, shape (rows,)
        Water in the full tank [m³].
    """

    tank: str
    faces: Faces
    layers: Layers
    codes: Codes
    content: Array


def beside(tank: Tank, face: Side) -> Beside | None:
    """What lies beside a face of a tank, or None where the plan does not tell.

    Parameters
    ----------
    tank : Tank
        The tank.
    face : str
        One of its faces.

    Returns
    -------
    str or None
        As the face says it, else the tank; else outside under the floor and the room above it.
    """
    own = tank.faces[face].beside if face in tank.faces else None
    if own or tank.beside:
        return own or tank.beside
    return None if tank.z is None else "outside" if tank.z < 0 else "room"


def faces_of(batch: Batch, name: str) -> Faces | None:
    """The faces of a tank, all equal ones together.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The tank.

    Returns
    -------
    Faces or None
        Areas shaped (rows, faces); None while its sides are not decided. The mantle of a cylinder counts as four flat
        strips.
    """
    at, tank = f"tanks.{name}", batch.plan.tanks[name]
    if tank.inside_height is None:
        return None
    count = batch.number(f"{at}.count")
    if tank.shape == "box":
        length, width, height = (batch.number(f"{at}.{side}") for side in ("length", "width", "height"))
        box = Faces.of_box(length, width, height)
        return Faces(box.area * count[:, None], box.along, box.size, box.facing)
    diameter = batch.number(f"{at}.diameter")
    disc, strip = np.pi / 4 * diameter**2, np.pi / 4 * diameter
    if tank.shape == "lying cylinder":
        length = batch.number(f"{at}.length")
        level = strip * length / (2.0 * (strip + length))
        ends = _ends(tank)
        area = [disc if face in ends else strip * length for face in range(len(FACES))]
        windward = diameter if tank.lies == "across" else length
        along = [diameter if face in ends else windward for face in range(len(FACES))]
        size = [level] * 2 + [diameter] * 4
    else:
        length = batch.number(f"{at}.height")
        area = [disc] * 2 + [strip * length] * 4
        along = [diameter] * 6
        size = [diameter / 4] * 2 + [length] * 4
    return Faces(
        np.stack(area, axis=-1) * count[:, None], np.stack(along, axis=-1), np.stack(size, axis=-1), _LOOKS
    )  # fmt: skip


def tank_heat(batch: Batch, name: str) -> TankHeat | None:
    """A tank as its faces with what lies beside them.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The tank.

    Returns
    -------
    TankHeat or None
        None while its sides, or what lies beside one of its faces, are not decided.
    """
    tank, faces = batch.plan.tanks[name], faces_of(batch, name)
    if faces is None or None in [beside(tank, face) for face in FACES]:
        return None
    codes = np.stack([_codes(batch, name, face) for face in FACES], axis=-1)
    return TankHeat(name, faces, _layers(batch, name), codes, full_volume(batch, name))


def _codes(batch: Batch, name: str, face: Side) -> Codes:
    """What lies beside a face along the rows: as it is said, else by the tank's height, as in :func:`beside`."""
    tank = batch.plan.tanks[name]
    own = tank.faces[face].beside if face in tank.faces else None
    low = batch.number(f"tanks.{name}.z") < 0
    by_height = np.where(low, BESIDE.index("outside"), BESIDE.index("room"))
    return beside_codes(batch, own or tank.beside or by_height, *_said_at(name, tank, face))


def _said_at(name: str, tank: Tank, face: Side) -> tuple[str, ...]:
    """Where a row may say what lies beside a face; what the face says itself counts before the tank's word."""
    own = f"tanks.{name}.faces.{face}.beside"
    return (own,) if face in tank.faces and tank.faces[face].beside else (own, f"tanks.{name}.beside")


def _layers(batch: Batch, name: str) -> Layers:
    at, tank = f"tanks.{name}", batch.plan.tanks[name]

    def conducts(material: str | None) -> float:
        return materials()[material or WALL_MATERIAL].conductivity

    all_around = batch.number(f"{at}.foam", 0.0)
    foam = np.repeat(all_around[:, None], len(FACES), axis=-1)
    for face, part in tank.faces.items():
        if part.foam is not None:
            foam[:, FACES.index(face)] = part.foam
    for number, face in enumerate(FACES):
        for place, said in batch.changes(f"{at}.faces.{face}.foam"):
            if said is not None:
                foam[place, number] = said
    soft = batch.number(f"{at}.foam_conductivity", FOAM_CONDUCTIVITY) * batch.factor("foam")
    wall, solid = batch.number(f"{at}.wall", WALL), batch.each((f"{at}.material",), conducts)
    areas = _areas(batch, at, tank, wall[:, None], foam)
    every = dict(zip(_LAYERS, (wall[:, None], solid[:, None], foam, soft[:, None], *areas), strict=True))
    return Layers(**{field: np.broadcast_to(values, foam.shape) for field, values in every.items()})


def _areas(batch: Batch, at: str, tank: Tank, wall: Array, foam: Array) -> Array:
    """Area that the heat passes in the foam, and of the skin, over that of the inside."""
    side = {side: batch.number(f"{at}.{side}") for side in SIDES[tank.shape]}
    if tank.shape == "box":
        return box_areas(side["length"], side["width"], side["height"], wall, foam)
    long = side["height" if tank.shape == "standing cylinder" else "length"]
    return cylinder_areas(long, side["diameter"], _ends(tank), wall, foam)


def _ends(tank: Tank) -> tuple[int, int]:
    """Which faces are the ends of a cylinder."""
    if tank.shape == "standing cylinder":
        return 0, 1
    return (4, 5) if tank.lies == "across" else (2, 3)


def transmittances(batch: Batch, tanks: Sequence[TankHeat], cases: Sequence[Case]) -> list[Array]:
    """Transmittance of every face of every tank in every case, in one call of the physics.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    tanks : sequence of TankHeat
        The tanks.
    cases : sequence of Case
        States of the van.

    Returns
    -------
    list of array, shape (cases, rows, faces)
        One for each tank [W/(m²·K)].
    """
    if not tanks:
        return []
    codes = np.concatenate([tank.codes for tank in tanks], axis=-1)
    air, speed = wind_at(batch, codes, cases)
    inside = np.stack([case.inside for case in cases])[..., None]
    area, along, size = (
        np.concatenate([getattr(tank.faces, field) for tank in tanks], axis=-1) for field in ("area", "along", "size")
    )
    faces = Faces(area, along, size, tuple(look for tank in tanks for look in tank.faces.facing))
    layers = Layers(
        **{field: np.concatenate([getattr(tank.layers, field) for tank in tanks], axis=-1) for field in _LAYERS},
    )
    atmosphere = air_pressure(batch.number("site.altitude"))[:, None]
    by_face = face_transmittance(inside, air, layers, faces, speed, atmosphere)
    return np.split(by_face, np.cumsum([len(FACES)] * len(tanks))[:-1], axis=-1)
