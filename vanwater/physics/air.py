"""Air as it cools tanks and hoses: density, viscosity, conductivity, Prandtl number."""

from __future__ import annotations

import math

import numpy as np

from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.quantities import AbsolutePressure, Array, Conductivity, Density, Ratio, Real, Temperature, Viscosity

__all__ = ["AIR_HEAT_CAPACITY", "air_conductivity", "air_density", "air_prandtl", "air_viscosity"]

AIR_HEAT_CAPACITY = 1006.0
"""Specific heat capacity of dry air at constant pressure, −50 to 60 °C [J/(kg·K)], handbook figure from memory."""

_GAS_CONSTANT = 287.05287  # J/(kg·K), ISO 2533
_TEN = -12.0 * math.log(10.0)


def air_density(
    temperature: Temperature[Real], atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE
) -> Density[Array]:
    """Density of dry air.

    Formula: p / (R T)

    Parameters
    ----------
    temperature : float or array
        Temperature of the air, T [K].
    atmosphere : float or array
        Absolute pressure of the atmosphere, p [Pa].

    Returns
    -------
    array
        Density [kg/m³].

    Notes
    -----
    R = 287.05287 J/(kg·K).

    References
    ----------
    ISO 2533:1975, Standard Atmosphere.

    Examples
    --------
    >>> round(float(air_density(288.15)), 4)
    1.225
    """
    return atmosphere / (_GAS_CONSTANT * np.asarray(temperature, dtype=np.float64))


def air_viscosity(temperature: Temperature[Real]) -> Viscosity[Array]:
    """Dynamic viscosity of dry air.

    Formula: 1.458·10⁻⁶ T^1.5 / (T + 110.4)

    Parameters
    ----------
    temperature : float or array
        Temperature of the air, T [K].

    Returns
    -------
    array
        Dynamic viscosity [Pa·s].

    Notes
    -----
    Sutherland's law; within 1 % of a reference equation from −60 to 120 °C (see the tests).

    References
    ----------
    ISO 2533:1975, Standard Atmosphere.

    Examples
    --------
    >>> round(float(air_viscosity(288.15)) * 1e6, 3)
    17.894
    """
    kelvin = np.asarray(temperature, dtype=np.float64)
    return 1.458e-6 * kelvin * np.sqrt(kelvin) / (kelvin + 110.4)


def air_conductivity(temperature: Temperature[Real]) -> Conductivity[Array]:
    """Thermal conductivity of dry air.

    Formula: 2.648151·10⁻³ T^1.5 / (T + 245.4·10^(−12 / T))

    Parameters
    ----------
    temperature : float or array
        Temperature of the air, T [K].

    Returns
    -------
    array
        Thermal conductivity [W/(m·K)].

    Notes
    -----
    Within 2 % of a reference equation from −60 to 120 °C (see the tests).

    References
    ----------
    ISO 2533:1975, Standard Atmosphere.

    Examples
    --------
    >>> round(float(air_conductivity(288.15)), 5)
    0.02534
    """
    kelvin = np.asarray(temperature, dtype=np.float64)
    return 2.648151e-3 * kelvin * np.sqrt(kelvin) / (kelvin + 245.4 * np.exp(_TEN / kelvin))


def air_prandtl(temperature: Temperature[Real]) -> Ratio[Array]:
    """Prandtl number of dry air.

    Formula: μ c / λ

    Parameters
    ----------
    temperature : float or array
        Temperature of the air, which gives μ and λ [K].

    Returns
    -------
    array
        Prandtl number [-].

    Notes
    -----
    c = 1006 J/(kg·K).

    References
    ----------
    Definition; ISO 2533:1975 for viscosity and conductivity.

    Examples
    --------
    >>> round(float(air_prandtl(288.15)), 3)
    0.71
    """
    return air_viscosity(temperature) * AIR_HEAT_CAPACITY / air_conductivity(temperature)
