"""Heat through hoses and pipes, and the heat their walls hold."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics._checks import above_zero
from vanwater.physics._skin import settled_film
from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.physics.cooling import WATER_HEAT_CAPACITY
from vanwater.physics.film import combined_film, radiation_film, still_film_round, wind_film_round
from vanwater.quantities import (
    AbsolutePressure,
    Array,
    Bore,
    Conductance,
    Conductivity,
    Density,
    HeatCapacity,
    Length,
    Mass,
    Real,
    Share,
    Speed,
    Temperature,
    Thickness,
    Transmittance,
)

__all__ = [
    "Pipe",
    "critical_foam",
    "pipe_conductance",
    "pipe_conductance_in_air",
    "water_equivalent",
]

_USUAL = 10.0  # W/(m²·K), buoyancy and radiation at the start


@dataclass(frozen=True, slots=True, kw_only=True)
class Pipe:
    """A hose or pipe with its foam.

    Parameters
    ----------
    length : float or array
        Length [m].
    bore : float or array
        Bore [m].
    outside : float or array
        Outside diameter of the bare pipe [m].
    wall_conductivity : float or array
        Thermal conductivity of its wall [W/(m·K)].
    foam : float or array
        Thickness of the foam around it, 0 for none [m].
    foam_conductivity : float or array
        Thermal conductivity of the foam [W/(m·K)].
    emissivity : float or array
        Emissivity of the outside [-].
    """

    length: Length[Real]
    bore: Bore[Real]
    outside: Bore[Real]
    wall_conductivity: Conductivity[Real]
    foam: Thickness[Real] = 0.0
    foam_conductivity: Conductivity[Real] = 0.04
    emissivity: Share[Real] = 0.9


def pipe_conductance(
    length: Length[Real],
    bore: Bore[Real],
    outside: Bore[Real],
    wall_conductivity: Conductivity[Real],
    foam: Thickness[Real],
    foam_conductivity: Conductivity[Real],
    outside_film: Transmittance[Real],
    inside_film: Transmittance[Real] = np.inf,
) -> Conductance[Array]:
    """Heat that passes the wall of a hose or pipe for each degree.

    Formula: π L / (1 / (d h_i) + ln(D / d) / (2 λ_w) + ln((D + 2 e) / D) / (2 λ_f) + 1 / ((D + 2 e) h_o))

    Parameters
    ----------
    length : float or array
        Length, L [m].
    bore : float or array
        Bore, d [m].
    outside : float or array
        Outside diameter of the bare pipe, D [m].
    wall_conductivity : float or array
        Thermal conductivity of the wall, λ_w [W/(m·K)].
    foam : float or array
        Thickness of the foam, or 0, e [m].
    foam_conductivity : float or array
        Thermal conductivity of the foam, λ_f [W/(m·K)].
    outside_film : float or array
        Film on the air's side, convection and radiation, h_o [W/(m²·K)].
    inside_film : float or array
        Film on the water's side, infinite when left out, h_i [W/(m²·K)].

    Returns
    -------
    array
        Conductance [W/K].

    Raises
    ------
    ValueError
        When the outside is below the bore, a film, bore or conductivity is not above zero, or the foam is negative.

    Notes
    -----
    Round layers without gaps. The inside film of water hardly counts in a hose.

    References
    ----------
    Cylindrical layers in series, any handbook of heat transfer, for example Cengel, example 3-8.

    Examples
    --------
    >>> round(float(pipe_conductance(1.0, 0.05, 0.055, 80.0, 0.03, 0.05, 18.0, 60.0)) * 315, 1)
    120.8
    """
    inner = _inner(bore, outside, wall_conductivity, foam, foam_conductivity)
    skin = np.asarray(outside, dtype=np.float64) + 2.0 * np.asarray(foam, dtype=np.float64)
    films = 1.0 / (bore * above_zero("inside_film", inside_film)) + 1.0 / (
        skin * above_zero("outside_film", outside_film)
    )
    return np.pi * np.asarray(length, dtype=np.float64) / (inner + films)


def pipe_conductance_in_air(
    inside: Temperature[Real],
    air: Temperature[Real],
    pipe: Pipe,
    speed: Speed[Real] = 0.0,
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
) -> Conductance[Array]:
    """Conductance of a hose or pipe by the air and the wind across it.

    Formula: π L / (ln(D / d) / (2 λ_w) + ln((D + 2 e) / D) / (2 λ_f) + 1 / ((D + 2 e) h_o))

    Parameters
    ----------
    inside : float or array
        Temperature of the water [K].
    air : float or array
        Temperature of the air [K].
    pipe : Pipe
        Length L, bore d, outside D, foam e and their conductivities.
    speed : float or array
        Speed of the air across the pipe, 0 for still [m/s].
    atmosphere : float or array
        Absolute pressure of the atmosphere [Pa].

    Returns
    -------
    array
        Conductance [W/K].

    Raises
    ------
    ValueError
        When the outside is below the bore, a size or conductivity is not above zero, or the speed is negative.

    Notes
    -----
    h_o = (h_wind³ + h_still³)^⅓ + h_radiation; the temperature of the skin is found by repeating the sum until it
    lies within 3e-5 of its height above the air.

    References
    ----------
    Churchill and Bernstein (1977) for wind, Churchill and Chu (1975) for still air.

    Examples
    --------
    >>> hose = Pipe(length=1.0, bore=10e-3, outside=15e-3, wall_conductivity=0.2, foam=9e-3, foam_conductivity=0.038)
    >>> round(float(1 / pipe_conductance_in_air(281.15, 265.15, hose, speed=1.5)), 2)
    3.98
    """
    warm, cold = np.asarray(inside, dtype=np.float64), np.asarray(air, dtype=np.float64)
    inner = _inner(pipe.bore, pipe.outside, pipe.wall_conductivity, pipe.foam, pipe.foam_conductivity)
    skin = np.asarray(pipe.outside, dtype=np.float64) + 2.0 * np.asarray(pipe.foam, dtype=np.float64)
    wind = wind_film_round(speed, skin, cold, atmosphere)

    def film(excess: Array) -> Array:
        surface = cold + excess
        still = still_film_round(surface, cold, skin, atmosphere)
        return skin * (combined_film(wind, still) + radiation_film(surface, cold, pipe.emissivity))

    outer = settled_film(warm - cold, inner, film, skin * (wind + _USUAL))
    return np.pi * np.asarray(pipe.length, dtype=np.float64) / (inner + 1.0 / outer)


def critical_foam(
    outside: Bore[Real], foam_conductivity: Conductivity[Real], outside_film: Transmittance[Real]
) -> Thickness[Array]:
    """Thickness of foam at which a thin pipe loses most.

    Formula: max(λ_f / h_o − D / 2, 0)

    Parameters
    ----------
    outside : float or array
        Outside diameter of the bare pipe, D [m].
    foam_conductivity : float or array
        Thermal conductivity of the foam, λ_f [W/(m·K)].
    outside_film : float or array
        Film on the air's side, convection and radiation, h_o [W/(m²·K)].

    Returns
    -------
    array
        Thickness with most loss; zero when every foam helps [m].

    Raises
    ------
    ValueError
        When the film is not above zero.

    Notes
    -----
    Foam thinner than this makes a bare thin pipe lose more. It matters below some 10 mm in still air only.

    References
    ----------
    Critical radius of insulation; Incropera and DeWitt, example 3.5.

    Examples
    --------
    >>> round(float(critical_foam(10e-3, 0.055, 5.0)) * 1e3, 3)
    6.0
    """
    radius = np.asarray(foam_conductivity, dtype=np.float64) / above_zero("outside_film", outside_film)
    return np.maximum(radius - 0.5 * np.asarray(outside, dtype=np.float64), 0.0)


def water_equivalent(
    length: Length[Real],
    bore: Bore[Real],
    outside: Bore[Real],
    wall_density: Density[Real],
    wall_heat_capacity: HeatCapacity[Real],
) -> Mass[Array]:
    """Water that would hold as much heat as the wall of a hose or pipe.

    Formula: L π/4 (D² − d²) ρ c / 4186

    Parameters
    ----------
    length : float or array
        Length, L [m].
    bore : float or array
        Bore, d [m].
    outside : float or array
        Outside diameter, D [m].
    wall_density : float or array
        Density of the wall, ρ [kg/m³].
    wall_heat_capacity : float or array
        Specific heat capacity of the wall, c [J/(kg·K)].

    Returns
    -------
    array
        Water equivalent of the wall [kg].

    Raises
    ------
    ValueError
        When the outside is below the bore.

    Notes
    -----
    The wall of a hose holds a third to two thirds as much heat as the water in it.

    References
    ----------
    Calorimetry: water equivalent.

    Examples
    --------
    >>> round(float(water_equivalent(1.0, 10e-3, 15e-3, 1000.0, 2000.0)), 4)
    0.0469
    """
    inner, outer = (np.asarray(size, dtype=np.float64) for size in (bore, outside))
    if not np.all(outer >= inner):
        raise ValueError("outside: expected the bore or more.")
    wall = np.asarray(length, dtype=np.float64) * (np.pi / 4.0) * (outer**2 - inner**2)
    return wall * wall_density * wall_heat_capacity / WATER_HEAT_CAPACITY


def _inner(bore: Real, outside: Real, wall_conductivity: Real, foam: Real, foam_conductivity: Real) -> Array:
    """Resistance from the water to the skin, times π and the length."""
    inner, outer = above_zero("bore", bore), np.asarray(outside, dtype=np.float64)
    thick = np.asarray(foam, dtype=np.float64)
    if not np.all(outer >= inner):
        raise ValueError("outside: expected the bore or more.")
    if not np.all(thick >= 0):
        raise ValueError(f"foam: {float(np.min(thick)):g} m, expected none or more.")
    wall = np.log(outer / inner) / (2.0 * above_zero("wall_conductivity", wall_conductivity))
    return wall + np.log1p(2.0 * thick / outer) / (2.0 * above_zero("foam_conductivity", foam_conductivity))
