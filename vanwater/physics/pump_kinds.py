"""The curves of the other kinds of pump, in the form of a diaphragm pump's: speed-controlled, submersible, by hand.

Each is a :class:`~vanwater.physics.pump.PumpCurve` at the volts that reach it, so that one solve serves every kind.
A pump with a spring by-pass needs none of these: its curve is measured at its port, behind the by-pass.
"""

from __future__ import annotations

import numpy as np

from vanwater.physics.centrifugal import affinity_flow, affinity_rise
from vanwater.physics.network.curves import fixed_flow_points
from vanwater.physics.pump import PumpCurve
from vanwater.quantities import Array, Flow, Pressure, Real, Strokes, Voltage, Volume

__all__ = ["centrifugal_curve", "fixed_flow_curve", "held_curve", "stroke_flow"]

DROOP = 1e-6
"""Share of the pressure by which a level part of a curve falls, so that it has one flow at each pressure."""

SMALL, NOTHING = 1e-3, 1e-9
"""Shares of the curve's last flow: the first point where nothing is held, and below which nothing is held."""


def held_curve(curve: PumpCurve, holds: Pressure[Real]) -> PumpCurve:
    """Curve of a pump whose speed is controlled to hold a pressure until it runs at full speed.

    Formula: p(Q) = min(p_hold, p_full(Q))

    Parameters
    ----------
    curve : PumpCurve
        Curve p_full(Q) at full speed, at the volts that reach the pump.
    holds : float or array
        Pressure rise that the control holds, p_hold [Pa].

    Returns
    -------
    PumpCurve
        Never above the pressure held; with the full-speed curve behind the flow at which that is reached.

    Raises
    ------
    ValueError
        When the pressure held is not above zero.

    Notes
    -----
    The control is taken as exact; the level part falls by one part in a million. Where the volts are too low for
    the pressure, the pump runs at full speed throughout.

    References
    ----------
    Control by a pressure sensor behind the pump: common practice.

    Examples
    --------
    >>> from vanwater.physics.pump import pump_rise
    >>> full = PumpCurve(np.array([0, 2e-4]), np.array([4e5, 0]), 12.0, 12.0)
    >>> pump_rise(np.array([0.0, 5e-5, 1.5e-4]), held_curve(full, 2.5e5)).round(-2).tolist()
    [250000.0, 250000.0, 100000.0]
    """
    held = np.asarray(holds, dtype=np.float64)
    if not np.all(held > 0.0):
        raise ValueError(f"holds: {held} Pa must lie above zero.")
    flow = curve.flow - np.asarray(curve.slowing)[..., np.newaxis]
    last, width = flow[..., -1], flow[..., -1] - flow[..., -2]
    reached = curve.flow_at(held)
    least = SMALL * np.maximum(last, width)
    holding = reached > NOTHING * last
    bend = np.where(holding, reached, least)
    top = np.minimum(held, curve.rise_and_slope(np.zeros(()))[0])
    knee = np.where(holding, held * (1.0 - DROOP), curve.rise_and_slope(bend)[0])
    points = flow.shape[-1]
    first = points - np.sum(curve.rise < (knee - DROOP * np.abs(top))[..., np.newaxis], axis=-1)
    behind = np.stack([_further(flow, bend, width, first + place) for place in range(points)], axis=-1)
    beyond = [curve.rise_and_slope(behind[..., place])[0] for place in range(points)]
    edges = np.broadcast_arrays(np.zeros_like(bend), bend, top, knee)
    start, bend, top, knee = (edge[..., np.newaxis] for edge in edges)
    full = np.broadcast_to(behind, (*bend.shape[:-1], points))
    rise = np.broadcast_to(np.stack(beyond, axis=-1), full.shape)
    volts = np.asarray(curve.voltage, dtype=np.float64)
    return PumpCurve(
        np.concatenate([start, bend, full], axis=-1), np.concatenate([top, knee, rise], axis=-1), volts, volts
    )


