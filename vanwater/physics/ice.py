"""Water and ice as one lump, by the heat it holds: exact steps through cooling, freezing, thawing.

The state is the heat of the lump above water of 0 °C: positive in liquid water, negative while ice forms, and
below −m r in ice that is colder than 0 °C. The wall counts as a mass of water that does not freeze.
"""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative, share
from vanwater.physics._lump import Lump, advanced, passage
from vanwater.physics.water import FREEZING_POINT, LATENT_HEAT_OF_FUSION
from vanwater.quantities import Array, Conductance, Duration, Energy, Hours, Mass, Power, Real, Share, Temperature

__all__ = ["heat_after", "heat_content", "ice_share", "lump_temperature", "time_to_ice"]


def heat_content(
    temperature: Temperature[Real], ice_share: Share[Real], mass: Mass[Real], wall: Mass[Real] = 0.0
) -> Energy[Array]:
    """Heat of a lump above water of 0 °C.

    Formula: (m + m_w) c max(T − 273.15, 0) − x m r + (m c_ice + m_w c) min(T − 273.15, 0)

    Parameters
    ----------
    temperature : float or array
        Temperature of the lump, T [K].
    ice_share : float or array
        Share of the water that is ice, x [-].
    mass : float or array
        Mass of water and ice, m [kg].
    wall : float or array
        Water equivalent of the wall, m_w [kg].

    Returns
    -------
    array
        Heat; negative with ice [J].

    Raises
    ------
    ValueError
        When water is colder than 0 °C or ice is warmer, the share is outside 0 to 1, or the lump has no mass.

    Notes
    -----
    c = 4186, c_ice = 2097 J/(kg·K), r = 334 kJ/kg.

    References
    ----------
    IAPWS R10-06 (2009) for ice, rounded; Mooney, Introduction to Thermodynamics and Heat Transfer, example 3.4.

    Examples
    --------
    >>> round(float(heat_content(273.15, 0.1, 70.0)) / 1e3)
    -2338
    """
    above, frozen = np.asarray(temperature, dtype=np.float64) - FREEZING_POINT, share("ice_share", ice_share)
    if np.any((above < 0) & (frozen < 1)) or np.any((above > 0) & (frozen > 0)):
        raise ValueError("temperature, ice_share: below 0 °C all of it is ice, above it none.")
    lump = Lump.of(mass, wall)
    return lump.liquid * np.maximum(above, 0.0) - frozen * lump.fusion + lump.frozen * np.minimum(above, 0.0)


def lump_temperature(heat: Energy[Real], mass: Mass[Real], wall: Mass[Real] = 0.0) -> Temperature[Array]:
    """Temperature of a lump by its heat.

    Formula: 273.15 + max(H, 0) / ((m + m_w) c) + min(H + m r, 0) / (m c_ice + m_w c)

    Parameters
    ----------
    heat : float or array
        Heat above water of 0 °C, H [J].
    mass : float or array
        Mass of water and ice, m [kg].
    wall : float or array
        Water equivalent of the wall, m_w [kg].

    Returns
    -------
    array
        Temperature; 0 °C while ice and water lie together [K].

    Raises
    ------
    ValueError
        When the lump has no mass, or the wall is negative.

    Notes
    -----
    c = 4186, c_ice = 2097 J/(kg·K), r = 334 kJ/kg.

    References
    ----------
    IAPWS R10-06 (2009) for ice, rounded.

    Examples
    --------
    >>> round(float(lump_temperature(4186.0 * 70 * 8, 70.0)), 2)
    281.15
    """
    lump, held = Lump.of(mass, wall), np.asarray(heat, dtype=np.float64)
    cold = np.minimum(held + lump.fusion, 0.0) / lump.frozen
    return FREEZING_POINT + np.maximum(held, 0.0) / lump.liquid + cold


