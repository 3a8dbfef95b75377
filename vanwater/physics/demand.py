"""Water used: litres an event and a day, the hot share, what runs off while one waits, days that remain."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import (
    Array,
    DailyVolume,
    Duration,
    Flow,
    Rate,
    Ratio,
    Real,
    Seconds,
    Share,
    Stay,
    Temperature,
    Volume,
)

__all__ = ["daily_grey", "daily_volume", "days", "event_volume", "hot_share", "hot_volume", "hot_wait", "run_off"]


def event_volume(flow: Flow[Real], duration: Duration[Real]) -> Volume[Array]:
    """Water one event takes at a flow held for a time.

    Formula: Q t

    Parameters
    ----------
    flow : float or array
        Flow at the outlet, Q [m³/s].
    duration : float or array
        Time the water runs, t [s].

    Returns
    -------
    array
        Water an event [m³].

    Notes
    -----
    With the water off while soaping only the running time counts.

    References
    ----------
    Definition of volume flow.

    Examples
    --------
    >>> round(float(event_volume(6e-3 / 60, 105.0)) * 1e3, 2)
    10.5
    """
    return np.asarray(flow, dtype=np.float64) * duration


def daily_volume(event_volume: Volume[Real], events: Rate[Real], persons: Ratio[Real]) -> DailyVolume[Array]:
    """Water a use takes a day.

    Formula: V n N

    Parameters
    ----------
    event_volume : float or array
        Water an event, run-off included, V [m³].
    events : float or array
        Events a person and day, n [1/s].
    persons : float or array
        Persons who do it, N; 1 where the events are the household's [-].

    Returns
    -------
    array
        Water a day, as a mean flow [m³/s].

    Notes
    -----
    A steady daily mean.

    References
    ----------
    Sum of events.

    Examples
    --------
    >>> round(float(daily_volume(0.6e-3, 5 / 86400, 2.0)) * 1e3 * 86400, 2)
    6.0
    """
    return np.asarray(event_volume, dtype=np.float64) * events * persons


def daily_grey(
    daily_volume: DailyVolume[Real], grey_share: Share[Real], run_off: DailyVolume[Real]
) -> DailyVolume[Array]:
    """Water of a use that comes back as grey a day.

    Formula: V s + V_off

    Parameters
    ----------
    daily_volume : float or array
        Water the use takes a day without run-off, V [m³/s].
    grey_share : float or array
        Share of it that comes back, s [-].
    run_off : float or array
        Water run off a day while waiting for hot, V_off; all of it comes back [m³/s].

    Returns
    -------
    array
        Grey water a day, as a mean flow [m³/s].

    Notes
    -----
    Where the run-off is caught and used again, give none.

    References
    ----------
    Water balance of the use.

    Examples
    --------
    >>> round(float(daily_grey(5.2e-3 / 86400, 0.15, 0.0)) * 1e3 * 86400, 2)
    0.78
    """
    return np.asarray(daily_volume, dtype=np.float64) * grey_share + run_off


def hot_share(mixed: Temperature[Real], hot: Temperature[Real], cold: Temperature[Real]) -> Share[Array]:
    """Share of hot water in a mix of hot and cold.

    Formula: (T_m − T_c) / (T_h − T_c)

    Parameters
    ----------
    mixed : float or array
        Temperature wanted at the tap, T_m [K].
    hot : float or array
        Temperature of the hot water, T_h [K].
    cold : float or array
        Temperature of the cold water, T_c [K].

    Returns
    -------
    array
        Share of the flow that is hot, between 0 and 1 [-].

    Raises
    ------
    ValueError
        When the hot water is not warmer than the cold.

    Notes
    -----
    Equal heat capacity on both sides. Water wanted hotter than it comes is all hot (1), colder all cold (0).

    References
    ----------
    Heat balance of the mixing tap.

    Examples
    --------
    >>> round(float(hot_share(312.15, 335.15, 285.15)), 3)
    0.54
    """
    difference = np.asarray(hot, dtype=np.float64) - cold
    if np.any(difference <= 0.0):
        raise ValueError(f"hot: {hot} K must be warmer than cold: {cold} K.")
    return np.clip((np.asarray(mixed, dtype=np.float64) - cold) / difference, 0.0, 1.0)


def hot_volume(
    volume: Volume[Real], mixed: Temperature[Real], hot: Temperature[Real], cold: Temperature[Real]
) -> Volume[Array]:
    """Hot water that a mixed volume takes from the heater.

    Formula: V (T_m − T_c) / (T_h − T_c)

    Parameters
    ----------
    volume : float or array
        Mixed water, V [m³].
    mixed : float or array
        Temperature of the mixed water, T_m [K].
    hot : float or array
        Temperature of the hot water, T_h [K].
    cold : float or array
        Temperature of the cold water, T_c [K].

    Returns
    -------
    array
        Hot water [m³].

    Raises
    ------
    ValueError
        When the hot water is not warmer than the cold.

    Notes
    -----
    Density and heat capacity taken alike on both sides, which is right within 2 %.

    References
    ----------
    Heat balance of the mixing tap.

    Examples
    --------
    >>> round(float(hot_volume(10.5e-3, 312.15, 335.15, 285.15)) * 1e3, 2)
    5.67
    """
    return np.asarray(volume, dtype=np.float64) * hot_share(mixed, hot, cold)


def run_off(content: Volume[Real], factor: Ratio[Real]) -> Volume[Array]:
    """Water run off an event until hot water comes.

    Formula: V_pipe m

    Parameters
    ----------
    content : float or array
        Content of the pipe between heater and tap, V_pipe [m³].
    factor : float or array
        Times the content that runs before it is hot, m [-].

    Returns
    -------
    array
        Water run off [m³].

    Raises
    ------
    ValueError
        When the factor lies below 1.

    Notes
    -----
    1 is plug flow; the pipe's wall and mixing make it 1.2 to 1.6 (common practice).

    References
    ----------
    Displacement of the pipe's content; the factor is common practice.

    Examples
    --------
    >>> round(float(run_off(0.267e-3, 1.4)) * 1e3, 3)
    0.374
    """
    if np.any(np.asarray(factor) < 1.0):
        raise ValueError(f"factor: {factor} is below 1; at least the pipe's content runs off.")
    return np.asarray(content, dtype=np.float64) * factor


def hot_wait(content: Volume[Real], factor: Ratio[Real], flow: Flow[Real]) -> Seconds[Array]:
    """Time until hot water comes.

    Formula: V_pipe m / Q

    Parameters
    ----------
    content : float or array
        Content of the pipe between heater and tap, V_pipe [m³].
    factor : float or array
        Times the content that runs before it is hot, m [-].
    flow : float or array
        Flow through that pipe while waiting, Q [m³/s].

    Returns
    -------
    array
        Time; infinite without a flow [s].

    Raises
    ------
    ValueError
        When the factor lies below 1.

    Notes
    -----
    At the mixing tap; the hose behind it comes on top.

    References
    ----------
    Displacement of the pipe's content; the factor is common practice.

    Examples
    --------
    >>> round(float(hot_wait(0.26704e-3, 1.0, 6.9894e-3 / 60)), 3)
    2.292
    """
    volume, through = np.broadcast_arrays(run_off(content, factor), np.asarray(flow, dtype=np.float64))
    return np.asarray(np.divide(volume, through, out=np.full(volume.shape, np.inf), where=through > 0.0))


def days(usable: Volume[Real], daily_net: DailyVolume[Real]) -> Stay[Array]:
    """How long a store lasts at a steady daily mean.

    Formula: V / q

    Parameters
    ----------
    usable : float or array
        What the store can give or still take, V [m³].
    daily_net : float or array
        What goes out or comes in a day, less what is refilled or dumped, q [m³/s].

    Returns
    -------
    array
        Time until it is empty or full; infinite where nothing moves, not known where the net is not [s].

    Notes
    -----
    A plain quotient, not whole days: habits and weather spread it by a quarter or more.

    References
    ----------
    Water balance of the store.

    Examples
    --------
    >>> round(float(days(66.5e-3, 29.9e-3 / 86400)) / 86400, 2)
    2.22
    """
    volume, net = np.broadcast_arrays(np.asarray(usable, dtype=np.float64), np.asarray(daily_net, dtype=np.float64))
    with np.errstate(over="ignore"):  # a trickle near nothing lasts for ever
        return np.asarray(np.divide(volume, net, out=np.full(volume.shape, np.inf), where=~(net <= 0.0)))
