"""An open outlet whose draw follows the pressure while the pump cycles under it, in closed form on straight pieces.

An independent judge of ``pressure_switch`` and ``transient``, which go other ways to the same times and flows.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.physics._checks import not_negative
from vanwater.physics._quadrature import GAUSS_NODES, GAUSS_WEIGHTS, log_mean, log_shares
from vanwater.physics.switching import ElasticStorage, Pieces, Switch, volume_between
from vanwater.quantities import Array, Flow, OutletConstant, Pressure, Real, Seconds

__all__ = ["Pulse", "pulse", "steady_pressure"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulse:
    """One cycle of the pump under an open outlet, or the steady state where it runs on.

    Parameters
    ----------
    cycles : array of bool
        Whether the pump cycles.
    on, off : array
        Times on and off in a cycle [s]; infinite and none where the pump runs on.
    low, high : array
        Gauge pressures at the pump's outlet between which the pulse swings [Pa].
    flow_low, flow_high : array
        Flows of the outlet there [m³/s].
    mean : array
        Flow of the outlet over a whole cycle [m³/s].
    """

    cycles: npt.NDArray[np.bool_]
    on: Seconds[Array]
    off: Seconds[Array]
    low: Pressure[Array]
    high: Pressure[Array]
    flow_low: Flow[Array]
    flow_high: Flow[Array]
    mean: Flow[Array]


def steady_pressure(outlet: OutletConstant[Real], lift: Pressure[Real], switch: Switch) -> Pressure[Array]:
    """Pressure at which the pump's curve crosses an open outlet, were there no switch.

    Formula: p from Q(p) = k √(p − p_h)

    Parameters
    ----------
    outlet : float or array
        Constant of the outlet with its hoses and fittings, k [m³/(s·√Pa)].
    lift : float or array
        Pressure of the lift from the pump to the outlet, p_h [Pa].
    switch : Switch
        The pressure switch and the pump's curve Q(p).

    Returns
    -------
    array
        Gauge pressure at the pump's outlet [Pa]; the lift itself where the pump cannot reach so high, the pump's most
        where the outlet lets nothing out.

    Raises
    ------
    ValueError
        When the outlet's constant is negative.

    Notes
    -----
    Below cut-out the pump runs on, above it cycles. Each straight piece of the curve gives a quadratic in
    √(p − p_h).

    References
    ----------
    Orifice law with a constant k; conservation of volume.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> switch = Switch(1.4e5, 2.4e5, PumpCurve(np.array([0.0, 2e-4]), np.array([2.9e5, 0.0]), 12.0, 12.0))
    >>> round(float(steady_pressure(3e-7, 0.18e5, switch)) / 1e5, 3)
    1.388
    """
    constant = not_negative("outlet", outlet)[..., None]
    height = np.asarray(lift, dtype=np.float64)[..., None]
    flow, rise = switch.curve.flow - np.asarray(switch.curve.slowing)[..., None], switch.curve.rise
    steepness = np.diff(flow) / np.diff(rise)
    at_lift = flow[..., :-1] + steepness * (height - rise[..., :-1])
    spread = constant + np.sqrt(np.maximum(constant**2 - 4.0 * steepness * at_lift, 0.0))
    root = np.divide(2.0 * at_lift, spread, out=np.zeros(np.broadcast(at_lift, spread).shape), where=spread > 0)
    crossings = height + np.maximum(root, 0.0) ** 2
    bends = rise[..., 1:-1]
    beyond = flow[..., 1:-1] < constant * np.sqrt(np.maximum(bends - height, 0.0))  # the outlet takes more than that
    piece = np.sum(beyond, axis=-1, keepdims=True)
    piece, crossings = np.broadcast_arrays(piece, crossings)
    return np.take_along_axis(crossings, piece[..., :1], axis=-1)[..., 0]


def pulse(outlet: OutletConstant[Real], lift: Pressure[Real], switch: Switch, storage: ElasticStorage) -> Pulse:
    """The cycle of the pump while an outlet stays open: times, and the band of pressure and flow.

    Formula: t_off = ∫ dV / q(p), t_on = ∫ dV / (Q(p) − q(p)), q = k √(p − p_h), from p_in to p_out

    Parameters
    ----------
    outlet : float or array
        Constant of the outlet with its hoses and fittings, k [m³/(s·√Pa)].
    lift : float or array
        Pressure of the lift from the pump to the outlet, p_h [Pa].
    switch : Switch
        The pressure switch, p_in and p_out, and the pump's curve Q(p).
    storage : ElasticStorage
        Accumulator and line, dV = (V p₀ / p² + C) dp in absolute pressures.

    Returns
    -------
    Pulse
        Times, pressures, flows and the mean flow.

    Raises
    ------
    ValueError
        When the outlet's constant is negative.

    Notes
    -----
    The water's inertia is left out. Where the lift is not below cut-in, or the outlet lets nothing out, the flow stops
    before the pump starts again: the time off is infinite, the mean none.

    References
    ----------
    Conservation of volume with Boyle's law; Gauss quadrature, in ln(Q − q) while the pump runs.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> switch = Switch(1.4e5, 2.4e5, PumpCurve(np.array([0.0, 2e-4]), np.array([3.5e5, 0.0]), 12.0, 12.0))
    >>> swing = pulse(1e-7, 0.18e5, switch, ElasticStorage(1e-3, 1.3e5))
    >>> round(float(swing.on), 1), round(float(swing.off), 1), round(float(swing.mean) * 6e4, 2)
    (6.3, 7.0, 2.47)
    """
    constant, height = not_negative("outlet", outlet), np.asarray(lift, dtype=np.float64)
    bottom, top = (np.asarray(p, dtype=np.float64) for p in (switch.cut_in, switch.cut_out))
    crossing = steady_pressure(constant, height, switch)
    pieces = Pieces.of(switch, storage)

    def draw(pressure: Array) -> Array:
        return constant * np.sqrt(np.maximum(pressure - height, 0.0))

    cycles = pieces.least > draw(top)
    lifted = (height + storage.atmosphere)[..., None]
    with np.errstate(divide="ignore", invalid="ignore"):
        rest = np.where((height < bottom) & (constant > 0), _resting(pieces, constant[..., None], lifted), np.inf)
        run, used = _running(pieces, constant[..., None], lifted)
        mean = np.where(np.isinf(rest), 0.0, (volume_between(switch, storage) + used) / (run + rest))
    low, high = np.where(cycles, bottom, crossing), np.where(cycles, top, crossing)
    return Pulse(
        cycles=cycles,
        on=np.where(cycles, run, np.inf),
        off=np.where(cycles, rest, 0.0),
        low=low,
        high=high,
        flow_low=draw(low),
        flow_high=draw(high),
        mean=np.where(cycles, mean, draw(crossing)),
    )


def _spans(pieces: Pieces) -> tuple[tuple[Array, bool], ...]:
    """Where each piece begins for the line and for the gas, left out where nothing gives."""
    line, gas = bool(np.any(pieces.line > 0)), bool(np.any(pieces.volume > 0))
    return (*(((pieces.low, False),) if line else ()), *(((pieces.gas_low, True),) if gas else ()))


def _give(pieces: Pieces, pressure: Array, gas: bool) -> Array:
    return pieces.gas_yield(pressure) if gas else pieces.line[..., None]


def _resting(pieces: Pieces, constant: Array, lifted: Array) -> Array:
    """∫ dV / q by Gauss in √(p − p_h), which takes the root out of the integrand."""
    total = np.zeros(())
    for start, gas in _spans(pieces):
        first, last = (np.sqrt(np.maximum(p - lifted, 0.0)) for p in (start, pieces.high))
        root = first[..., None] + (last - first)[..., None] * GAUSS_NODES
        pressure = lifted[..., None] + root**2
        parts = 2.0 * np.sum(GAUSS_WEIGHTS * _give(pieces, pressure, gas), axis=-1) / constant
        total = total + np.sum((last - first) * parts, axis=-1)
    return total


def _running(pieces: Pieces, constant: Array, lifted: Array) -> tuple[Array, Array]:
    """∫ dV / (Q − q) and ∫ q dV / (Q − q), in the logarithm of the chord of Q − q."""
    time, used = np.zeros(()), np.zeros(())
    span = pieces.high - pieces.low
    slope = np.where(span > 0, (pieces.flow_low - pieces.flow_high) / np.where(span > 0, span, 1.0), 0.0)
    for start, gas in _spans(pieces):
        width = pieces.high - start
        pump = pieces.flow_high + slope * width
        large, small = (
            q - constant * np.sqrt(np.maximum(p - lifted, 0.0))
            for q, p in ((pump, start), (pieces.flow_high, pieces.high))
        )
        share = log_shares(large, small)
        pressure = pieces.high[..., None] - width[..., None] * share
        chord = small[..., None] + (large - small)[..., None] * share
        drawn = constant[..., None] * np.sqrt(np.maximum(pressure - lifted[..., None], 0.0))
        net = pieces.flow_high[..., None] + (pump - pieces.flow_high)[..., None] * share - drawn
        parts = GAUSS_WEIGHTS * _give(pieces, pressure, gas) * chord / net
        there, scale = width > 0, width * log_mean(large, small)
        time = time + np.sum(np.where(there, scale * np.sum(parts, axis=-1), 0.0), axis=-1)
        used = used + np.sum(np.where(there, scale * np.sum(parts * drawn, axis=-1), 0.0), axis=-1)
    return time, used