def ice_share(heat: Energy[Real], mass: Mass[Real]) -> Share[Array]:
    """Share of the water that is ice, by the heat of the lump.

    Formula: min(max(−H / (m r), 0), 1)

    Parameters
    ----------
    heat : float or array
        Heat above water of 0 °C, H [J].
    mass : float or array
        Mass of water and ice, m [kg].

    Returns
    -------
    array
        Share that is ice [-].

    Raises
    ------
    ValueError
        When the mass is not above zero.

    Notes
    -----
    r = 334 kJ/kg.

    References
    ----------
    IAPWS R10-06 (2009), rounded.

    Examples
    --------
    >>> round(float(ice_share(-2338e3, 70.0)), 3)
    0.1
    """
    fusion = above_zero("mass", mass) * LATENT_HEAT_OF_FUSION
    return np.clip(-np.asarray(heat, dtype=np.float64) / fusion, 0.0, 1.0)


def heat_after(
    heat: Energy[Real],
    duration: Duration[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    wall: Mass[Real] = 0.0,
    power: Power[Real] = 0.0,
) -> Energy[Array]:
    """Heat of a lump after a time in constant surroundings, through freezing and thawing.

    Parameters
    ----------
    heat : float or array
        Heat above water of 0 °C at the start [J].
    duration : float or array
        Time that passes [s].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest [K].
    conductance : float or array
        Heat lost for each degree [W/K].
    mass : float or array
        Mass of water and ice [kg].
    wall : float or array
        Water equivalent of the wall [kg].
    power : float or array
        Heat put in [W].

    Returns
    -------
    array
        Heat above water of 0 °C at the end [J].

    Raises
    ------
    ValueError
        When the lump has no mass, or duration or conductance is negative.

    Notes
    -----
    Exact for a step of any length: exponential in water and in ice, straight in between. One temperature in the
    lump; the ice's own resistance is left out.

    References
    ----------
    Lumped capacity with the enthalpy as state (enthalpy method).

    Examples
    --------
    >>> start = heat_content(281.15, 0.0, 70.0)
    >>> round(float(ice_share(heat_after(start, 77 * 3600.0, 265.15, 1.787, 70.0), 70.0)), 3)
    0.1
    """
    held = np.asarray(heat, dtype=np.float64)
    seconds, loses = not_negative("duration", duration), not_negative("conductance", conductance)
    inflow = loses * (np.asarray(outside, dtype=np.float64) - FREEZING_POINT) + power
    return advanced(held, seconds, inflow, loses, Lump.of(mass, wall))


def time_to_ice(
    start: Temperature[Real],
    ice_share: Share[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    wall: Mass[Real] = 0.0,
) -> Hours[Array]:
    """Time in which water cools to 0 °C and a share of it freezes.

    Formula: (m + m_w) c / UA ln((T₀ − T_o) / (273.15 − T_o)) + x m r / (UA (273.15 − T_o))

    Parameters
    ----------
    start : float or array
        Temperature at the start, T₀ [K].
    ice_share : float or array
        Share of the water that has turned to ice, 0 for the first ice, x [-].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest, T_o [K].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    mass : float or array
        Mass of the water, m [kg].
    wall : float or array
        Water equivalent of the wall, m_w [kg].

    Returns
    -------
    array
        Time; infinite when it does not come so far [s].

    Raises
    ------
    ValueError
        When the start is below 0 °C, the share outside 0 to 1, or the lump has no mass.

    Notes
    -----
    A tank, hose, valve, pump or trap full of still water. c = 4186 J/(kg·K), r = 334 kJ/kg. A burst needs a closed
    piece and some share of ice, so the first is the safe side.

    References
    ----------
    Lumped capacity; heat of fusion: IAPWS R10-06 (2009), rounded.

    Examples
    --------
    >>> round(float(time_to_ice(281.15, 0.1, 265.15, 1.787, 70.0)) / 3600, 1)
    77.0
    """
    frozen, loses = share("ice_share", ice_share), not_negative("conductance", conductance)
    lump = Lump.of(mass, wall)
    inflow = loses * (np.asarray(outside, dtype=np.float64) - FREEZING_POINT)
    return passage(heat_content(start, 0.0, mass, wall), -frozen * lump.fusion, inflow, loses, lump)
