"""Water from supercooled to boiling at the pressure of a van, and the figures of ice.

The correlations hold at 0.1 MPa. From 1 to 5 bar density changes by 0.02 %, heat capacity, viscosity and
conductivity by 0.05 %: the pressure is left out.
"""

from __future__ import annotations

import numpy as np

from vanwater.quantities import (
    AbsolutePressure,
    Array,
    Conductivity,
    Density,
    HeatCapacity,
    LatentHeat,
    Real,
    Share,
    Temperature,
    Viscosity,
)

__all__ = [
    "FREEZING_POINT",
    "ICE_CONDUCTIVITY",
    "ICE_DENSITY",
    "ICE_HEAT_CAPACITY",
    "LATENT_HEAT_OF_FUSION",
    "conductivity",
    "density",
    "expansion_on_freezing",
    "heat_capacity",
    "vapour_pressure",
    "viscosity",
]

FREEZING_POINT: Temperature[float] = 273.15
"""Temperature at which ordinary ice melts at atmospheric pressure [K]."""

LATENT_HEAT_OF_FUSION: LatentHeat[float] = 334e3
"""Heat of fusion of ice at 0 °C [J/kg], the rounded handbook figure; IAPWS R10-06 gives 333.4 kJ/kg."""

ICE_DENSITY: Density[float] = 916.7
"""Density of ice at 0 °C [kg/m³], IAPWS R10-06 (2009), rounded."""

ICE_HEAT_CAPACITY: HeatCapacity[float] = 2097.0
"""Specific heat capacity of ice at 0 °C [J/(kg·K)], IAPWS R10-06 (2009), rounded."""

ICE_CONDUCTIVITY: Conductivity[float] = 2.2
"""Thermal conductivity of ice near 0 °C [W/(m·K)], handbook figure from memory."""

_GAS_CONSTANT = 461.51805  # J/(kg·K), as the release states it
_REFERENCE = 10.0  # K
_PRESSURE = 1e5  # Pa
_LOWEST, _HIGHEST = 253.15, 383.15
_TRIPLE, _CRITICAL = 273.15, 647.096

# SR6-08(2011), Table 1, as polynomials in α and β, highest power first, for Horner's scheme
_VOLUME_ALPHA = (8.32299658e9, -1.63552118e9, 1.00231247e8, 0.0, -2.22521604e5, 6.74458446e3, 0.0, 0.0, 0.0, 0.0)
_VOLUME_BETA = (-1.19946761e-2, 3.38713507e-2, -4.23546241e-2, 3.11337859e-2, -1.53195665e-2, 5.78545292e-3, 0.0)
_VOLUME_CONSTANT = 1.93763157e-2
# Σ n(n+1) a αⁿ⁺² and Σ m(m+1) b βᵐ⁺² of the free enthalpy, likewise
_HEAT_ALPHA = (56 * -1.557191544e8, 0.0, 30 * 2.708781640e6, 20 * -1.661470539e5) + 6 * (0.0,)
_HEAT_BETA = (30 * 8.546361348e-1, 20 * -2.017597384, 12 * 1.908956353, 6 * -8.237426256e-1) + 4 * (0.0,)
_HEAT_CONSTANT = -8.983025854
_SATURATION = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


def density(temperature: Temperature[Real]) -> Density[Array]:
    """Density of liquid water at the pressure of the air.

    Parameters
    ----------
    temperature : float or array
        Temperature of the water, T [K].

    Returns
    -------
    array
        Density [kg/m³].

    Raises
    ------
    ValueError
        When the temperature lies outside 253.15 to 383.15 K.

    Notes
    -----
    Valid from −20 to 110 °C, supercooled water included; within 0.0001 % of IAPWS-95.

    References
    ----------
    IAPWS SR6-08 (2011), Properties of Liquid Water at 0.1 MPa, specific volume.

    Examples
    --------
    >>> round(float(density(298.15)), 6)
    997.047013
    """
    kelvin = _within(temperature, _LOWEST, _HIGHEST, "density")
    alpha, beta = _REFERENCE / (593.0 - kelvin), _REFERENCE / (kelvin - 232.0)
    total = _VOLUME_CONSTANT + _horner(_VOLUME_ALPHA, alpha) + _horner(_VOLUME_BETA, beta)
    return _PRESSURE / (_GAS_CONSTANT * _REFERENCE) / total


def heat_capacity(temperature: Temperature[Real]) -> HeatCapacity[Array]:
    """Specific heat capacity of liquid water at the pressure of the air.

    Parameters
    ----------
    temperature : float or array
        Temperature of the water, T [K].

    Returns
    -------
    array
        Specific heat capacity at constant pressure [J/(kg·K)].

    Raises
    ------
    ValueError
        When the temperature lies outside 253.15 to 383.15 K.

    Notes
    -----
    Valid from −20 to 110 °C; within 0.01 % of IAPWS-95.

    References
    ----------
    IAPWS SR6-08 (2011), Properties of Liquid Water at 0.1 MPa, isobaric heat capacity.

    Examples
    --------
    >>> round(float(heat_capacity(298.15)), 5)
    4181.44618
    """
    kelvin = _within(temperature, _LOWEST, _HIGHEST, "heat capacity")
    alpha, beta = _REFERENCE / (593.0 - kelvin), _REFERENCE / (kelvin - 232.0)
    total = _horner(_HEAT_ALPHA, alpha) + _horner(_HEAT_BETA, beta)
    return -_GAS_CONSTANT * (_HEAT_CONSTANT + kelvin / _REFERENCE * total)


