"""Tanks: the water in boxes and cylinders, and in a box that stands tilted in two directions.

A tank's own axes: x from its front wall to the rear, y from its left wall to the right, z up from its floor.
Tilted cylinders are in ``tilted_cylinders``, levels by volume and dip tables in ``level``.
"""

from __future__ import annotations

import math

import numpy as np

from vanwater.physics._clipped import mean_depth, slopes
from vanwater.quantities import Angle, Array, Bore, Length, Real, Volume

__all__ = [
    "box_usable",
    "box_volume",
    "box_volume_below",
    "horizontal_cylinder_volume",
    "run_content",
    "vertical_cylinder_volume",
]


def box_volume(level: Length[Real], length: Length[Real], width: Length[Real]) -> Volume[Array]:
    """Water in a level box.

    Formula: L W h

    Parameters
    ----------
    level : float or array
        Level above the floor of the tank, h [m].
    length : float or array
        Inside length, L [m].
    width : float or array
        Inside width, W [m].

    Returns
    -------
    array
        Water [m³].

    Notes
    -----
    Rounded edges and baffles take a per cent or two: a measured dip table knows them.

    References
    ----------
    Geometry.

    Examples
    --------
    >>> round(float(box_volume(0.015, 1.0, 0.5)) * 1e3, 3)
    7.5
    """
    return np.asarray(level, dtype=np.float64) * length * width


def box_volume_below(
    length: Length[Real],
    width: Length[Real],
    height: Length[Real],
    x: Length[Real],
    y: Length[Real],
    z: Length[Real],
    pitch: Angle[Real],
    roll: Angle[Real],
) -> Volume[Array]:
    """Water that a tilted box holds when its surface passes through a point.

    Formula: ∬ min(max(z − (x′ − x) sin θ / c − (y′ − y) sin φ / c, 0), H) dx′ dy′, c = √(1 − sin² θ − sin² φ)

    Parameters
    ----------
    length : float or array
        Inside length from front to rear [m].
    width : float or array
        Inside width from left to right [m].
    height : float or array
        Inside height, H [m].
    x : float or array
        The point behind the front wall, x [m].
    y : float or array
        The point right of the left wall, y [m].
    z : float or array
        The point above the floor of the tank, z [m].
    pitch : float or array
        Slope along the van, nose down positive, θ [rad].
    roll : float or array
        Slope across the van, left side down positive, φ [rad].

    Returns
    -------
    array
        Water below the plane of the surface [m³].

    Raises
    ------
    ValueError
        When a side is not above zero or the tilt is beyond the vertical.

    Notes
    -----
    Exact for every tilt, the part above the tank's lid and below its floor left out. With the pick-up as the
    point it is what stays out of reach; with the overflow, what the tank holds. Pitch and roll are what a
    spirit level shows laid along and across the van.

    References
    ----------
    Geometry: the mean of a clipped plane over a rectangle.

    Examples
    --------
    >>> nose_down = np.radians(3.0)
    >>> round(float(box_volume_below(1.0, 0.5, 0.25, 1.0, 0.25, 0.015, nose_down, 0.0)) * 1e3, 3)
    20.602
    """
    long, wide, tall = _positive("length", length), _positive("width", width), _positive("height", height)
    along, across = slopes(pitch, roll)
    fall_x, fall_y = np.abs(along) * long, np.abs(across) * wide
    deepest = z + np.maximum(along * x, along * (x - long)) + np.maximum(across * y, across * (y - wide))
    mean = mean_depth(deepest, fall_x, fall_y) - mean_depth(deepest - tall, fall_x, fall_y)
    return long * wide * mean


