"""Mixers of given proportion: the mixed pressure that the two sides allow, and how it answers to them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from vanwater.quantities import Array

__all__ = ["mixed_pressure", "port_loss"]


def mixed_pressure(
    hot_pressure: Array, cold_pressure: Array, flow: Array, hot: Array, port: Array, thermostatic: npt.NDArray[np.bool_]
) -> tuple[Array, Array, Array]:
    """Pressure behind each mixer, the weights of the two sides in it, and its fall with the flow.

    Hand mixer: the side of the lower pressure stands wide open, the other is throttled to it. Thermostatic:
    with the port's constant k, x/√(p_h − p) + (1 − x)/√(p_c − p) = k/Q.

    Parameters
    ----------
    hot_pressure, cold_pressure : array
        Pressures at the two inlets, shape (mixers, rows) [Pa].
    flow : array
        Mixed flow, not negative [m³/s].
    hot : array
        Hot share, x.
    port : array
        Constant of the wide open port, k; infinite for none [m³/(s·√Pa)].
    thermostatic : array of bool
        Kind of each mixer, shape (mixers,).

    Returns
    -------
    tuple of array
        Pressure [Pa], weights of hot and cold (2, mixers, rows), stiffness [Pa·s/m³].
    """
    leads = ((hot_pressure <= cold_pressure) & (hot > 0.0)) | (hot >= 1.0)
    pressure = np.where(leads, hot_pressure, cold_pressure)
    weights = np.stack([leads.astype(np.float64), 1.0 - leads])
    stiffness = np.zeros_like(pressure)
    active = thermostatic[:, None] & (flow > 0.0) & np.isfinite(port)
    if active.any():
        gap = np.where(leads, cold_pressure, hot_pressure) - pressure
        share = np.where(leads, hot, 1.0 - hot)
        fall, weight, rise = port_loss(flow[active] / port[active], share[active], np.maximum(gap[active], 0.0))
        pressure[active] -= fall
        stiffness[active] = rise / port[active]
        led = leads[active]
        weights[:, active] = np.where(led, weight, 1.0 - weight), np.where(led, 1.0 - weight, weight)
    return pressure, weights, stiffness


def port_loss(ratio: Array, share: Array, gap: Array) -> tuple[Array, Array, Array]:
    """Loss of a thermostatic valve's leading port, the side of the lower pressure.

    Formula: x/√Δp + (1 − x)/√(Δp + g) = k/Q

    Parameters
    ----------
    ratio : array
        Mixed flow over the constant of the wide open port, Q/k, above zero [√Pa].
    share : array
        Share of the leading side, x, above zero.
    gap : array
        Pressure by which the other side lies higher, g [Pa].

    Returns
    -------
    tuple of array
        Loss of the leading port, Δp [Pa], weight of its side in the mixed pressure, slope of the loss against Q/k.

    Notes
    -----
    The left side falls in √Δp to at most k/Q at Q/k. With the other side's loss there, a quotient gives a √Δp that
    is never too large, and right for no g as for a very large one: Newton between these ends, which close in, and
    half way between them where it would leave them.
    """
    other = 1.0 - share
    high = ratio * 1.0
    low = np.minimum(share / (1.0 / ratio - other / np.sqrt(ratio * ratio + gap)), high)
    s = low
    for _ in range(60):
        far = np.sqrt(s * s + gap)
        value = share / s + other / far - 1.0 / ratio
        low, high = np.where(value >= 0.0, s, low), np.where(value <= 0.0, s, high)
        new = s + value / (share / s**2 + other * s / far**3)
        new = np.where((new >= low) & (new <= high), new, 0.5 * (low + high))
        moved, s = np.abs(new - s), new
        if np.all(moved <= 1e-9 * s):  # what is left after such a step is its square
            break
    far = np.sqrt(s * s + gap)
    first, second = share / s**3, other / far**3
    return s * s, first / (first + second), 2.0 / ratio**2 / (first + second)
