"""Where the weight of water goes: axles, sides, its centre. A van is weighed, not computed: these are changes."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Length, Mass, Place, Real

__all__ = ["centre_behind", "centre_right", "front_load", "left_load", "rear_load", "right_load"]


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


def centre_behind(on_rear: Mass[Real], mass: Mass[Real], wheelbase: Length[Real]) -> Place[Array]:
    """Place of the centre of a mass behind the front axle, of what it puts on the rear one.

    Formula: w R / m

    Parameters
    ----------
    on_rear : float or array
        Load that it puts on the rear axle, R [kg].
    mass : float or array
        Mass, m [kg].
    wheelbase : float or array
        Distance of the axles, w [m].

    Returns
    -------
    array
        Place behind the front axle, negative ahead of it; nan where there is no mass [m].

    Notes
    -----
    Standing level.

    References
    ----------
    Balance of moments about the front axle, statics.

    Examples
    --------
    >>> round(float(centre_behind(39.42, 70.0, 3.64)), 2)
    2.05
    """
    return np.asarray(wheelbase, dtype=np.float64) * _of_mass(on_rear, mass)


def centre_right(right_over_left: Mass[Real], mass: Mass[Real], track: Length[Real]) -> Place[Array]:
    """Place of the centre of a mass right of the centre line, of what it puts on the right-hand wheels more.

    Formula: b D / (2 m)

    Parameters
    ----------
    right_over_left : float or array
        What it puts on the right-hand wheels more than on the left-hand ones, D [kg].
    mass : float or array
        Mass, m [kg].
    track : float or array
        Distance between left and right wheels, b [m].

    Returns
    -------
    array
        Place right of the centre line, negative to the left; nan where there is no mass [m].

    Notes
    -----
    Standing level, the same track at both axles.

    References
    ----------
    Balance of moments about the centre line, statics.

    Examples
    --------
    >>> round(float(centre_right(51.47 - 18.53, 70.0, 1.7)), 2)
    0.4
    """
    return 0.5 * np.asarray(track, dtype=np.float64) * _of_mass(right_over_left, mass)


def _of_mass(load: Real, mass: Real) -> Array:
    weighed = np.asarray(mass, dtype=np.float64)
    return np.asarray(load, dtype=np.float64) / np.where(weighed > 0.0, weighed, np.nan)


def _share(name: str, position: Real, distance: Real) -> Array:
    if np.any(np.asarray(distance) <= 0.0):
        raise ValueError(f"{name}: {distance} m must lie above zero.")
    return np.asarray(position, dtype=np.float64) / distance
