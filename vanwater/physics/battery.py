"""The battery as a store of energy: what may be used of it, and how long it lasts."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Charge, DailyEnergy, Energy, Real, Share, Stay, Voltage

__all__ = ["battery_days", "usable_energy"]


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
        Time until it is empty, infinite where charging covers the loads [s].

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
    falling = net > 0
    return np.where(falling, usable / np.where(falling, net, 1.0), np.inf)
