"""The accumulator: a sealed gas cushion behind the pump, by Boyle's law in absolute pressures.

Gauge pressures are what a builder reads and sets; the gas obeys absolute ones, so every function asks for
the pressure of the atmosphere at the place of the reading. The gas follows p vⁿ = constant from the
pre-charge on: n = 1 when it keeps the temperature of its surroundings (slow draws), up to 1.4 when it has no
time to (a pump that cycles within seconds).
"""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero
from vanwater.physics._gas import gas_state
from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.quantities import (
    AbsolutePressure,
    Array,
    Pressure,
    PressureDifference,
    Ratio,
    Real,
    Temperature,
    Volume,
)

__all__ = [
    "drawdown",
    "gas_pressure",
    "precharge_elsewhere",
    "precharge_setting",
    "water_held",
]


def drawdown(
    volume: Volume[Real],
    precharge: Pressure[Real],
    cut_in: Pressure[Real],
    cut_out: Pressure[Real],
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
    exponent: Ratio[Real] = 1.0,
) -> Volume[Array]:
    """Water an accumulator gives between the pressure at which the pump stops and the one at which it starts.

    Formula: V ((p₀ / max(p_in, p₀))^(1/n) − (p₀ / max(p_out, p₀))^(1/n)), with p_atm added to each

    Parameters
    ----------
    volume : float or array
        Gas volume of the empty accumulator, V [m³].
    precharge : float or array
        Pre-charge as a gauge reads it, p₀ [Pa].
    cut_in : float or array
        Gauge pressure at which the switch starts the pump, p_in [Pa].
    cut_out : float or array
        Gauge pressure at which the switch stops the pump, p_out [Pa].
    atmosphere : float or array
        Absolute pressure of the atmosphere, p_atm [Pa].
    exponent : float or array
        Polytropic exponent of the gas, 1 slow to 1.4 fast, n [-].

    Returns
    -------
    array
        Water given between the switch pressures [m³].

    Raises
    ------
    ValueError
        When an absolute pressure is not above zero, the volume is negative, cut-out is not above cut-in, or n is
        outside 1 to 1.67.

    Notes
    -----
    With the pre-charge above cut-in the accumulator is empty at the pre-charge: it gives hardly less, but the
    flow stutters between pre-charge and cut-in. With the pre-charge above cut-out it gives nothing.

    References
    ----------
    Boyle's law; Pelikan (2006), What Boyle's Law means to you, The Driller, example 1.

    Examples
    --------
    >>> round(float(drawdown(1e-3, 1.3e5, 1.4e5, 2.4e5, 98945.0)) * 1e3, 4)
    0.2827
    """
    _rising(cut_in, cut_out)
    held_out = water_held(volume, precharge, cut_out, atmosphere, exponent)
    return held_out - water_held(volume, precharge, cut_in, atmosphere, exponent)


def water_held(
    volume: Volume[Real],
    precharge: Pressure[Real],
    pressure: Pressure[Real],
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
    exponent: Ratio[Real] = 1.0,
) -> Volume[Array]:
    """Water in an accumulator at a pressure.

    Formula: V (1 − (p₀ / max(p, p₀))^(1/n)), with p_atm added to each

    Parameters
    ----------
    volume : float or array
        Gas volume of the empty accumulator, V [m³].
    precharge : float or array
        Pre-charge as a gauge reads it, p₀ [Pa].
    pressure : float or array
        Gauge pressure of the water, p [Pa].
    atmosphere : float or array
        Absolute pressure of the atmosphere, p_atm [Pa].
    exponent : float or array
        Polytropic exponent of the gas, 1 slow to 1.4 fast, n [-].

    Returns
    -------
    array
        Water held [m³]; none below the pre-charge.

    Raises
    ------
    ValueError
        When an absolute pressure is not above zero, the volume is negative, or n is outside 1 to 1.67.

    References
    ----------
    Boyle's law; polytropic change of state of an ideal gas.

    Examples
    --------
    >>> round(float(water_held(1e-3, 1.3e5, 2.4e5)) * 1e3, 4)
    0.3223
    """
    size, p0, p, n = gas_state(volume, precharge, pressure, atmosphere, exponent)
    return size * (1.0 - (p0 / np.maximum(p, p0)) ** (1.0 / n))