def viscosity(temperature: Temperature[Real]) -> Viscosity[Array]:
    """Dynamic viscosity of liquid water at the pressure of the air.

    Formula: 10⁻⁶ (280.68 t⁻¹·⁹ + 511.45 t⁻⁷·⁷ + 61.131 t⁻¹⁹·⁶ + 0.45903 t⁻⁴⁰), t = T / 300 K

    Parameters
    ----------
    temperature : float or array
        Temperature of the water, T [K].

    Returns
    -------
    array
        Dynamic viscosity [Pa·s].

    Raises
    ------
    ValueError
        When the temperature lies outside 253.15 to 383.15 K.

    Notes
    -----
    Valid from −20 to 110 °C. Water of 5 °C is three and a half times as viscous as water of 65 °C.

    References
    ----------
    IAPWS SR6-08 (2011), Properties of Liquid Water at 0.1 MPa, viscosity.

    Examples
    --------
    >>> round(float(viscosity(298.15)) * 1e6, 6)
    889.996774
    """
    scaled = np.log(_within(temperature, _LOWEST, _HIGHEST, "viscosity") / 300.0)
    return 1e-6 * (
        280.68 * np.exp(-1.9 * scaled)
        + 511.45 * np.exp(-7.7 * scaled)
        + 61.131 * np.exp(-19.6 * scaled)
        + 0.45903 * np.exp(-40.0 * scaled)
    )


def conductivity(temperature: Temperature[Real]) -> Conductivity[Array]:
    """Thermal conductivity of liquid water at the pressure of the air.

    Formula: 1.6630 t⁻¹·¹⁵ − 1.7781 t⁻³·⁴ + 1.1567 t⁻⁶ − 0.432115 t⁻⁷·⁶, t = T / 300 K

    Parameters
    ----------
    temperature : float or array
        Temperature of the water, T [K].

    Returns
    -------
    array
        Thermal conductivity [W/(m·K)].

    Raises
    ------
    ValueError
        When the temperature lies outside 273.15 to 383.15 K.

    Notes
    -----
    Valid from 0 to 110 °C: the release gives no conductivity of supercooled water.

    References
    ----------
    IAPWS SR6-08 (2011), Properties of Liquid Water at 0.1 MPa, thermal conductivity.

    Examples
    --------
    >>> round(float(conductivity(298.15)), 9)
    0.606502308
    """
    scaled = np.log(_within(temperature, _TRIPLE, _HIGHEST, "conductivity") / 300.0)
    return (
        1.6630 * np.exp(-1.15 * scaled)
        - 1.7781 * np.exp(-3.4 * scaled)
        + 1.1567 * np.exp(-6.0 * scaled)
        - 0.432115 * np.exp(-7.6 * scaled)
    )


def vapour_pressure(temperature: Temperature[Real]) -> AbsolutePressure[Array]:
    """Pressure at which water of this temperature boils.

    Formula: 10⁶ (2 C / (−B + √(B² − 4 A C)))⁴

    Parameters
    ----------
    temperature : float or array
        Temperature of the water, T [K]; A, B, C are quadratics in T + n₉ / (T − n₁₀).

    Returns
    -------
    array
        Absolute vapour pressure [Pa].

    Raises
    ------
    ValueError
        When the temperature lies outside 273.15 to 647.096 K.

    Notes
    -----
    Valid from 0 °C to the critical point.

    References
    ----------
    IAPWS R7-97 (2012), Industrial Formulation 1997, region 4, saturation-pressure equation.

    Examples
    --------
    >>> round(float(vapour_pressure(300.0)), 5)
    3536.58941
    """
    kelvin = _within(temperature, _TRIPLE, _CRITICAL, "vapour pressure")
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _SATURATION
    theta = kelvin + n9 / (kelvin - n10)
    a = (theta + n1) * theta + n2
    b = (n3 * theta + n4) * theta + n5
    c = (n6 * theta + n7) * theta + n8
    root = 2.0 * c / (np.sqrt(b * b - 4.0 * a * c) - b)
    return 1e6 * (root * root) ** 2


def expansion_on_freezing(temperature: Temperature[Real]) -> Share[Array]:
    """Growth in volume when water of this temperature has turned to ice of 0 °C.

    Formula: ρ(T) / ρ_ice − 1

    Parameters
    ----------
    temperature : float or array
        Temperature of the water before, T [K].

    Returns
    -------
    array
        Growth as a share of the water's volume [-].

    Raises
    ------
    ValueError
        When the temperature lies outside 253.15 to 383.15 K.

    Notes
    -----
    A full, closed piece of pipe has no room for it: that is what bursts fittings.

    References
    ----------
    IAPWS SR6-08 (2011) for water; IAPWS R10-06 (2009) for ice.

    Examples
    --------
    >>> round(float(expansion_on_freezing(273.15)), 4)
    0.0907
    """
    return density(temperature) / ICE_DENSITY - 1.0


def _horner(coefficients: tuple[float, ...], x: Array) -> Array:
    total = np.full_like(x, coefficients[0])
    for coefficient in coefficients[1:]:
        total = total * x + coefficient if coefficient else total * x
    return total


def _within(temperature: Real, low: float, high: float, what: str) -> Array:
    kelvin = np.asarray(temperature, dtype=np.float64)
    sound = (kelvin >= low) & (kelvin <= high)
    if not sound.all():
        worst = kelvin[~sound].flat[0] if kelvin.ndim else kelvin
        raise ValueError(
            f"temperature: {float(worst):g} K is outside the range of the {what} of water, {low:g} to {high:g} K"
            f" ({low - 273.15:g} to {high - 273.15:g} °C)."
        )
    return kelvin