def box_usable(
    length: Length[Real],
    width: Length[Real],
    height: Length[Real],
    pickup_x: Length[Real],
    pickup_y: Length[Real],
    pickup_z: Length[Real],
    overflow_x: Length[Real],
    overflow_y: Length[Real],
    overflow_z: Length[Real],
    pitch: Angle[Real],
    roll: Angle[Real],
) -> Volume[Array]:
    """Water between the overflow and the pick-up of a tilted box.

    Formula: max(V(overflow) − V(pick-up), 0)

    Parameters
    ----------
    length : float or array
        Inside length from front to rear [m].
    width : float or array
        Inside width from left to right [m].
    height : float or array
        Inside height [m].
    pickup_x : float or array
        Inlet of the pick-up behind the front wall [m].
    pickup_y : float or array
        Inlet of the pick-up right of the left wall [m].
    pickup_z : float or array
        Inlet of the pick-up above the floor of the tank [m].
    overflow_x : float or array
        Edge of the overflow behind the front wall [m].
    overflow_y : float or array
        Edge of the overflow right of the left wall [m].
    overflow_z : float or array
        Edge of the overflow above the floor of the tank [m].
    pitch : float or array
        Slope along the van, nose down positive [rad].
    roll : float or array
        Slope across the van, left side down positive [rad].

    Returns
    -------
    array
        Usable water [m³].

    Raises
    ------
    ValueError
        When a side is not above zero or the tilt is beyond the vertical.

    Notes
    -----
    Filled and emptied on the same slope. Filled on the level and parked on a slope, the smaller of the two
    fillings counts.

    References
    ----------
    The difference of two ``box_volume_below``.

    Examples
    --------
    >>> level = box_usable(1.0, 0.5, 0.25, 1.0, 0.25, 0.015, 0.5, 0.25, 0.25, 0.0, 0.0)
    >>> round(float(level) * 1e3, 1)
    117.5
    """
    full = box_volume_below(length, width, height, overflow_x, overflow_y, overflow_z, pitch, roll)
    return np.maximum(full - box_volume_below(length, width, height, pickup_x, pickup_y, pickup_z, pitch, roll), 0.0)


def vertical_cylinder_volume(level: Length[Real], diameter: Length[Real]) -> Volume[Array]:
    """Water in a standing cylinder.

    Formula: π D² h / 4

    Parameters
    ----------
    level : float or array
        Level above the floor of the tank, h [m].
    diameter : float or array
        Inside diameter, D [m].

    Returns
    -------
    array
        Water [m³].

    Raises
    ------
    ValueError
        When the diameter is not above zero.

    Notes
    -----
    Flat floor.

    References
    ----------
    Geometry.

    Examples
    --------
    >>> round(float(vertical_cylinder_volume(0.3, 0.25)) * 1e3, 2)
    14.73
    """
    return np.asarray(level, dtype=np.float64) * (math.pi / 4) * _positive("diameter", diameter) ** 2


def horizontal_cylinder_volume(level: Length[Real], diameter: Length[Real], length: Length[Real]) -> Volume[Array]:
    """Water in a lying cylinder with flat ends.

    Formula: L D² (φ − sin φ) / 8, cos(φ/2) = 1 − 2 h / D

    Parameters
    ----------
    level : float or array
        Level above the lowest line, h; kept between 0 and D [m].
    diameter : float or array
        Inside diameter, D [m].
    length : float or array
        Inside length, L [m].

    Returns
    -------
    array
        Water [m³].

    Raises
    ------
    ValueError
        When the diameter is not above zero.

    Notes
    -----
    Axis level. φ is the angle that the wetted arc spans.

    References
    ----------
    Circular segment; Jones, Calculating Tank Volume.

    Examples
    --------
    >>> round(float(horizontal_cylinder_volume(0.15, 0.30, 1.0)) * 1e3, 2)
    35.34
    """
    wide = _positive("diameter", diameter)
    wetted = 2.0 * np.arccos(1.0 - 2.0 * np.clip(np.asarray(level, dtype=np.float64) / wide, 0.0, 1.0))
    return wide**2 * length / 8.0 * (wetted - np.sin(wetted))


def run_content(bore: Bore[Real], length: Length[Real]) -> Volume[Array]:
    """Water that a run of hose or pipe holds.

    Formula: π D² L / 4

    Parameters
    ----------
    bore : float or array
        Inside diameter, D [m].
    length : float or array
        Length of the run, L [m].

    Returns
    -------
    array
        Content [m³].

    Raises
    ------
    ValueError
        When the bore is not above zero.

    Notes
    -----
    Round bore. Nominal sizes mislead: use the average inside diameter of the standard.

    References
    ----------
    Geometry.

    Examples
    --------
    >>> round(float(run_content(0.010, 3.4)) * 1e3, 3)
    0.267
    """
    return (math.pi / 4) * _positive("bore", bore) ** 2 * length


def _positive(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=np.float64)
    if np.any(values <= 0.0):
        raise ValueError(f"{name}: {value} m must lie above zero.")
    return values
