"""The battery as a store of energy: what may be used of it, in the cold and at high currents, and how long it lasts."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, share
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import (
    Array,
    Charge,
    Current,
    DailyEnergy,
    Energy,
    Hours,
    Ratio,
    Real,
    Share,
    Stay,
    Temperature,
    Voltage,
)

__all__ = ["battery_days", "battery_share", "capacity_at_current", "capacity_in_cold", "usable_energy"]

_WARM = FREEZING_POINT + 25.0


def usable_energy(voltage: Voltage[Real], charge: Charge[Real], usable_share: Share[Real]) -> Energy[Array]:
    """Energy that may be taken from a full battery.

    Formula: U C s

    Parameters
    ----------
    voltage : float or array
        Nominal voltage, U [V].
    charge : float or array
        Capacity, C [C].
    usable_share : float or array
        Share of the capacity that may be used, s [-].

    Returns
    -------
    array
        Usable energy [J].

    Notes
    -----
    At the nominal voltage and rated capacity; cold and high currents take some of it.

    References
    ----------
    Definition of electrical energy.

    Examples
    --------
    >>> round(float(usable_energy(12.8, 200 * 3600.0, 0.9)) / 3600.0)
    2304
    """
    return np.asarray(voltage, dtype=np.float64) * charge * usable_share


def battery_share(energy: Energy[Real], usable: Energy[Real]) -> Ratio[Array]:
    """Share of a full battery that something takes.

    Formula: E / E_usable

    Parameters
    ----------
    energy : float or array
        Energy taken from the battery, E [J].
    usable : float or array
        Energy that may be taken of it, E_usable [J].

    Returns
    -------
    array
        Share; above 1 where the battery cannot give it [-].

    Raises
    ------
    ValueError
        When nothing of the battery is usable.

    References
    ----------
    Definition of a share.

    Examples
    --------
    >>> round(float(battery_share(383.53 * 3600.0, 2304 * 3600.0)), 4)
    0.1665
    """
    whole = np.asarray(usable, dtype=np.float64)
    if np.any(whole <= 0):
        raise ValueError("usable: expected above zero; a battery without usable energy has no share")
    return np.asarray(energy, dtype=np.float64) / whole


def battery_days(usable: Energy[Real], daily_net: DailyEnergy[Real]) -> Stay[Array]:
    """Days a battery lasts under a steady daily balance.

    Formula: E / P, unlimited where P ≤ 0

    Parameters
    ----------
    usable : float or array
        Energy that may be taken, E [J].
    daily_net : float or array
        Loads less what is put back, as a mean over the day, P [W].

    Returns
    -------
    array
        Time until it is empty; infinite where charging covers the loads, not known where the loads are not [s].

    Notes
    -----
    Means over days; clouds and cold come as they like.

    References
    ----------
    Energy balance.

    Examples
    --------
    >>> round(float(battery_days(2304 * 3600.0, 501 * 3600.0 / 86400)) / 86400, 2)
    4.6
    """
    net = np.asarray(daily_net, dtype=np.float64)
    falling = ~(net <= 0)
    with np.errstate(over="ignore"):  # next to nothing is taken: unlimited
        return np.where(falling, usable / np.where(falling, net, 1.0), np.inf)


def capacity_in_cold(
    temperature: Temperature[Real], at_freezing: Share[Real], at_minus_10: Share[Real], at_minus_20: Share[Real]
) -> Share[Array]:
    """Share of its capacity that a battery still gives in the cold.

    Formula: straight lines through (25 °C, 1), (0 °C, s₀), (−10 °C, s₁₀), (−20 °C, s₂₀)

    Parameters
    ----------
    temperature : float or array
        Temperature of its cells, T [K].
    at_freezing : float or array
        Share at 0 °C, s₀ [-].
    at_minus_10 : float or array
        Share at −10 °C, s₁₀ [-].
    at_minus_20 : float or array
        Share at −20 °C, s₂₀ [-].

    Returns
    -------
    array
        Share; 1 above 25 °C, no less than none below −20 °C [-].

    Raises
    ------
    ValueError
        When a share is outside 0 to 1.

    Notes
    -----
    At a moderate current. Below −20 °C the last line goes on; many batteries' own electronics switch off there.

    References
    ----------
    Straight lines between the points of a data sheet; common practice.

    Examples
    --------
    >>> round(float(capacity_in_cold(268.15, 0.92, 0.82, 0.65)), 3)
    0.87
    """
    cold, cool, colder = (
        share("at_freezing", at_freezing),
        share("at_minus_10", at_minus_10),
        share("at_minus_20", at_minus_20),
    )
    below = np.asarray(temperature, dtype=np.float64) - FREEZING_POINT
    above_freezing = cold + (1.0 - cold) * below / (_WARM - FREEZING_POINT)
    to_minus_10 = cold + (cold - cool) * below / 10.0
    further = cool + (cool - colder) * (below + 10.0) / 10.0
    left = np.where(below >= 0.0, above_freezing, np.where(below >= -10.0, to_minus_10, further))
    return np.clip(left, 0.0, 1.0)


def capacity_at_current(
    charge: Charge[Real], current: Current[Real], rated: Hours[Real], exponent: Ratio[Real]
) -> Share[Array]:
    """Share of its rated capacity that a battery gives at a steady current.

    Formula: min(1, (C / (t_r I))^(k − 1))

    Parameters
    ----------
    charge : float or array
        Rated capacity, C [C].
    current : float or array
        Current that is drawn, I [A].
    rated : float or array
        Time in which the capacity was read, t_r [s].
    exponent : float or array
        Peukert's exponent, k [-].

    Returns
    -------
    array
        Share; never more than was read [-].

    Raises
    ------
    ValueError
        When capacity, current or time is not above zero.

    Notes
    -----
    k is 1.10 to 1.25 for lead, near 1 for lithium iron phosphate (common practice). What a high current leaves behind
    comes back in part while the battery rests.

    References
    ----------
    W. Peukert (1897), Elektrotechnische Zeitschrift 20, 287, as handbooks of batteries give it; from memory.

    Examples
    --------
    >>> round(float(capacity_at_current(100 * 3600.0, 100.0, 20 * 3600.0, 1.15)), 3)
    0.638
    """
    steady = above_zero("charge", charge) / above_zero("rated", rated)
    return np.minimum((steady / above_zero("current", current)) ** (np.asarray(exponent, dtype=np.float64) - 1.0), 1.0)
