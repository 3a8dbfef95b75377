"""Frost: what holds a tank above freezing, what a pad can do, how long ice takes."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, share
from vanwater.physics.water import FREEZING_POINT, LATENT_HEAT_OF_FUSION
from vanwater.quantities import Array, Conductance, DailyEnergy, Hours, Mass, Power, Ratio, Real, Share, Temperature

__all__ = ["freezing_time", "holding_power", "lowest_cold", "pad_duty", "pad_energy", "smallest_pad"]


def holding_power(conductance: Conductance[Real], hold: Temperature[Real], outside: Temperature[Real]) -> Power[Array]:
    """Heat that has to reach the water to hold it at a temperature.

    Formula: max(UA (T_h − T_o), 0)

    Parameters
    ----------
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    hold : float or array
        Temperature to hold, T_h [K].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest, T_o [K].

    Returns
    -------
    array
        Heat needed in the water [W].

    Notes
    -----
    Without wind on one side, sun or a clear night sky.

    References
    ----------
    Steady heat balance of a lump.

    Examples
    --------
    >>> round(float(holding_power(1.787, 277.15, 265.15)), 1)
    21.4
    """
    apart = np.asarray(hold, dtype=np.float64) - outside
    return np.maximum(np.asarray(conductance, dtype=np.float64) * apart, 0.0)


def pad_duty(needed: Power[Real], pad: Power[Real], net_share: Share[Real]) -> Ratio[Array]:
    """Share of the time a pad has to be on.

    Formula: P_h / (s P)

    Parameters
    ----------
    needed : float or array
        Heat needed in the water, P_h [W].
    pad : float or array
        Power of the pad, P [W].
    net_share : float or array
        Share of it that reaches the water, s [-].

    Returns
    -------
    array
        Duty; above 1 the pad does not hold [-].

    Raises
    ------
    ValueError
        When the pad or its share is not above zero.

    Notes
    -----
    15 to 40 % of a pad's heat goes outward, less with foam over it (common practice).

    References
    ----------
    Heat balance; the share that goes outward: common practice.

    Examples
    --------
    >>> round(float(pad_duty(21.45, 60.0, 0.85)), 3)
    0.421
    """
    return np.asarray(needed, dtype=np.float64) / (above_zero("pad", pad) * above_zero("net_share", net_share))


def smallest_pad(needed: Power[Real], net_share: Share[Real]) -> Power[Array]:
    """Power of the smallest pad that holds.

    Formula: P_h / s

    Parameters
    ----------
    needed : float or array
        Heat needed in the water at the design cold, P_h [W].
    net_share : float or array
        Share of the pad's heat that reaches the water, s [-].

    Returns
    -------
    array
        Power of the pad, on all the time [W].

    Raises
    ------
    ValueError
        When the share is not above zero.

    References
    ----------
    Heat balance; the share that goes outward: common practice.

    Examples
    --------
    >>> round(float(smallest_pad(21.45, 0.85)), 1)
    25.2
    """
    return np.asarray(needed, dtype=np.float64) / above_zero("net_share", net_share)


def lowest_cold(
    hold: Temperature[Real], pad: Power[Real], net_share: Share[Real], conductance: Conductance[Real]
) -> Temperature[Array]:
    """Lowest outside temperature at which a pad still holds the water.

    Formula: T_h − s P / UA

    Parameters
    ----------
    hold : float or array
        Temperature to hold, T_h [K].
    pad : float or array
        Power of the pad, P [W].
    net_share : float or array
        Share of it that reaches the water, s [-].
    conductance : float or array
        Heat lost for each degree, UA [W/K].

    Returns
    -------
    array
        Temperature of the surroundings, of rest where there are several neighbours [K].

    Raises
    ------
    ValueError
        When the conductance is not above zero.

    References
    ----------
    Heat balance; the share that goes outward: common practice.

    Examples
    --------
    >>> round(float(lowest_cold(277.15, 60.0, 0.85, 1.787)) - 273.15, 1)
    -24.5
    """
    heat = np.asarray(pad, dtype=np.float64) * net_share
    return np.asarray(hold, dtype=np.float64) - heat / above_zero("conductance", conductance)


def pad_energy(duty: Ratio[Real], pad: Power[Real]) -> DailyEnergy[Array]:
    """Energy a day that a pad draws.

    Formula: min(d, 1) P

    Parameters
    ----------
    duty : float or array
        Duty at the mean temperature of the day, d [-].
    pad : float or array
        Power of the pad, P [W].

    Returns
    -------
    array
        Energy a day, as mean power [W].

    Notes
    -----
    By the mean temperature: a day that is partly warmer than the temperature held draws more than this.

    References
    ----------
    Heat balance.

    Examples
    --------
    >>> round(float(pad_energy(0.25, 60.0)) * 24)
    360
    """
    return np.minimum(np.asarray(duty, dtype=np.float64), 1.0) * pad


def freezing_time(
    ice_share: Share[Real],
    mass: Mass[Real],
    conductance: Conductance[Real],
    outside: Temperature[Real],
    power: Power[Real] = 0.0,
) -> Hours[Array]:
    """Time at 0 °C until a share of the water is ice.

    Formula: x m r / (UA (273.15 − T_o) − P)

    Parameters
    ----------
    ice_share : float or array
        Share of the water that has turned to ice, x [-].
    mass : float or array
        Mass of the water, m [kg].
    conductance : float or array
        Heat lost for each degree, UA [W/K].
    outside : float or array
        Temperature of the surroundings, for several neighbours the temperature of rest, T_o [K].
    power : float or array
        Heat put in, P [W].

    Returns
    -------
    array
        Time; infinite when no ice forms [s].

    Raises
    ------
    ValueError
        When the share is outside 0 to 1.

    Notes
    -----
    r = 334 kJ/kg. The ice's own resistance is left out, which is on the safe side. Still, clean water may cool some
    degrees below freezing before the first ice.

    References
    ----------
    Heat of fusion: IAPWS R10-06 (2009), rounded; heat balance.

    Examples
    --------
    >>> round(float(freezing_time(0.1, 70.0, 1.787, 265.15)) / 3600, 1)
    45.4
    """
    frozen = share("ice_share", ice_share)
    drained = (
        np.asarray(conductance, dtype=np.float64) * (FREEZING_POINT - np.asarray(outside, dtype=np.float64)) - power
    )
    fused = frozen * mass * LATENT_HEAT_OF_FUSION
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(fused == 0, 0.0, np.where(drained > 0, fused / drained, np.inf))
