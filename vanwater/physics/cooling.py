"""Water that cools or warms as one lump: exact exponential, its mean, the time to a temperature."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.quantities import Array, Conductance, Duration, HeatCapacity, Hours, Mass, Power, Real, Stay, Temperature

__all__ = ["WATER_HEAT_CAPACITY", "mean_temperature", "temperature_after", "time_until"]

WATER_HEAT_CAPACITY: HeatCapacity[float] = 4186.0
"""Heat that warms 1 kg of water by 1 K [J/(kg·K)] in every heat sum, where 1 L also weighs 1 kg: common practice.

The true heat of a litre lies within +0.8 and −2.1 % of it from 0 to 70 °C (see the tests); one figure for all
makes sums of heat agree with each other.
"""


def temperature_after(
    start: Temperature[Real],
    duration: Duration[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    power: Power[Real] = 0.0,
) -> Temperature[Array]:
    """Temperature of a lump of water after a time in constant surroundings.

    Formula: T_e + (T₀ − T_e) exp(−UA t / (m c)), T_e = T_o + P / UA

    Parameters
    ----------
    start : float or array
        Temperature at the start, T₀ [K].
    duration : float or array
        Time that passes, t [s].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest, T_o [K].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    mass : float or array
        Water with the water equivalent of what surrounds it, m [kg].
    power : float or array
        Heat put in, P [W].

    Returns
    -------
    array
        Temperature [K].

    Raises
    ------
    ValueError
        When conductance or mass is negative.

    Notes
    -----
    Exact for a lump of one temperature without freezing, for steps of any length. Without conductance the lump warms
    evenly. c = 4186 J/(kg·K). Without any mass it has the temperature of rest at once.

    References
    ----------
    Lumped capacity, any handbook of heat transfer, for example Incropera and DeWitt, section 5.1.

    Examples
    --------
    >>> round(float(temperature_after(281.15, 10 * 3600, 265.15, 1.787, 70.0)) - 273.15, 2)
    4.85
    """
    first, seconds, heat = (np.asarray(x, dtype=np.float64) for x in (start, duration, power))
    loses, holds = not_negative("conductance", conductance), not_negative("mass", mass) * WATER_HEAT_CAPACITY
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(holds > 0, loses * seconds / holds, np.where(seconds > 0, np.inf, 0.0))
        gone = -np.expm1(-share)
        slowed = np.where(share > 1e-12, gone / share, 1.0)  # of what even warming would give
        heated = np.where(holds > 0, heat * seconds / holds * slowed, np.where(seconds > 0, heat / loses, 0.0))
    return first + (outside - first) * gone + np.where(heat == 0, 0.0, heated)


def mean_temperature(
    start: Temperature[Real],
    duration: Stay[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    least: Temperature[Real],
) -> Temperature[Array]:
    """Mean over a time of a lump of water that follows its surroundings but is never let below a temperature.

    Formula: 1/t ∫₀ᵗ max(T_o + (T₀ − T_o) exp(−UA t / (m c)), T_l) dt

    Parameters
    ----------
    start : float or array
        Temperature at the start, T₀ [K].
    duration : float or array
        Time over which the mean is taken, t [s].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest, T_o [K].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    mass : float or array
        Water with the water equivalent of what surrounds it, m [kg].
    least : float or array
        Temperature below which it is never let, T_l [K].

    Returns
    -------
    array
        Mean temperature [K].

    Raises
    ------
    ValueError
        When conductance or mass is not above zero, or the duration is negative.

    Notes
    -----
    In closed form: it is at the least temperature on one side of the moment at which it crosses that, and the
    exponential on the other. Where the least lies above the start, it counts from the start. c = 4186 J/(kg·K).

    References
    ----------
    Lumped capacity, any handbook of heat transfer, for example Incropera and DeWitt, section 5.1; its integral.

    Examples
    --------
    >>> round(float(mean_temperature(283.15, 3 * 86400, 274.15, 2.5, 60.0, 277.15)) - 273.15, 2)
    5.05
    """
    first, rest, low = np.broadcast_arrays(*(np.asarray(x, dtype=np.float64) for x in (start, outside, least)))
    lasting = not_negative("duration", duration)
    pace = above_zero("mass", mass) * WATER_HEAT_CAPACITY / above_zero("conductance", conductance)
    falls, rises = (first >= low) & (rest < low), (first < low) & (rest > low)
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = np.where(falls | rises, pace * np.log((first - rest) / (low - rest)), np.inf)
        before = np.where(lasting > 0, np.minimum(crossing, lasting) / lasting, np.where(crossing > 0, 1.0, 0.0))
    free = rest + (first - rest) * _slowed(before * lasting / pace)
    freed = rest + (low - rest) * _slowed((1.0 - before) * lasting / pace)
    crossed = np.where(rises, before * low + (1.0 - before) * freed, before * free + (1.0 - before) * low)
    return np.where((first < low) & (rest <= low), low, crossed)


def _slowed(times: Array) -> Array:
    """Mean of the exponential over so many of its time constants."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(times > 1e-12, -np.expm1(-times) / times, 1.0)


def time_until(
    start: Temperature[Real],
    final: Temperature[Real],
    outside: Temperature[Real],
    conductance: Conductance[Real],
    mass: Mass[Real],
    power: Power[Real] = 0.0,
) -> Hours[Array]:
    """Time in which a lump of water comes to a temperature.

    Formula: m c / UA ln((T₀ − T_e) / (T₁ − T_e)), T_e = T_o + P / UA

    Parameters
    ----------
    start : float or array
        Temperature at the start, T₀ [K].
    final : float or array
        Temperature that is waited for, that of melting ice for the first ice, T₁ [K].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest, T_o [K].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    mass : float or array
        Water with the water equivalent of what surrounds it, m [kg].
    power : float or array
        Heat put in, P [W].

    Returns
    -------
    array
        Time; none when it is there already, infinite when it never comes there [s].

    Raises
    ------
    ValueError
        When the conductance is not above zero or the mass is negative.

    Notes
    -----
    A lump of one temperature without freezing; c = 4186 J/(kg·K).

    References
    ----------
    Lumped capacity; ASHRAE Handbook Fundamentals, chapter Insulation for Mechanical Systems, time needed to freeze.

    Examples
    --------
    >>> round(float(time_until(281.15, 273.15, 265.15, 1.787, 70.0)) / 3600, 1)
    31.6
    """
    loses, holds = above_zero("conductance", conductance), not_negative("mass", mass) * WATER_HEAT_CAPACITY
    first, last = np.asarray(start, dtype=np.float64), np.asarray(final, dtype=np.float64)
    rest = np.asarray(outside, dtype=np.float64) + np.asarray(power, dtype=np.float64) / loses
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = (first - rest) / (last - rest)
        waited = holds / loses * np.log(ratio)
    return np.where(first == last, 0.0, np.where(ratio > 1.0, waited, np.inf))
