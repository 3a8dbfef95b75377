"""Heating without a store: what a power does to a flow."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero
from vanwater.physics.heater import HEAT_OF_WATER
from vanwater.quantities import Array, Flow, Power, Real, Temperature, TemperatureDifference

__all__ = ["instant_flow", "instant_power", "instant_rise"]


def instant_rise(power: Power[Real], flow: Flow[Real]) -> TemperatureDifference[Array]:
    """Warming that an instant heater gives a flow.

    Formula: P / (4.186 MJ/(m³·K) · Q)

    Parameters
    ----------
    power : float or array
        Heat that reaches the water, P [W].
    flow : float or array
        Flow through the heater, Q [m³/s].

    Returns
    -------
    array
        Rise of temperature [K].

    Raises
    ------
    ValueError
        When the flow is not above zero.

    Notes
    -----
    A battery's 1.5 kW warms 5 L/min by 4 K: why a van with electric water has a store.

    References
    ----------
    Heat balance; US Department of Energy, Energy Saver, Sizing a New Water Heater.

    Examples
    --------
    >>> round(float(instant_rise(1500.0, 5e-3 / 60)), 2)
    4.3
    """
    return np.asarray(power, dtype=np.float64) / (HEAT_OF_WATER * above_zero("flow", flow))


def instant_flow(power: Power[Real], cold: Temperature[Real], warm: Temperature[Real]) -> Flow[Array]:
    """Flow that a power can warm without end.

    Formula: P / (4.186 MJ/(m³·K) · (T_w − T_c))

    Parameters
    ----------
    power : float or array
        Heat that reaches the water, P [W].
    cold : float or array
        Temperature of the cold water, T_c [K].
    warm : float or array
        Temperature wanted, T_w [K].

    Returns
    -------
    array
        Flow [m³/s].

    Raises
    ------
    ValueError
        When the temperature wanted is not above the cold one.

    References
    ----------
    Heat balance; the recovery rate of storage heaters in trade handbooks is this sum.

    Examples
    --------
    >>> round(float(instant_flow(4500.0, 283.15, 333.15)) * 3600e3, 1)
    77.4
    """
    rise = above_zero("warm", np.asarray(warm, dtype=np.float64) - cold)
    return np.asarray(power, dtype=np.float64) / (HEAT_OF_WATER * rise)


def instant_power(flow: Flow[Real], cold: Temperature[Real], warm: Temperature[Real]) -> Power[Array]:
    """Power that warms a flow without a store.

    Formula: Q · 4.186 MJ/(m³·K) · (T_w − T_c)

    Parameters
    ----------
    flow : float or array
        Flow through the heater, Q [m³/s].
    cold : float or array
        Temperature of the cold water, T_c [K].
    warm : float or array
        Temperature wanted, T_w [K].

    Returns
    -------
    array
        Heat that has to reach the water [W].

    References
    ----------
    Heat balance; US Department of Energy, Energy Saver, Sizing a New Water Heater.

    Examples
    --------
    >>> round(float(instant_power(5e-3 / 60, 285.15, 312.15)))
    9418
    """
    rise = np.asarray(warm, dtype=np.float64) - cold
    return np.asarray(flow, dtype=np.float64) * HEAT_OF_WATER * rise
