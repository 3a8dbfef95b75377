"""The pump that cycles on its pressure switch against a steady draw: times on and off, starts, the worst draw."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.physics.switching import ElasticStorage, Pieces, Switch, volume_between
from vanwater.quantities import Array, Flow, Real, Seconds, Starts, Volume

__all__ = ["off_time", "on_time", "starts", "starts_at_draw", "starts_estimate", "worst_draw"]

_STEPS = 60
_SETTLED = 1e-10  # Newton squares the error, so the step before the last leaves far less


def off_time(given: Volume[Real], draw: Flow[Real]) -> Seconds[Array]:
    """Time the pump rests while a steady draw takes what accumulator and line give.

    Formula: V / q

    Parameters
    ----------
    given : float or array
        Water between the switch pressures, V [m³].
    draw : float or array
        Steady draw, q [m³/s].

    Returns
    -------
    array
        Time off; infinite without a draw [s].

    Raises
    ------
    ValueError
        When the draw is negative.

    References
    ----------
    Conservation of volume.

    Examples
    --------
    >>> round(float(off_time(0.28269e-3, 2e-3 / 60)), 2)
    8.48
    """
    size, drawn = np.broadcast_arrays(np.asarray(given, dtype=np.float64), not_negative("draw", draw))
    rest: Array = np.divide(size, drawn, out=np.full(size.shape, np.inf), where=drawn > 0)
    return rest


def on_time(draw: Flow[Real], switch: Switch, storage: ElasticStorage) -> Seconds[Array]:
    """Time the pump runs from cut-in to cut-out against a steady draw.

    Formula: ∫ (V p₀ / p² + C) dp / (Q(p) − q), from p_in to p_out

    Parameters
    ----------
    draw : float or array
        Steady draw, q [m³/s].
    switch : Switch
        The pressure switch, p_in and p_out, and the pump's curve Q(p).
    storage : ElasticStorage
        Accumulator V and p₀, and line C; the sum uses absolute pressures.

    Returns
    -------
    array
        Time on; infinite when the pump never reaches cut-out [s].

    Raises
    ------
    ValueError
        When the draw is negative or a pressure is impossible.

    Notes
    -----
    Exact on straight pieces of curve: closed form for an isothermal gas, Gauss quadrature in ln(Q − q) with 32
    nodes a piece for another exponent. The flow at a pressure is read straight from the curve: suction loss
    and lift ahead of the pump are left out.

    References
    ----------
    Conservation of volume with Boyle's law; partial fractions.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> flow, rise = np.array([0, 4, 8, 10.5, 12]) / 6e4, np.array([2.9, 2.4, 1.7, 0.9, 0]) * 1e5
    >>> switch = Switch(1.4e5, 2.4e5, PumpCurve(flow, rise, 12.0, 12.0))
    >>> round(float(on_time(2e-3 / 60, switch, ElasticStorage(1e-3, 1.3e5, 98945.0))), 2)
    3.77
    """
    volume_between(switch, storage)  # refuses impossible pressures
    drawn = not_negative("draw", draw)
    pieces = Pieces.of(switch, storage)
    return np.where(drawn < pieces.least, pieces.moments(drawn, 1)[0], np.inf)


def starts(on: Seconds[Real], off: Seconds[Real]) -> Starts[Array]:
    """How often the pump starts.

    Formula: 1 / (t_on + t_off)

    Parameters
    ----------
    on : float or array
        Time on in a cycle, t_on [s].
    off : float or array
        Time off in a cycle, t_off [s].

    Returns
    -------
    array
        Starts; none when either time is infinite [1/s].

    Raises
    ------
    ValueError
        When a cycle takes no time: nothing gives between the switch pressures.

    Notes
    -----
    Without an accumulator the line's compliance alone decides; thousands of starts an hour mean that the pump
    chatters.

    References
    ----------
    A cycle is one time on and one time off.

    Examples
    --------
    >>> round(float(starts(3.77, 8.48)) * 3600, 1)
    293.9
    """
    period = np.asarray(on, dtype=np.float64) + off
    if not np.all(period > 0):
        raise ValueError("on, off: a cycle has to take time; neither accumulator nor line gives water.")
    return 1.0 / period


def starts_at_draw(draw: Flow[Real], switch: Switch, storage: ElasticStorage) -> Starts[Array]:
    """How often a steady draw makes the pump start.

    Formula: 1 / (t_on + V / q)

    Parameters
    ----------
    draw : float or array
        Steady draw, q [m³/s].
    switch : Switch
        The pressure switch and the pump's curve.
    storage : ElasticStorage
        Accumulator and line, which give V between the switch pressures and t_on.

    Returns
    -------
    array
        Starts; none without a draw or when the pump runs on [1/s].

    Raises
    ------
    ValueError
        When the draw is negative, or nothing gives between the switch pressures.

    References
    ----------
    Conservation of volume with Boyle's law.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> flow, rise = np.array([0, 4, 8, 10.5, 12]) / 6e4, np.array([2.9, 2.4, 1.7, 0.9, 0]) * 1e5
    >>> switch = Switch(1.4e5, 2.4e5, PumpCurve(flow, rise, 12.0, 12.0))
    >>> round(float(starts_at_draw(2e-3 / 60, switch, ElasticStorage(compliance=6e-11))) * 3600)
    13537
    """
    return starts(on_time(draw, switch, storage), off_time(volume_between(switch, storage), draw))


def worst_draw(switch: Switch, storage: ElasticStorage) -> Flow[Array]:
    """The steady draw that makes the pump start most often.

    Formula: q from V / q² = ∫ (V p₀ / p² + C) dp / (Q(p) − q)²

    Parameters
    ----------
    switch : Switch
        The pressure switch and the pump's curve Q(p).
    storage : ElasticStorage
        Accumulator V and p₀, and line C; the sum uses absolute pressures.

    Returns
    -------
    array
        Draw with most starts; none when the pump cannot reach cut-out [m³/s].

    Raises
    ------
    ValueError
        When a pressure is impossible, or nothing gives between the switch pressures.

    Notes
    -----
    On the left V is the water between the switch pressures. The period t_on + t_off is convex in the draw, so
    its least is the one root of its slope, found by Newton's steps kept inside a shrinking bracket. The worst draw
    lies between half the pump's flow at cut-out and all of it.

    References
    ----------
    Conservation of volume with Boyle's law.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> flow, rise = np.array([0, 4, 8, 10.5, 12]) / 6e4, np.array([2.9, 2.4, 1.7, 0.9, 0]) * 1e5
    >>> switch = Switch(1.4e5, 2.4e5, PumpCurve(flow, rise, 12.0, 12.0))
    >>> round(float(worst_draw(switch, ElasticStorage(1e-3, 1.3e5, 98945.0))) * 6e4, 3)
    2.938
    """
    total = volume_between(switch, storage)
    if not np.all(total > 0):
        raise ValueError("storage: neither accumulator nor line gives water between the switch pressures.")
    pieces = Pieces.of(switch, storage)
    total, top = np.broadcast_arrays(total, np.maximum(pieces.least, 0.0))
    low, high = 0.5 * top, top  # the root lies between half the least flow and all of it
    guess = 0.75 * top
    with np.errstate(divide="ignore", invalid="ignore"):
        for _ in range(_STEPS):
            _, second, third = pieces.moments(guess, 3)
            mean = np.sqrt(total / second)  # a mean of Q − q; the draw is worst where it equals it
            low, high = np.where(mean > guess, guess, low), np.where(mean < guess, guess, high)
            step = guess + (mean - guess) / (1.0 + mean * third / second)
            moved = np.abs(step - guess)
            close = moved <= _SETTLED * top
            guess = np.where(close | ((step > low) & (step < high)), step, 0.5 * (low + high))
            if np.all(close | ~(top > 0)):
                break
    return np.where(top > 0, guess, 0.0)


def starts_estimate(given: Volume[Real], pump_flow: Flow[Real]) -> Starts[Array]:
    """The trade's estimate of the most starts, for a pump of one flow.

    Formula: Q / (4 V)

    Parameters
    ----------
    given : float or array
        Water between the switch pressures, V [m³].
    pump_flow : float or array
        Flow of the pump midway between the switch pressures, Q [m³/s].

    Returns
    -------
    array
        Starts at the worst draw, half the pump's flow [1/s].

    Raises
    ------
    ValueError
        When the volume is not above zero.

    Notes
    -----
    Exact for a pump that gives the same flow at every pressure; on a falling curve up to 17 % too high.

    References
    ----------
    Common practice of pressure-tank sizing; the worst draw with Q(p) constant.

    Examples
    --------
    >>> round(float(starts_estimate(0.28269e-3, 6.86 / 6e4)) * 3600)
    364
    """
    return np.asarray(pump_flow, dtype=np.float64) / (4.0 * above_zero("given", given))
