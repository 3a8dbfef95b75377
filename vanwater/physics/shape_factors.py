"""Area that heat passes in the foam around a tank: its edges and corners beside its faces."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vanwater.quantities import Array, Length, Ratio, Real, Thickness

__all__ = ["CORNER", "EDGE", "box_areas", "cylinder_areas"]

EDGE: Ratio[float] = 0.54
"""Shape factor of an edge for each metre of it; 0.559 exactly for two wide walls."""

CORNER: Ratio[float] = 0.15
"""Shape factor of a corner of three walls, over their thickness."""

_AXES = np.array([2, 2, 0, 0, 1, 1])
"""Where bottom, top, front, rear, left and right look: 0 along, 1 across, 2 up."""


def box_areas(
    length: Length[Real],
    width: Length[Real],
    height: Length[Real],
    wall: Thickness[Real],
    foam: Thickness[Real],
) -> Ratio[Array]:
    """Area that heat passes in the foam and at the skin of a box, over the inside area of each face.

    Formula: (A + ½ 0.54 e Σ l + ⅓ 0.15 e² n) / A

    Parameters
    ----------
    length, width, height : float or array
        Inside sides [m].
    wall : float or array
        Thickness of the wall of bottom, top, front, rear, left and right, on the last axis [m].
    foam : float or array
        Thickness of the foam on each of them, e [m].

    Returns
    -------
    array
        Foam, then skin, on the first axis, the faces on the last one [-].

    Raises
    ------
    ValueError
        When a side is not above zero or a thickness is negative.

    Notes
    -----
    A is the inside area, l its edges toward neighbours that have foam too, n its corners. Foam that ends at a bare
    face has no edge there. For foam thinner than five times the shortest side. The foam counts from the inside on: the
    wall between makes its inside somewhat wider, which reads 2 to 4 % low with 5 mm of wall.

    References
    ----------
    Langmuir, Adams and Meikle (1913), Trans. Am. Electrochem. Soc. 24, 53; as a table in Incropera and DeWitt,
    section 4.3.

    Examples
    --------
    >>> areas = box_areas(4.3, 4.3, 4.3, 0.0, 0.35)
    >>> round(float(np.sum(areas[0] * 4.3**2) / 0.35), 2)
    345.26
    """
    sides = [np.asarray(side, dtype=np.float64) for side in (length, width, height)]
    for name, side in zip(("length", "width", "height"), sides, strict=True):
        _sound(name, side, positive=True)
    around, layer = _faces(wall, foam)
    bare, grown = _box(sides), around + layer
    outside = [
        side + grown[..., first] + grown[..., last]
        for side, (first, last) in zip(sides, ((2, 3), (4, 5), (0, 1)), strict=True)
    ]
    return np.stack(np.broadcast_arrays(_box_layer(sides, bare, layer) / bare, _box(outside) / bare))


def cylinder_areas(
    length: Length[Real], diameter: Length[Real], ends: tuple[int, int], wall: Thickness[Real], foam: Thickness[Real]
) -> Ratio[Array]:
    """Area that heat passes in the foam and at the skin of a cylinder, over the inside area of each face.

    Formula: mantle 2 e / (D ln(1 + 2 e / D)) + ½ 0.54 e Σ l / A, ends (A + ½ 0.54 e Σ l) / A

    Parameters
    ----------
    length : float or array
        Inside length between its ends [m].
    diameter : float or array
        Inside diameter, D [m].
    ends : tuple of int
        Which two of the six faces are its ends; the others are quarters of its mantle.
    wall : float or array
        Thickness of the wall of bottom, top, front, rear, left and right, on the last axis [m].
    foam : float or array
        Thickness of the foam on each of them, e [m].

    Returns
    -------
    array
        Foam, then skin, on the first axis, the faces on the last one [-].

    Raises
    ------
    ValueError
        When a side is not above zero or a thickness is negative.

    Notes
    -----
    l are the rims, which count as straight edges, A the inside area; the foam counts from the inside on, as in
    ``box_areas``.

    References
    ----------
    Langmuir, Adams and Meikle (1913) for the rims; a round layer, any handbook of heat transfer.

    Examples
    --------
    >>> areas = cylinder_areas(1.0, 0.3, (2, 3), 0.0, 0.03)
    >>> [round(float(area), 3) for area in areas[0, :3]]
    [1.113, 1.113, 1.108]
    """
    long, wide = (np.asarray(side, dtype=np.float64) for side in (length, diameter))
    _sound("length", long, positive=True)
    _sound("diameter", wide, positive=True)
    is_end = np.isin(np.arange(6), ends)
    around, layer = _faces(wall, foam)
    bare, grown = _cylinder(long, wide, is_end), around + layer
    there, across = layer > 0, wide[..., None]
    thick = np.where(there, layer, 1.0)
    widened = np.where(there & ~is_end, 2.0 * thick / (across * np.log1p(2.0 * thick / across)), 1.0)
    mantle, both = (np.sum(there & of, axis=-1, keepdims=True) for of in (~is_end, is_end))
    rims = 0.25 * np.pi * across * np.where(is_end, mantle, both)
    outside = _cylinder(
        long + np.sum(np.where(is_end, grown, 0.0), axis=-1),
        wide + 0.5 * np.sum(np.where(is_end, 0.0, grown), axis=-1),
        is_end,
    )
    return np.stack(np.broadcast_arrays(widened + 0.5 * EDGE * layer * rims / bare, outside / bare))


def _faces(*layers: Real) -> list[Array]:
    """Layers with six faces on the last axis."""
    faced = []
    for name, layer in zip(("wall", "foam"), layers, strict=True):
        thick = np.asarray(layer, dtype=np.float64)
        _sound(name, thick, positive=False)
        faced.append(thick * np.ones(6))
    return faced


def _sound(name: str, values: Array, *, positive: bool) -> None:
    if not np.all(values > 0 if positive else values >= 0):
        raise ValueError(f"{name}: {values} m, expected {'more than zero' if positive else 'none or more'}.")


def _box(sides: list[Array]) -> Array:
    """Areas of its six faces."""
    along, across, up = np.broadcast_arrays(*sides)
    return np.stack([along * across] * 2 + [across * up] * 2 + [along * up] * 2, axis=-1)


def _box_layer(sides: list[Array], bare: Array, layer: Array) -> Array:
    """Area that heat passes in a layer around a box."""
    there = (layer > 0).astype(np.float64)
    pairs = np.stack([there[..., 2] + there[..., 3], there[..., 4] + there[..., 5], there[..., 0] + there[..., 1]])
    areas = []
    for face, axis in enumerate(_AXES):
        first, second = (place for place in range(3) if place != axis)
        edges = pairs[first] * sides[second] + pairs[second] * sides[first]
        thick = layer[..., face]
        corners = pairs[first] * pairs[second]
        areas.append(bare[..., face] + 0.5 * EDGE * thick * edges + CORNER / 3.0 * thick**2 * corners)
    return np.stack(np.broadcast_arrays(*areas), axis=-1)


def _cylinder(length: Array, diameter: Array, is_end: npt.NDArray[np.bool_]) -> Array:
    """Areas of its six faces: ends, and quarters of the mantle."""
    disc, quarter = 0.25 * np.pi * diameter**2, 0.25 * np.pi * diameter * length
    return np.where(is_end, disc[..., None], quarter[..., None])