def _further(flow: Array, bend: Array, width: Array, place: Array) -> Array:
    """Flow of a curve's point by its place; beyond the last one, and behind the bend, its last line goes on."""
    place = np.broadcast_to(place, np.broadcast_shapes(place.shape, bend.shape))
    last = flow.shape[-1] - 1
    wide = np.broadcast_to(flow, (*place.shape, last + 1))
    at = np.take_along_axis(wide, np.minimum(place, last)[..., np.newaxis], axis=-1)[..., 0]
    over = np.maximum(place - last, 0)
    return np.where(over > 0, np.maximum(flow[..., last], bend) + over * width, at)


def centrifugal_curve(
    flow: Flow[Array], rise: Pressure[Array], voltage: Voltage[Real], rated_voltage: Voltage[Real]
) -> PumpCurve:
    """Curve of a centrifugal (submersible) pump at the volts that reach it.

    Formula: p(Q) = (V/V₀)² p₀(Q V₀/V)

    Parameters
    ----------
    flow : array
        Flow at each point, rising along the last axis [m³/s].
    rise : array
        Pressure rise p₀ at each point, falling [Pa].
    voltage : float or array
        Voltage that reaches the pump, V [V].
    rated_voltage : float or array
        Voltage at which the points were measured, V₀ [V].

    Returns
    -------
    PumpCurve
        The points moved to that voltage.

    Raises
    ------
    ValueError
        When a voltage is not above zero.

    Notes
    -----
    Affinity laws with the speed of a permanent-magnet motor in proportion to its volts. Wrong for a diaphragm pump.

    References
    ----------
    Crane, Flow of Fluids, TP-410, affinity laws; speed by volts: common practice.

    Examples
    --------
    >>> curve = centrifugal_curve(np.array([0, 2e-4]), np.array([6e4, 0]), 6.0, 12.0)
    >>> curve.flow.tolist(), curve.rise.tolist()
    ([0.0, 0.0001], [15000.0, 0.0])
    """
    volts, rated = np.asarray(voltage, dtype=np.float64), np.asarray(rated_voltage, dtype=np.float64)
    speed = (volts / rated)[..., np.newaxis]
    return PumpCurve(affinity_flow(flow, speed), affinity_rise(rise, speed), volts, volts)


def fixed_flow_curve(flow: Flow[Real], stall: Pressure[Real]) -> PumpCurve:
    """Curve of a hand or foot pump: one flow at any pressure up to the one that stalls it.

    Formula: Q for p < p_stall, else 0

    Parameters
    ----------
    flow : float or array
        Flow that the strokes give, Q [m³/s].
    stall : float or array
        Pressure rise at which hand or foot can no longer work it, p_stall [Pa].

    Returns
    -------
    PumpCurve
        The flow holds within one part in a million.

    Raises
    ------
    ValueError
        When the flow or the pressure is not above zero.

    Notes
    -----
    Mean of the strokes: a single-acting pump gives it in pulses. It has no volts; 1 V stands for them.

    References
    ----------
    Positive displacement; common practice.

    Examples
    --------
    >>> from vanwater.physics.pump import pump_flow
    >>> hand = fixed_flow_curve(6e-5, 0.8e5)
    >>> pump_flow(np.array([0.0, 0.7e5, 0.9e5]), hand).round(9).tolist()
    [6e-05, 6e-05, 0.0]
    """
    points, rise = fixed_flow_points(flow, stall)
    volts = np.ones(rise.shape[:-1])
    return PumpCurve(points, rise * np.array([1.0, 1.0 - DROOP, 1.0]), volts, volts)


def stroke_flow(stroke: Volume[Real], strokes: Strokes[Real]) -> Flow[Array]:
    """Mean flow of a pump that is worked stroke by stroke.

    Formula: V n

    Parameters
    ----------
    stroke : float or array
        Water that one stroke gives, V [m³].
    strokes : float or array
        Strokes in a time, n [1/s].

    Returns
    -------
    array
        Mean flow [m³/s].

    References
    ----------
    Positive displacement.

    Examples
    --------
    >>> round(float(stroke_flow(0.1e-3, 40 / 60)) * 6e4, 2)
    4.0
    """
    return np.asarray(stroke, dtype=np.float64) * strokes
