"""What the water costs the battery: energy and current behind inverter and cable, and what charging gives back."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero
from vanwater.physics._checks import efficiency as checked
from vanwater.quantities import (
    Array,
    Current,
    DailyEnergy,
    Duration,
    Energy,
    Power,
    Rate,
    Real,
    Share,
    Voltage,
)

__all__ = [
    "ac_current",
    "battery_current",
    "battery_energy",
    "charging_energy",
    "daily_energy",
]


def battery_energy(
    used: Energy[Real], inverter_efficiency: Share[Real] = 1.0, cable_efficiency: Share[Real] = 1.0
) -> Energy[Array]:
    """Energy that the battery gives for energy used behind inverter and cable.

    Formula: E / (η_i η_c)

    Parameters
    ----------
    used : float or array
        Energy at the load, E [J].
    inverter_efficiency : float or array
        Efficiency of the inverter, 1 for a load on the battery's own voltage, η_i [-].
    cable_efficiency : float or array
        Efficiency of the cable, η_c [-].

    Returns
    -------
    array
        Energy from the battery [J].

    Raises
    ------
    ValueError
        When an efficiency is not above 0 or above 1.

    Notes
    -----
    The inverter's idle power comes on top for every hour it is on.

    References
    ----------
    Energy balance; inverters 0.85 to 0.93 at load, common practice.

    Examples
    --------
    >>> round(float(battery_energy(581.39 * 3600, 0.9)) / 3600, 1)
    646.0
    """
    path = checked("inverter_efficiency", inverter_efficiency) * checked("cable_efficiency", cable_efficiency)
    return np.asarray(used, dtype=np.float64) / path


def battery_current(power: Power[Real], voltage: Voltage[Real], efficiency: Share[Real] = 1.0) -> Current[Array]:
    """Current from the battery while a load is on.

    Formula: P / (η U)

    Parameters
    ----------
    power : float or array
        Power at the load, P [W].
    voltage : float or array
        Voltage of the battery under load, U [V].
    efficiency : float or array
        Efficiency of inverter and cable together, η [-].

    Returns
    -------
    array
        Direct current [A].

    Raises
    ------
    ValueError
        When the voltage is not above zero or the efficiency is not above 0 or above 1.

    Notes
    -----
    Compare with the battery's continuous discharge limit, the fuse and the cable.

    References
    ----------
    Energy balance.

    Examples
    --------
    >>> round(float(battery_current(1300.0, 12.8, 0.9)), 2)
    112.85
    """
    return np.asarray(power, dtype=np.float64) / (checked("efficiency", efficiency) * above_zero("voltage", voltage))


def ac_current(power: Power[Real], voltage: Voltage[Real], power_factor: Share[Real] = 1.0) -> Current[Array]:
    """Alternating current of a load.

    Formula: P / (U cos φ)

    Parameters
    ----------
    power : float or array
        Power of the load, P [W].
    voltage : float or array
        Voltage, U [V].
    power_factor : float or array
        Power factor, 1 for a heating element, cos φ [-].

    Returns
    -------
    array
        Current [A].

    Raises
    ------
    ValueError
        When the voltage is not above zero or the factor is not above 0 or above 1.

    References
    ----------
    Definition of active power.

    Examples
    --------
    >>> round(float(ac_current(1300.0, 230.0)), 2)
    5.65
    """
    return np.asarray(power, dtype=np.float64) / (
        above_zero("voltage", voltage) * checked("power_factor", power_factor)
    )


def daily_energy(power: Power[Real], duration: Duration[Real], times: Rate[Real] = 1 / 86400) -> DailyEnergy[Array]:
    """Energy a day of a load: an inverter's idle hours, a heater's standby, a pump's minutes.

    Formula: P t n

    Parameters
    ----------
    power : float or array
        Power while on, P [W].
    duration : float or array
        Time on each time, t [s].
    times : float or array
        How often, once a day when left out, n [1/s].

    Returns
    -------
    array
        Energy a day, as mean power [W].

    References
    ----------
    Definition.

    Examples
    --------
    >>> round(float(daily_energy(16.0, 4 * 3600.0)) * 24, 3)
    64.0
    """
    return np.asarray(power, dtype=np.float64) * duration * times


def charging_energy(
    current: Current[Real], voltage: Voltage[Real], duration: Duration[Real], efficiency: Share[Real] = 0.95
) -> Energy[Array]:
    """Energy that charging leaves in the battery: alternator, sun or shore.

    Formula: I U t η

    Parameters
    ----------
    current : float or array
        Charging current, I [A].
    voltage : float or array
        Voltage while charging, U [V].
    duration : float or array
        Time, t [s].
    efficiency : float or array
        Share that can be drawn again, η [-].

    Returns
    -------
    array
        Energy gained [J].

    Raises
    ------
    ValueError
        When the efficiency is not above 0 or above 1.

    Notes
    -----
    0.95 for lithium iron phosphate, 0.8 to 0.85 for lead (common practice). Lithium batteries are not charged below
    freezing.

    References
    ----------
    Energy balance; efficiencies common practice.

    Examples
    --------
    >>> round(float(charging_energy(30.0, 13.8, 2 * 3600.0)) / 3600)
    787
    """
    return np.asarray(current, dtype=np.float64) * voltage * duration * checked("efficiency", efficiency)
