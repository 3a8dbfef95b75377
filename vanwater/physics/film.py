"""The film of air outside: heat it takes from a face or a hose by wind, in still air, and by radiation."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from enum import StrEnum
from functools import lru_cache

import numpy as np

from vanwater.physics._checks import above_zero
from vanwater.physics.air import AIR_HEAT_CAPACITY, air_conductivity, air_density, air_viscosity
from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.physics.nusselt import (
    cylinder_nusselt,
    plate_nusselt,
    still_cylinder_nusselt,
    still_down_nusselt,
    still_side_nusselt,
    still_up_nusselt,
)
from vanwater.physics.statics import STANDARD_GRAVITY
from vanwater.quantities import (
    AbsolutePressure,
    Array,
    Bore,
    Length,
    Real,
    Share,
    Speed,
    Temperature,
    Transmittance,
)

__all__ = [
    "STEFAN_BOLTZMANN",
    "Facing",
    "combined_film",
    "radiation_film",
    "still_film",
    "still_film_round",
    "wind_film",
    "wind_film_round",
]

STEFAN_BOLTZMANN = 5.670374419e-8
"""Stefan-Boltzmann constant [W/(m²·K⁴)], exact by definition of the SI (2019)."""


class Facing(StrEnum):
    """Where a face looks."""

    UP = "up"
    SIDE = "side"
    DOWN = "down"


_UPWARD = {Facing.UP: 1.0, Facing.SIDE: 0.0, Facing.DOWN: -1.0}


def wind_film(
    speed: Speed[Real],
    length: Length[Real],
    air: Temperature[Real],
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
) -> Transmittance[Array]:
    """Film of a flat face in wind along it.

    Formula: Nu(v L ρ / μ, Pr) λ / L

    Parameters
    ----------
    speed : float or array
        Speed of the air along the face, v [m/s].
    length : float or array
        Length of the face along the wind, L [m].
    air : float or array
        Temperature of the air, which gives ρ, μ, λ and Pr [K].
    atmosphere : float or array
        Absolute pressure of the atmosphere [Pa].

    Returns
    -------
    array
        Film coefficient, convection only [W/(m²·K)].

    Raises
    ------
    ValueError
        When the length is not above zero or the speed is negative.

    Notes
    -----
    Range of nusselt.plate_nusselt. From 1 to 12 m/s within 20 % of the 4 + 4 v that ISO 6946 counts for outside
    walls. Under a moving floor the air runs at 0.3 to 0.7 of the road speed (common practice, unsure).

    References
    ----------
    VDI Heat Atlas (2010), section G4; air by ISO 2533.

    Examples
    --------
    >>> round(float(wind_film(1.5, 0.8, 265.15)), 1)
    10.4
    """
    return _wind(plate_nusselt, speed, length, air, atmosphere)


def wind_film_round(
    speed: Speed[Real],
    diameter: Bore[Real],
    air: Temperature[Real],
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
) -> Transmittance[Array]:
    """Film of a hose, pipe or round tank in wind across it.

    Formula: Nu(v D ρ / μ, Pr) λ / D

    Parameters
    ----------
    speed : float or array
        Speed of the air across it, v [m/s].
    diameter : float or array
        Outside diameter, foam included, D [m].
    air : float or array
        Temperature of the air, which gives ρ, μ, λ and Pr [K].
    atmosphere : float or array
        Absolute pressure of the atmosphere [Pa].

    Returns
    -------
    array
        Film coefficient, convection only [W/(m²·K)].

    Raises
    ------
    ValueError
        When the diameter is not above zero or the speed is negative.

    Notes
    -----
    Range of nusselt.cylinder_nusselt.

    References
    ----------
    Churchill and Bernstein (1977), J. Heat Transfer 99, 300; air by ISO 2533.

    Examples
    --------
    >>> round(float(wind_film_round(1.5, 33e-3, 265.15)), 1)
    23.2
    """
    return _wind(cylinder_nusselt, speed, diameter, air, atmosphere)


def still_film(
    surface: Temperature[Real],
    air: Temperature[Real],
    size: Length[Real],
    facing: Facing | Sequence[Facing],
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
) -> Transmittance[Array]:
    """Film of a flat face in still air.

    Formula: Nu(g |T_s − T_a| L³ ρ² Pr / (T μ²)) λ / L

    Parameters
    ----------
    surface : float or array
        Temperature of the face's outside, T_s [K].
    air : float or array
        Temperature of the air, T_a [K].
    size : float or array
        Height of an upright face, area over perimeter of a level one, L [m].
    facing : Facing or sequence of Facing
        Where the face looks; one for each entry of the last axis when it is a sequence.
    atmosphere : float or array
        Absolute pressure of the atmosphere [Pa].

    Returns
    -------
    array
        Film coefficient, convection only [W/(m²·K)].

    Raises
    ------
    ValueError
        When the size is not above zero.

    Notes
    -----
    Air taken at T, the mean of face and air. A level face colder than the air behaves like a warm one turned
    over. Ranges of the still air functions of nusselt.

    References
    ----------
    Churchill and Chu (1975) for upright, McAdams (1954) for level faces; air by ISO 2533.

    Examples
    --------
    >>> round(float(still_film(363.15, 303.15, 0.6, Facing.SIDE)), 2)
    5.38
    """
    rayleigh, prandtl, scale = _still(surface, air, size, atmosphere)
    upward = _upward(facing if isinstance(facing, str) else tuple(facing))
    warm_up = upward * np.where(np.asarray(surface, dtype=np.float64) < air, -1.0, 1.0)
    level = np.where(warm_up > 0, still_up_nusselt(rayleigh), still_down_nusselt(rayleigh))
    return np.where(upward == 0, still_side_nusselt(rayleigh, prandtl), level) * scale


def still_film_round(
    surface: Temperature[Real],
    air: Temperature[Real],
    diameter: Bore[Real],
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
) -> Transmittance[Array]:
    """Film of a level hose, pipe or round tank in still air.

    Formula: Nu(g |T_s − T_a| D³ ρ² Pr / (T μ²)) λ / D

    Parameters
    ----------
    surface : float or array
        Temperature of its outside, T_s [K].
    air : float or array
        Temperature of the air, T_a [K].
    diameter : float or array
        Outside diameter, foam included, D [m].
    atmosphere : float or array
        Absolute pressure of the atmosphere [Pa].

    Returns
    -------
    array
        Film coefficient, convection only [W/(m²·K)].

    Raises
    ------
    ValueError
        When the diameter is not above zero.

    Notes
    -----
    Air taken at T, the mean of surface and air. Range of nusselt.still_cylinder_nusselt.

    References
    ----------
    Churchill and Chu (1975), Int. J. Heat Mass Transfer 18, 1049; air by ISO 2533.

    Examples
    --------
    >>> round(float(still_film_round(438.15, 296.15, 0.1)), 2)
    7.29
    """
    rayleigh, prandtl, scale = _still(surface, air, diameter, atmosphere)
    return still_cylinder_nusselt(rayleigh, prandtl) * scale


def radiation_film(
    surface: Temperature[Real], surroundings: Temperature[Real], emissivity: Share[Real] = 0.9
) -> Transmittance[Array]:
    """Heat that a surface radiates, as a film coefficient.

    Formula: ε σ (T_s + T_u) (T_s² + T_u²)

    Parameters
    ----------
    surface : float or array
        Temperature of the surface, T_s [K].
    surroundings : float or array
        Temperature of what it sees, T_u [K].
    emissivity : float or array
        Emissivity, 0.9 for plastics, foam and paint, 0.1 and less for bright metal, ε [-].

    Returns
    -------
    array
        Film coefficient of radiation [W/(m²·K)].

    Notes
    -----
    Exact for a small surface in large surroundings. A clear night sky is colder than the air: a face that sees it
    loses more.

    References
    ----------
    Stefan-Boltzmann law; Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, eq. 1.9.

    Examples
    --------
    >>> round(float(radiation_film(300.817, 299.817, 0.1)), 4)
    0.6143
    """
    warm, cold = np.asarray(surface, dtype=np.float64), np.asarray(surroundings, dtype=np.float64)
    return emissivity * STEFAN_BOLTZMANN * (warm + cold) * (warm**2 + cold**2)


def combined_film(wind: Transmittance[Real], still: Transmittance[Real]) -> Transmittance[Array]:
    """Film where wind and buoyancy act together.

    Formula: (h_w³ + h_s³)^⅓

    Parameters
    ----------
    wind : float or array
        Film of the wind alone, h_w [W/(m²·K)].
    still : float or array
        Film in still air, h_s [W/(m²·K)].

    Returns
    -------
    array
        Film coefficient, convection only [W/(m²·K)].

    References
    ----------
    Churchill (1977), combined forced and free convection, AIChE Journal 23, 10.

    Examples
    --------
    >>> round(float(combined_film(10.0, 4.0)), 2)
    10.21
    """
    return np.cbrt(np.asarray(wind, dtype=np.float64) ** 3 + np.asarray(still, dtype=np.float64) ** 3)


@lru_cache(maxsize=64)
def _upward(facing: Facing | tuple[Facing, ...]) -> Array:
    """1 where a face looks up, -1 where it looks down, 0 for upright ones."""
    return np.array(_UPWARD[Facing(facing)] if isinstance(facing, str) else [_UPWARD[Facing(side)] for side in facing])


def _wind(nusselt: Callable[[Array, Array], Array], speed: Real, size: Real, air: Real, atmosphere: Real) -> Array:
    length, moving = above_zero("size", size), np.asarray(speed, dtype=np.float64)
    if np.any(moving < 0):
        raise ValueError("speed: it may not be negative.")
    viscosity, conductivity = air_viscosity(air), air_conductivity(air)
    reynolds = moving * length * air_density(air, atmosphere) / viscosity
    return nusselt(reynolds, viscosity * AIR_HEAT_CAPACITY / conductivity) * conductivity / length


def _still(surface: Real, air: Real, size: Real, atmosphere: Real) -> tuple[Array, Array, Array]:
    """Rayleigh number, Prandtl number and λ / L at the mean of surface and air."""
    length = above_zero("size", size)
    mean = 0.5 * (np.asarray(surface, dtype=np.float64) + air)
    viscosity, conductivity = air_viscosity(mean), air_conductivity(mean)
    prandtl = viscosity * AIR_HEAT_CAPACITY / conductivity
    kinematic = viscosity / air_density(mean, atmosphere)
    drive = STANDARD_GRAVITY * np.abs(np.asarray(surface, dtype=np.float64) - air) / mean
    return drive * length**3 * prandtl / kinematic**2, prandtl, conductivity / length
