"""Where the weight of water goes: loads on axles and sides. A van is weighed, not computed: these are changes."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Length, Mass, Real

__all__ = ["front_load", "left_load", "rear_load", "right_load"]


def rear_load(mass: Mass[Real], position: Length[Real], wheelbase: Length[Real]) -> Mass[Array]:
    """Load that a mass puts on the rear axle.

    Formula: m x / w

    Parameters
    ----------
    mass : float or array
        Mass, m [kg].
    position : float or array
        Place of its centre behind the front axle, x; negative ahead of it [m].
    wheelbase : float or array
        Distance of the axles, w [m].

    Returns
    -------
    array
        Load on the rear axle; above m for a mass behind it [kg].

    Raises
    ------
    ValueError
        When the wheelbase is not above zero.

    Notes
    -----
    Standing level.

    References
    ----------
    Balance of moments about the front axle, statics.

    Examples
    --------
    >>> round(float(rear_load(70.0, 2.05, 3.64)), 2)
    39.42
    """
    return np.asarray(mass, dtype=np.float64) * _share("wheelbase", position, wheelbase)


def front_load(mass: Mass[Real], position: Length[Real], wheelbase: Length[Real]) -> Mass[Array]:
    """Load that a mass puts on the front axle.

    Formula: m (1 − x / w)

    Parameters
    ----------
    mass : float or array
        Mass, m [kg].
    position : float or array
        Place of its centre behind the front axle, x; negative ahead of it [m].
    wheelbase : float or array
        Distance of the axles, w [m].

    Returns
    -------
    array
        Load on the front axle; negative where a mass behind the rear axle lifts it [kg].

    Raises
    ------
    ValueError
        When the wheelbase is not above zero.

    Notes
    -----
    Standing level.

    References
    ----------
    Balance of moments about the rear axle, statics.

    Examples
    --------
    >>> round(float(front_load(70.0, 2.05, 3.64)), 2)
    30.58
    """
    return np.asarray(mass, dtype=np.float64) * (1.0 - _share("wheelbase", position, wheelbase))


def right_load(mass: Mass[Real], offset: Length[Real], track: Length[Real]) -> Mass[Array]:
    """Load that a mass puts on the right-hand wheels.

    Formula: m (1/2 + y / b)

    Parameters
    ----------
    mass : float or array
        Mass, m [kg].
    offset : float or array
        Place of its centre to the right of the centre line, y; negative to the left [m].
    track : float or array
        Distance between left and right wheels, b [m].

    Returns
    -------
    array
        Load on the right-hand wheels [kg].

    Raises
    ------
    ValueError
        When the track is not above zero.

    Notes
    -----
    Standing level, the same track at both axles.

    References
    ----------
    Balance of moments about the left-hand wheels, statics.

    Examples
    --------
    >>> round(float(right_load(70.0, 0.4, 1.7)), 2)
    51.47
    """
    return np.asarray(mass, dtype=np.float64) * (0.5 + _share("track", offset, track))


def left_load(mass: Mass[Real], offset: Length[Real], track: Length[Real]) -> Mass[Array]:
    """Load that a mass puts on the left-hand wheels.

    Formula: m (1/2 − y / b)

    Parameters
    ----------
    mass : float or array
        Mass, m [kg].
    offset : float or array
        Place of its centre to the right of the centre line, y; negative to the left [m].
    track : float or array
        Distance between left and right wheels, b [m].

    Returns
    -------
    array
        Load on the left-hand wheels [kg].

    Raises
    ------
    ValueError
        When the track is not above zero.

    Notes
    -----
    Standing level, the same track at both axles.

    References
    ----------
    Balance of moments about the right-hand wheels, statics.

    Examples
    --------
    >>> round(float(left_load(70.0, 0.4, 1.7)), 2)
    18.53
    """
    return np.asarray(mass, dtype=np.float64) * (0.5 - _share("track", offset, track))


def _share(name: str, position: Real, distance: Real) -> Array:
    if np.any(np.asarray(distance) <= 0.0):
        raise ValueError(f"{name}: {distance} m must lie above zero.")
    return np.asarray(position, dtype=np.float64) / distance
