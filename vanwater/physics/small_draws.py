"""Small draws and a pressure switch: how often a dripping tap starts the pump at night, whether a hand-wash does."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.physics.cycling import starts_at_draw
from vanwater.physics.switching import ElasticStorage, Switch
from vanwater.quantities import Array, Flow, Hours, Ratio, Real, Share, Volume

__all__ = ["start_chance", "starts_meanwhile"]


def starts_meanwhile(duration: Hours[Real], drip: Flow[Real], switch: Switch, storage: ElasticStorage) -> Ratio[Array]:
    """How many times a steady drip starts the pump in a time.

    Formula: T / (t_on + V / q)

    Parameters
    ----------
    duration : float or array
        The time, such as a night, T [s].
    drip : float or array
        What the tap loses, q [m³/s].
    switch : Switch
        The pressure switch and the pump's curve.
    storage : ElasticStorage
        Accumulator and line, which give V between the switch pressures and t_on.

    Returns
    -------
    array
        Starts, on average; none without a drip [-].

    Raises
    ------
    ValueError
        When the time or the drip is negative, or nothing gives between the switch pressures.

    Notes
    -----
    From a drop every other second, 20 drops a millilitre, to a thin thread of water (common practice).
    Check valve and taps are taken as tight otherwise.

    References
    ----------
    Conservation of volume with Boyle's law.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> flow, rise = np.array([0, 4, 8, 10.5, 12]) / 6e4, np.array([2.9, 2.4, 1.7, 0.9, 0]) * 1e5
    >>> switch = Switch(1.4e5, 2.4e5, PumpCurve(flow, rise, 12.0, 12.0))
    >>> round(float(starts_meanwhile(8 * 3600.0, 0.2e-3 / 3600, switch, ElasticStorage(1e-3, 1.3e5, 98945.0))), 2)
    5.66
    """
    return not_negative("duration", duration) * starts_at_draw(drip, switch, storage)


def start_chance(draw: Volume[Real], given: Volume[Real]) -> Share[Array]:
    """Chance that a short draw starts the pump.

    Formula: min(1, V_d / V)

    Parameters
    ----------
    draw : float or array
        Water of the draw, V_d [m³].
    given : float or array
        Water between the switch pressures, V [m³].

    Returns
    -------
    array
        Chance, one draw with another [-].

    Raises
    ------
    ValueError
        When the draw is negative or nothing gives between the switch pressures.

    Notes
    -----
    Exact when the water left above cut-in is anything from none to V alike, as after many draws of all sizes. It
    does not hold for draws alike that follow each other: the pump fills up after each start, and n draws of V / n
    start it once; nor right after a long draw, which leaves the accumulator full.

    References
    ----------
    Uniform distribution of the water left.

    Examples
    --------
    >>> round(float(start_chance(0.18e-3, 0.2827e-3)), 3)
    0.637
    """
    return np.minimum(not_negative("draw", draw) / above_zero("given", given), 1.0)
