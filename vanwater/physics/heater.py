"""The heater in closed sums: energy, recovery, litres from one charge, showers in a row.

1 L weighs 1 kg and takes 4186 J/(kg·K) in every sum (see cooling). Recovery against a steady loss or from a coolant
coil is cooling.time_until with the element's power, or with the coolant's temperature as surroundings.
"""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative, share
from vanwater.physics.cooling import WATER_HEAT_CAPACITY
from vanwater.quantities import (
    Array,
    Duration,
    Energy,
    Flow,
    Power,
    Ratio,
    Real,
    Share,
    Temperature,
    Volume,
)

__all__ = [
    "HEAT_OF_WATER",
    "charge_volume",
    "heating_energy",
    "recovery_time",
    "showers_in_a_row",
]

HEAT_OF_WATER = 1000.0 * WATER_HEAT_CAPACITY
"""Heat that warms 1 m³ of water by 1 K [J/(m³·K)]: 1 L weighs 1 kg and takes 4186 J/(kg·K), common practice."""


def heating_energy(volume: Volume[Real], cold: Temperature[Real], warm: Temperature[Real]) -> Energy[Array]:
    """Heat that warms water: a heater's whole content, or the water of one use at the tap's temperature.

    Formula: V · 4.186 MJ/(m³·K) · (T_w − T_c)

    Parameters
    ----------
    volume : float or array
        Water that is warmed, V [m³].
    cold : float or array
        Temperature of the cold water, T_c [K].
    warm : float or array
        Temperature it is warmed to, T_w [K].

    Returns
    -------
    array
        Heat [J].

    Notes
    -----
    For a use take its mixed water and its mixed temperature: cold water in the mix needs no heat.

    References
    ----------
    Heat balance; 1 kg/L and 4186 J/(kg·K) common practice.

    Examples
    --------
    >>> round(float(heating_energy(10.5e-3, 285.15, 312.15)) / 3600, 2)
    329.65
    """
    warmed = np.asarray(warm, dtype=np.float64) - cold
    return HEAT_OF_WATER * np.asarray(volume, dtype=np.float64) * warmed


def recovery_time(
    volume: Volume[Real], cold: Temperature[Real], hot: Temperature[Real], power: Power[Real]
) -> Duration[Array]:
    """Time in which a heater warms its content, loss left out.

    Formula: V · 4.186 MJ/(m³·K) · (T_s − T_c) / P

    Parameters
    ----------
    volume : float or array
        Content of the heater, V [m³].
    cold : float or array
        Temperature before, T_c [K].
    hot : float or array
        Set point, T_s [K].
    power : float or array
        Heat that reaches the water, P [W].

    Returns
    -------
    array
        Time [s].

    Raises
    ------
    ValueError
        When the power is not above zero.

    Notes
    -----
    The loss of a small, well insulated heater makes it a few per cent slower.

    References
    ----------
    Heat balance; 1 kg/L and 4186 J/(kg·K) common practice.

    Examples
    --------
    >>> round(float(recovery_time(10e-3, 285.15, 335.15, 1300.0)) / 60, 2)
    26.83
    """
    return heating_energy(volume, cold, hot) / above_zero("power", power)


def charge_volume(
    volume: Volume[Real],
    cold: Temperature[Real],
    hot: Temperature[Real],
    mixed: Temperature[Real],
    mixing: Share[Real],
) -> Volume[Array]:
    """Water at the tap's temperature from one charge of the heater, element off.

    Formula: V ((1 − x) (T_s − T_c) + x (T_s − T_m)) / (T_m − T_c)

    Parameters
    ----------
    volume : float or array
        Content of the heater, V [m³].
    cold : float or array
        Temperature of the cold water, T_c [K].
    hot : float or array
        Temperature of the charge, T_s [K].
    mixed : float or array
        Temperature wanted at the tap, T_m [K].
    mixing : float or array
        Share of the content that incoming cold water stirs: 0 plug flow, 1 fully mixed, x [-].

    Returns
    -------
    array
        Mixed water at or above that temperature [m³].

    Raises
    ------
    ValueError
        When the wanted temperature is not between cold and hot, or the share is outside 0 to 1.

    Notes
    -----
    The stirring is unsure: some 0.25, 0.1 to 0.45 (common practice, from memory), between the limits 0 and 1. A stirred
    part gives until it has fallen to T_m, the rest is pushed out hot; so does heater_tank, step by step.

    References
    ----------
    Heat balance of a plug and of a stirred part.

    Examples
    --------
    >>> [round(float(charge_volume(10e-3, 285.15, 335.15, 312.15, share)) * 1e3, 2) for share in (1, 0)]
    [8.52, 18.52]
    """
    stirred = share("mixing", mixing)
    low, high, wanted = _between(cold, hot, mixed)
    useful = (1.0 - stirred) * (high - low) + stirred * (high - wanted)
    return np.asarray(volume, dtype=np.float64) * useful / (wanted - low)


def showers_in_a_row(
    charge: Volume[Real],
    shower: Volume[Real],
    lasting: Duration[Real],
    pause: Duration[Real],
    reheating: Flow[Real],
) -> Ratio[Array]:
    """Whole showers one after another with the element on.

    Formula: ⌊(V_c − q t_p) / (V_s − q (t_s + t_p))⌋

    Parameters
    ----------
    charge : float or array
        Water at the tap's temperature from one charge, V_c [m³].
    shower : float or array
        Mixed water of a shower, V_s [m³].
    lasting : float or array
        Time a shower takes, t_s [s].
    pause : float or array
        Time between two showers, t_p [s].
    reheating : float or array
        Mixed water that the element warms meanwhile, q [m³/s].

    Returns
    -------
    array
        Showers, whole; infinite when the element keeps up [-].

    Raises
    ------
    ValueError
        When the shower takes no water, or a time or flow is negative.

    Notes
    -----
    By the heat alone; where it lies in the tank, the layered tank tells.

    References
    ----------
    Heat balance over n showers and n − 1 pauses.

    Examples
    --------
    >>> float(showers_in_a_row(18.52e-3, 10.5e-3, 300.0, 60.0, 1300.0 / (4186e3 * 27)))
    2.0
    """
    stored, each = np.asarray(charge, dtype=np.float64), above_zero("shower", shower)
    long, wait = not_negative("lasting", lasting), not_negative("pause", pause)
    warmed = not_negative("reheating", reheating)
    short = each - warmed * (long + wait)  # what each further shower takes from the store
    first = stored + warmed * long >= each * (1.0 - 1e-12)
    with np.errstate(divide="ignore", invalid="ignore"):
        count = np.where(short > 0, np.floor((stored - warmed * wait) / short * (1.0 + 1e-12)), np.inf)
    return np.where(first, np.maximum(count, 1.0), 0.0)


def _between(cold: Real, hot: Real, mixed: Real) -> tuple[Array, Array, Array]:
    low, high, wanted = (np.asarray(x, dtype=np.float64) for x in (cold, hot, mixed))
    if not (np.all(low < wanted) and np.all(wanted <= high)):
        raise ValueError("mixed: expected above the cold water and not above the hot.")
    return low, high, wanted
