"""A tank as its faces: areas, lengths, where each looks, and what lies between water and air."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics.film import Facing
from vanwater.quantities import Area, Array, Conductivity, Length, Ratio, Real, Share, Thickness, Transmittance

__all__ = ["INSIDE_FILM", "Faces", "Layers"]

INSIDE_FILM: Transmittance[float] = 150.0
"""Film of still water inside a tank [W/(m²·K)]: 100 to 300 by free convection, common practice; with foam
outside the whole span moves the loss by less than 1 %."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """What lies between water and outside air at each face.

    Parameters
    ----------
    wall : float or array
        Thickness of the tank's wall [m].
    wall_conductivity : float or array
        Thermal conductivity of the wall [W/(m·K)].
    foam : float or array
        Thickness of the insulation, 0 for none [m].
    foam_conductivity : float or array
        Thermal conductivity of the insulation [W/(m·K)].
    inside_film : float or array
        Film on the water's side [W/(m²·K)].
    emissivity : float or array
        Emissivity of the outside [-].
    foam_area, skin_area : float or array
        Area that the heat passes in the insulation, and that of the outside, over that of the inside [-].
    """

    wall: Thickness[Real]
    wall_conductivity: Conductivity[Real]
    foam: Thickness[Real] = 0.0
    foam_conductivity: Conductivity[Real] = 0.04
    inside_film: Transmittance[Real] = INSIDE_FILM
    emissivity: Share[Real] = 0.9
    foam_area: Ratio[Real] = 1.0
    skin_area: Ratio[Real] = 1.0


@dataclass(frozen=True, slots=True)
class Faces:
    """The faces of a tank, on the last axis.

    Parameters
    ----------
    area : array
        Inside area of each face [m²].
    along : array
        Length along the van, which is along the wind when driving [m].
    size : array
        Height of an upright face, area over perimeter of a level one [m].
    facing : tuple of Facing
        Where each face looks.
    """

    area: Area[Array]
    along: Length[Array]
    size: Length[Array]
    facing: tuple[Facing, ...]

    @classmethod
    def of_box(cls, length: Real, width: Real, height: Real, fill: Real = 1.0) -> Faces:
        """Bottom, top, front, rear, left and right of a box, sizes [m]; the sides up to the filled share only."""
        long, wide, high, full = (np.asarray(x, dtype=np.float64) for x in (length, width, height, fill))
        long, wide, high, full = np.broadcast_arrays(long, wide, high, full)
        level, wet = long * wide, high * full
        ends, sides = wide * wet, long * wet
        upright = np.maximum(wet, 1e-3 * high)
        level_size = level / (2.0 * (long + wide))
        return cls(
            np.stack([level, level, ends, ends, sides, sides], axis=-1),
            np.repeat(long[..., None], 6, axis=-1),
            np.stack([level_size, level_size, upright, upright, upright, upright], axis=-1),
            (Facing.DOWN, Facing.UP, Facing.SIDE, Facing.SIDE, Facing.SIDE, Facing.SIDE),
        )