def gas_pressure(
    volume: Volume[Real],
    precharge: Pressure[Real],
    water: Volume[Real],
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
    exponent: Ratio[Real] = 1.0,
) -> Pressure[Array]:
    """Gauge pressure of an accumulator that holds a volume of water.

    Formula: (p₀ + p_atm) (V / (V − w))ⁿ − p_atm

    Parameters
    ----------
    volume : float or array
        Gas volume of the empty accumulator, V [m³].
    precharge : float or array
        Pre-charge as a gauge reads it, p₀ [Pa].
    water : float or array
        Water in the accumulator, w [m³].
    atmosphere : float or array
        Absolute pressure of the atmosphere, p_atm [Pa].
    exponent : float or array
        Polytropic exponent of the gas, 1 slow to 1.4 fast, n [-].

    Returns
    -------
    array
        Gauge pressure [Pa].

    Raises
    ------
    ValueError
        When the water is negative or does not fit, an absolute pressure is not above zero, or n is outside 1 to 1.67.

    Notes
    -----
    The inverse of water_held from the pre-charge upwards.

    References
    ----------
    Boyle's law; polytropic change of state of an ideal gas.

    Examples
    --------
    >>> round(float(gas_pressure(1e-3, 1.3e5, 0.3e-3)) / 1e5, 4)
    2.2914
    """
    size, p0, _, n = gas_state(volume, precharge, precharge, atmosphere, exponent)
    inside = np.asarray(water, dtype=np.float64)
    if np.any((inside < 0) | (inside >= size)):
        raise ValueError("water: it must be none or more and less than the accumulator's volume.")
    return p0 * (size / (size - inside)) ** n - atmosphere


def precharge_elsewhere(
    precharge: Pressure[Real],
    atmosphere: AbsolutePressure[Real],
    temperature: Temperature[Real],
    new_atmosphere: AbsolutePressure[Real],
    new_temperature: Temperature[Real],
) -> Pressure[Array]:
    """Gauge reading of a sealed pre-charge at another altitude and temperature.

    Formula: (p + p_atm) T′ / T − p_atm′

    Parameters
    ----------
    precharge : float or array
        Pre-charge as the gauge read it when it was set, no water in, p [Pa].
    atmosphere : float or array
        Absolute pressure of the atmosphere where it was set, p_atm [Pa].
    temperature : float or array
        Temperature of the gas when it was set, T [K].
    new_atmosphere : float or array
        Absolute pressure of the atmosphere at the other place, p_atm′ [Pa].
    new_temperature : float or array
        Temperature of the gas at the other place, T′ [K].

    Returns
    -------
    array
        Gauge reading at the other place, no water in [Pa].

    Raises
    ------
    ValueError
        When an absolute pressure or temperature is not above zero.

    Notes
    -----
    Ideal gas at the same volume: the bladder lies against its stop. Leaks and seepage are left out.

    References
    ----------
    Ideal gas law.

    Examples
    --------
    >>> round(float(precharge_elsewhere(1.3e5, 101325.0, 293.15, 101325.0, 263.15)) / 1e5, 2)
    1.06
    """
    gas = above_zero("precharge with the atmosphere", np.asarray(precharge, dtype=np.float64) + atmosphere)
    new = above_zero("new_atmosphere", new_atmosphere)
    ratio = above_zero("new_temperature", new_temperature) / above_zero("temperature", temperature)
    return gas * ratio - new


def precharge_setting(
    cut_in: Pressure[Real],
    margin: PressureDifference[Real],
    atmosphere: AbsolutePressure[Real],
    temperature: Temperature[Real],
    lowest_atmosphere: AbsolutePressure[Real],
    highest_temperature: Temperature[Real],
) -> Pressure[Array]:
    """Gauge pressure to set the pre-charge to, so that it stays below cut-in on the hottest and highest day.

    Formula: (p_in − Δp + p_atm,min) T / T_max − p_atm

    Parameters
    ----------
    cut_in : float or array
        Gauge pressure at which the switch starts the pump, p_in [Pa].
    margin : float or array
        Margin kept below cut-in at the worst, Δp [Pa].
    atmosphere : float or array
        Absolute pressure of the atmosphere where it is set, p_atm [Pa].
    temperature : float or array
        Temperature of the gas when it is set, T [K].
    lowest_atmosphere : float or array
        Absolute pressure of the atmosphere at the highest place of the trip, p_atm,min [Pa].
    highest_temperature : float or array
        Highest temperature of the gas on the trip, T_max [K].

    Returns
    -------
    array
        Gauge pressure to set, no water in [Pa].

    Raises
    ------
    ValueError
        When an absolute pressure or temperature is not above zero.

    Notes
    -----
    A common switch compares with the atmosphere around it, so cut-in stays the same gauge pressure everywhere
    while the sealed gas reads higher in thin air. A small margin is common practice. The result may
    be negative when the span asked for is wider than a pre-charge can follow.

    References
    ----------
    Ideal gas law; margin: common practice.

    Examples
    --------
    >>> round(float(precharge_setting(1.4e5, 1e4, 101325.0, 293.15, 79495.0, 313.15)) / 1e5, 3)
    0.948
    """
    start = np.asarray(cut_in, dtype=np.float64) - margin
    worst = start + above_zero("lowest_atmosphere", lowest_atmosphere)
    ratio = above_zero("temperature", temperature) / above_zero("highest_temperature", highest_temperature)
    return worst * ratio - above_zero("atmosphere", atmosphere)


def _rising(cut_in: Real, cut_out: Real) -> None:
    if not np.all(np.asarray(cut_out, dtype=np.float64) > cut_in):
        raise ValueError("cut_out: expected above cut_in; are the two swapped?")
