"""Cables: their resistance, the voltage they lose, what is left at their end."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.quantities import Array, Current, Length, Power, Real, Resistance, Section, Share, Temperature, Voltage

__all__ = ["cable_efficiency", "cable_resistance", "most_power", "voltage_at_load", "voltage_drop"]

_COPPER = 1.7241e-8  # Ω·m at 20 °C, annealed copper, IEC 60028
_PER_KELVIN = 3.93e-3
_ROOM = 293.15
_ROUNDED = 1e-12
"""Share of the voltage's square by which the most that a cable can carry is missed by the last digit."""


def cable_resistance(
    length: Length[Real], section: Section[Real], temperature: Temperature[Real] = _ROOM
) -> Resistance[Array]:
    """Resistance of a copper cable there and back.

    Formula: 2 L ρ (1 + 0.00393 (T − 293.15)) / A

    Parameters
    ----------
    length : float or array
        Length of the cable one way, L [m].
    section : float or array
        Cross-section of one conductor, A [m²].
    temperature : float or array
        Temperature of the copper, T [K].

    Returns
    -------
    array
        Resistance of both conductors [Ω].

    Raises
    ------
    ValueError
        When the length is negative or the section is not above zero.

    Notes
    -----
    ρ = 1.7241·10⁻⁸ Ω·m at 20 °C. Where the chassis is the way back it is somewhat less. Crimps, fuses and switches add
    some milliohms.

    References
    ----------
    IEC 60028, International standard of resistance for copper.

    Examples
    --------
    >>> round(float(cable_resistance(5.0, 2.5e-6)) * 1e3, 1)
    69.0
    """
    run = not_negative("length", length)
    warmed = 1.0 + _PER_KELVIN * (np.asarray(temperature, dtype=np.float64) - _ROOM)
    return 2.0 * run * _COPPER * warmed / above_zero("section", section)


def voltage_drop(current: Current[Real], resistance: Resistance[Real]) -> Voltage[Array]:
    """Voltage lost in a cable.

    Formula: I R

    Parameters
    ----------
    current : float or array
        Current, I [A].
    resistance : float or array
        Resistance of the cable there and back, R [Ω].

    Returns
    -------
    array
        Voltage lost [V].

    Notes
    -----
    A pump at the end of the cable has the battery's voltage less this: its curve moves down. 3 % is common practice for
    pumps and lights.

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> round(float(voltage_drop(7.0, 0.069)), 3)
    0.483
    """
    return np.asarray(current, dtype=np.float64) * resistance


def voltage_at_load(power: Power[Real], source: Voltage[Real], resistance: Resistance[Real]) -> Voltage[Array]:
    """Voltage at the end of a cable behind which a load takes a constant power, such as an inverter.

    Formula: U/2 + √(U²/4 − P R)

    Parameters
    ----------
    power : float or array
        Power the load takes, P [W].
    source : float or array
        Voltage of the battery, U [V].
    resistance : float or array
        Resistance of the cable there and back, R [Ω].

    Returns
    -------
    array
        Voltage at the load [V].

    Raises
    ------
    ValueError
        When the cable cannot carry that power.

    Notes
    -----
    A load of constant power draws more current as its voltage falls; compare with the inverter's cut-out voltage.

    References
    ----------
    Ohm's law; the larger root of P = (U − U_l) U_l / R.

    Examples
    --------
    >>> round(float(voltage_at_load(1440.0, 12.8, 0.004)), 2)
    12.33
    """
    open_voltage = np.asarray(source, dtype=np.float64)
    under = 0.25 * open_voltage**2 - np.asarray(power, dtype=np.float64) * resistance
    if np.any(under < -_ROUNDED * open_voltage**2):
        raise ValueError("power: more than the cable can carry at this voltage.")
    return 0.5 * open_voltage + np.sqrt(np.maximum(under, 0.0))


def most_power(source: Voltage[Real], resistance: Resistance[Real]) -> Power[Array]:
    """Most power that a cable can bring to a load at all.

    Formula: U² / (4 R)

    Parameters
    ----------
    source : float or array
        Voltage of the battery, U [V].
    resistance : float or array
        Resistance of the cable there and back, R [Ω].

    Returns
    -------
    array
        Power at half of the voltage [W].

    Raises
    ------
    ValueError
        When the resistance is not above zero.

    References
    ----------
    Maximum power transfer, any textbook of circuits.

    Examples
    --------
    >>> round(float(most_power(12.8, 0.069)))
    594
    """
    return 0.25 * np.asarray(source, dtype=np.float64) ** 2 / above_zero("resistance", resistance)


def cable_efficiency(drop: Voltage[Real], source: Voltage[Real]) -> Share[Array]:
    """Share of the battery's energy that reaches the end of a cable.

    Formula: 1 − ΔU / U

    Parameters
    ----------
    drop : float or array
        Voltage lost in the cable, ΔU [V].
    source : float or array
        Voltage of the battery, U [V].

    Returns
    -------
    array
        Efficiency [-].

    Raises
    ------
    ValueError
        When the source is not above zero.

    References
    ----------
    Ohm's law.

    Examples
    --------
    >>> round(float(cable_efficiency(0.47, 12.8)), 3)
    0.963
    """
    return 1.0 - np.asarray(drop, dtype=np.float64) / above_zero("source", source)
