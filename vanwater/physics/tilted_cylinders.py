"""The surface of still water in a sloping van, and the water in cylinders that stand or lie tilted."""

from __future__ import annotations

import math

import numpy as np

from vanwater.physics._clipped import FLAT, slopes
from vanwater.quantities import Angle, Array, Length, Real, Volume

__all__ = ["horizontal_cylinder_volume_below", "surface_slope", "vertical_cylinder_volume_below"]


def surface_slope(pitch: Angle[Real], roll: Angle[Real], x: Length[Real], y: Length[Real]) -> Length[Array]:
    """Height that the surface of still water loses in a sloping van between two places.

    Formula: (x sin θ + y sin φ) / √(1 − sin² θ − sin² φ)

    Parameters
    ----------
    pitch : float or array
        Slope along the van, nose down positive, θ [rad].
    roll : float or array
        Slope across the van, left side down positive, φ [rad].
    x : float or array
        How far the second place lies behind the first, x [m].
    y : float or array
        How far it lies right of it, y [m].

    Returns
    -------
    array
        What the surface stands lower at the second place, measured square to the van's floor [m].

    Raises
    ------
    ValueError
        When the tilt is beyond the vertical.

    References
    ----------
    Geometry: a plane that is level while the van is not.

    Examples
    --------
    >>> round(float(surface_slope(np.radians(3.0), 0.0, 1.0, 0.0)), 4)
    0.0524
    """
    along, across = slopes(pitch, roll)
    return along * x + across * y


def vertical_cylinder_volume_below(
    diameter: Length[Real],
    height: Length[Real],
    x: Length[Real],
    y: Length[Real],
    z: Length[Real],
    pitch: Angle[Real],
    roll: Angle[Real],
) -> Volume[Array]:
    """Water that a tilted standing cylinder holds when its surface passes through a point.

    Formula: I(d) − I(d − H), I(d) = d A + ⅔ s (R² − a²)^(3/2), a = d / s, A = a √(R² − a²) + R² (asin(a / R) + π/2)

    Parameters
    ----------
    diameter : float or array
        Inside diameter, 2 R [m].
    height : float or array
        Inside height, H [m].
    x : float or array
        The point behind the cylinder's foremost line [m].
    y : float or array
        The point right of its leftmost line [m].
    z : float or array
        The point above the floor of the tank [m].
    pitch : float or array
        Slope along the van, nose down positive [rad].
    roll : float or array
        Slope across the van, left side down positive [rad].

    Returns
    -------
    array
        Water below the plane of the surface [m³].

    Raises
    ------
    ValueError
        When a size is not above zero or the tilt is beyond the vertical.

    Notes
    -----
    d is the depth at the axis, s the fall of the surface for each metre, a kept between −R and R. Exact for every
    tilt, flat floor and lid.

    References
    ----------
    Geometry: the cylindrical wedge, a clipped plane over a disc.

    Examples
    --------
    >>> litres = vertical_cylinder_volume_below(0.3, 0.4, 0.15, 0.15, 0.02, np.radians(10.0), 0.0) * 1e3
    >>> round(float(litres), 3)
    1.427
    """
    wide, tall = _positive("diameter", diameter), _positive("height", height)
    along, across = slopes(pitch, roll)
    radius = 0.5 * wide
    depth = z + along * (x - radius) + across * (y - radius)
    fall = np.hypot(along, across)
    return _over_disc(depth, fall, radius) - _over_disc(depth - tall, fall, radius)


def horizontal_cylinder_volume_below(
    diameter: Length[Real],
    length: Length[Real],
    x: Length[Real],
    y: Length[Real],
    z: Length[Real],
    pitch: Angle[Real],
    roll: Angle[Real],
) -> Volume[Array]:
    """Water that a tilted lying cylinder holds when its surface passes through a point.

    Formula: L R² (F(u₁) − F(u₂)) / (u₁ − u₂), F(u) = u acos(−u) + √(1 − u²) − ⅓ (1 − u²)^(3/2)

    Parameters
    ----------
    diameter : float or array
        Inside diameter, 2 R [m].
    length : float or array
        Inside length along its axis, which lies along the van, L [m].
    x : float or array
        The point behind the front end [m].
    y : float or array
        The point right of the leftmost line [m].
    z : float or array
        The point above the lowest line of the level tank [m].
    pitch : float or array
        Slope along the axis, front down positive [rad].
    roll : float or array
        Slope across it, left side down positive [rad].

    Returns
    -------
    array
        Water below the plane of the surface [m³].

    Raises
    ------
    ValueError
        When a size is not above zero or the tilt is beyond the vertical.

    Notes
    -----
    u₁ and u₂ are the heights of the surface above the axis at the two ends, square to the surface's line across the
    tank, over the radius; below −1 F is 0, above 1 it is π u. Flat ends, exact for every tilt. A cylinder that lies
    across the van takes x for y, and pitch for roll.

    References
    ----------
    Geometry: the integral of a circular segment along the axis.

    Examples
    --------
    >>> litres = horizontal_cylinder_volume_below(0.3, 1.0, 1.0, 0.15, 0.02, np.radians(3.0), 0.0) * 1e3
    >>> round(float(litres), 3)
    7.131
    """
    wide, long = _positive("diameter", diameter), _positive("length", length)
    along, across = slopes(pitch, roll)
    radius = 0.5 * wide
    upright = radius * np.hypot(1.0, across)
    front = (z + along * x + across * (y - radius) - radius) / upright
    fall = along * long / upright
    rear, level = front - fall, np.abs(fall) < _LEVEL
    mean = (_segments(front) - _segments(rear)) / np.where(level, 1.0, fall)
    segment = np.clip(front - 0.5 * fall, -1.0, 1.0)
    flat = np.arccos(-segment) + segment * np.sqrt(1.0 - segment**2)
    return long * radius**2 * np.where(level, flat, mean)


_LEVEL = 1e-6
"""Fall along a lying cylinder, over its radius, that counts as none: the middle stands for it within 1e-12."""


def _over_disc(depth: Array, fall: Array, radius: Array) -> Array:
    """Integral over a disc of a depth that falls to one side, zero at least."""
    sloping = fall > FLAT
    edge = np.clip(depth / np.where(sloping, fall, 1.0), -radius, radius)
    edge = np.where(sloping, edge, np.where(depth > 0.0, radius, -radius))
    half = np.sqrt(np.maximum(radius**2 - edge**2, 0.0))
    wet = edge * half + radius**2 * (np.arcsin(edge / radius) + 0.5 * math.pi)
    total: Array = depth * wet + fall * (2.0 / 3.0) * half**3
    return total


def _segments(height: Array) -> Array:
    """Integral of a circular segment of radius 1 up to a height above its centre."""
    inside = np.clip(height, -1.0, 1.0)
    chord = np.sqrt(1.0 - inside**2)
    total: Array = inside * np.arccos(-inside) + chord - chord**3 / 3.0 + math.pi * np.maximum(height - 1.0, 0.0)
    return total


def _positive(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=np.float64)
    if np.any(values <= 0.0):
        raise ValueError(f"{name}: {value} m must lie above zero.")
    return values
