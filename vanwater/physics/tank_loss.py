"""A whole tank between outside, box and heated room: its faces in parallel."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Area, Array, Conductance, Power, Real, Temperature, Transmittance

__all__ = ["cold_conductance", "conductance", "equilibrium_temperature", "net_loss"]


def conductance(area: Area[Array], transmittance: Transmittance[Array]) -> Conductance[Array]:
    """Heat that passes all faces of a tank for each degree.

    Formula: Σ U A

    Parameters
    ----------
    area : array
        Area of each face, on the last axis, A [m²].
    transmittance : array
        Transmittance of each face, on the last axis, U [W/(m²·K)].

    Returns
    -------
    array
        Conductance of the tank, UA [W/K].

    References
    ----------
    Faces in parallel, any handbook of heat transfer.

    Examples
    --------
    >>> round(float(conductance(np.array([0.36, 0.86]), np.array([1.4654, 1.4654]))), 3)
    1.788
    """
    return _all(_each(area, transmittance))


def cold_conductance(
    area: Area[Array],
    transmittance: Transmittance[Array],
    inside: Temperature[Real],
    neighbours: Temperature[Array],
) -> Conductance[Array]:
    """Heat that passes for each degree through the faces with a neighbour colder than the water.

    Formula: Σ U A over the faces with T_n < T

    Parameters
    ----------
    area : array
        Area of each face, on the last axis, A [m²].
    transmittance : array
        Transmittance of each face, on the last axis, U [W/(m²·K)].
    inside : float or array
        Temperature of the water, T [K].
    neighbours : array
        Temperature beside each face, on the last axis, T_n [K].

    Returns
    -------
    array
        Conductance toward the cold [W/K].

    Notes
    -----
    Foam belongs on these faces; a face toward the heated room feeds the tank.

    References
    ----------
    Faces in parallel, any handbook of heat transfer.

    Examples
    --------
    >>> beside = np.array([263.15, 293.15])
    >>> round(float(cold_conductance(np.array([0.4, 0.4]), np.array([1.5, 1.5]), 277.15, beside)), 3)
    0.6
    """
    each, beside = np.broadcast_arrays(_each(area, transmittance), np.asarray(neighbours, dtype=np.float64))
    return _all(np.where(beside < np.asarray(inside, dtype=np.float64)[..., None], each, 0.0))


def net_loss(
    area: Area[Array],
    transmittance: Transmittance[Array],
    inside: Temperature[Real],
    neighbours: Temperature[Array],
) -> Power[Array]:
    """Heat that a tank loses to its neighbours, what a warm room gives it taken off.

    Formula: Σ U A (T − T_n)

    Parameters
    ----------
    area : array
        Area of each face, on the last axis, A [m²].
    transmittance : array
        Transmittance of each face, on the last axis, U [W/(m²·K)].
    inside : float or array
        Temperature of the water, T [K].
    neighbours : array
        Temperature beside each face, on the last axis, T_n [K].

    Returns
    -------
    array
        Heat lost; negative when the tank is fed [W].

    References
    ----------
    Faces in parallel, any handbook of heat transfer.

    Examples
    --------
    >>> beside = np.array([263.15, 293.15])
    >>> round(float(net_loss(np.array([0.4, 0.4]), np.array([1.5, 1.5]), 277.15, beside)), 3)
    -1.2
    """
    apart = np.asarray(inside, dtype=np.float64)[..., None] - np.asarray(neighbours, dtype=np.float64)
    return _all(_each(area, transmittance) * apart)


def equilibrium_temperature(
    area: Area[Array],
    transmittance: Transmittance[Array],
    neighbours: Temperature[Array],
    power: Power[Real] = 0.0,
) -> Temperature[Array]:
    """Temperature at which a tank comes to rest.

    Formula: (Σ U A T_n + P) / Σ U A

    Parameters
    ----------
    area : array
        Area of each face, on the last axis, A [m²].
    transmittance : array
        Transmittance of each face, on the last axis, U [W/(m²·K)].
    neighbours : array
        Temperature beside each face, on the last axis, T_n [K].
    power : float or array
        Heat that a pad leads into the water, P [W].

    Returns
    -------
    array
        Temperature of rest [K].

    Raises
    ------
    ValueError
        When no face passes heat.

    Notes
    -----
    With the conductance it stands for all neighbours at once: the tank loses Σ U A (T − T_rest).

    References
    ----------
    Faces in parallel, any handbook of heat transfer.

    Examples
    --------
    >>> beside = np.array([263.15, 293.15])
    >>> float(equilibrium_temperature(np.array([0.4, 0.4]), np.array([1.5, 1.5]), beside))
    278.15
    """
    each, beside = _each(area, transmittance), np.asarray(neighbours, dtype=np.float64)
    total = _all(each)
    if not np.all(total > 0):
        raise ValueError("area, transmittance: no face passes heat, so the tank never comes to rest.")
    lowest: Array = np.min(beside, axis=-1)  # sums of differences keep their digits
    return lowest + (_all(each * (beside - lowest[..., None])) + power) / total


def _each(area: Array, transmittance: Array) -> Array:
    return np.asarray(area, dtype=np.float64) * np.asarray(transmittance, dtype=np.float64)


def _all(faces: Array) -> Array:
    total: Array = np.sum(faces, axis=-1)
    return total
