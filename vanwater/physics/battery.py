"""The battery as a store of energy: what may be used of it, and how long it lasts."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Charge, DailyEnergy, Energy, Ratio, Real, Share, Stay, Voltage

__all__ = ["battery_days", "battery_share", "usable_energy"]


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
