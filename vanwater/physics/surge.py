"""Water hammer along several runs one behind the other, from the tap that shuts back to what takes the blow."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.physics.hammer import WATER_BULK_MODULUS, slow_closing
from vanwater.quantities import (
    Array,
    Compliance,
    Density,
    Elasticity,
    Length,
    PressureDifference,
    Real,
    Seconds,
    Speed,
    Volume,
)

__all__ = ["surge", "wave_speed_of_run"]

CELLS = 40
"""Parts of equal travelling time into which a way is cut."""

PERIODS = 2
"""How long waves are followed, in periods of four times their way."""


def wave_speed_of_run(
    density: Density[Real],
    give: Compliance[Real],
    content: Volume[Real],
    bulk_modulus: Elasticity[Real] = WATER_BULK_MODULUS,
) -> Speed[Array]:
    """Speed of a pressure wave in a run whose give is known.

    Formula: √(1 / (ρ (1/K + C / V)))

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    give : float or array
        Water that the run's wall takes up for each pascal, C; none for a rigid one [m³/Pa].
    content : float or array
        Water in the run, V [m³].
    bulk_modulus : float or array
        Bulk modulus of the water, K [Pa].

    Returns
    -------
    array
        Wave speed, a [m/s].

    Raises
    ------
    ValueError
        When the give is negative, or density, content or modulus is not above zero.

    Notes
    -----
    The same law as hammer.wave_speed, for thick walls too; no air in the water. A hose gives less in a fast blow
    than in a slow change: the stiff end of its range is the safe one.

    References
    ----------
    Korteweg (1878), with the wall's give as measured or by Lamé.

    Examples
    --------
    >>> round(float(wave_speed_of_run(999.0, 8e-12, 7.854e-5)), 1)
    98.9
    """
    soft = not_negative("give", give) / above_zero("content", content)
    return np.sqrt(1.0 / (above_zero("density", density) * (1.0 / above_zero("bulk_modulus", bulk_modulus) + soft)))


def surge(
    density: Density[Real], wave: Speed[Real], length: Length[Real], stopped: Speed[Real], closing: Seconds[Real]
) -> PressureDifference[Array]:
    """Pressure rise at the end of several runs in a row when their water is stopped evenly.

    Formula: 2 Σ ρ L Δv / t; faster than 2 Σ L / a by characteristics, p ± ρ a v along dx = ± a dt

    Parameters
    ----------
    density : float or array
        Density of the water, ρ [kg/m³].
    wave : array
        Speed of the pressure wave in each run along the last axis, a [m/s].
    length : array
        Length of each run up to the accumulator, the last at the tap, 0 where a row has fewer runs, L [m].
    stopped : array
        Speed of the water in each run, Δv [m/s].
    closing : float or array
        Time in which the flow falls evenly to nothing, without the axis of runs, t [s].

    Returns
    -------
    array
        Pressure rise at the tap, without the axis of runs; the most of all closings that take so long or longer [Pa].

    Raises
    ------
    ValueError
        When the closing time is negative.

    Notes
    -----
    Slower than 2 Σ L / a the rise is taken as 2 Σ ρ L Δv / t, which no wave without losses exceeds. Faster, runs that
    are not alike have no simple bound, since waves thrown back where they meet add up: there the waves are followed
    for two periods of 4 Σ L / a. One run gives ρ a Δv up to 2 L / a. Losses, air and the damping in a hose's wall are
    left out; all make it less.

    References
    ----------
    Method of characteristics, runs in series: Wylie and Streeter, Fluid Transients in Systems, chapters 3 and 4 (from
    memory); Joukowsky (1898); Michaud (1878).

    Examples
    --------
    >>> soft_then_stiff = np.array([95.0, 280.0]), np.array([1.5, 3.0]), np.array([1.6, 1.2])
    >>> [round(float(surge(999.0, *soft_then_stiff, time)) / 1e4) for time in (0.2, 0.02, 0.0)]
    [6, 38, 57]
    """
    wave, length, stopped, density = np.broadcast_arrays(
        *(np.asarray(given, dtype=np.float64) for given in (wave, length, stopped, density))
    )
    there = length > 0.0
    way = np.where(there, length / np.where(there, wave, 1.0), 0.0)
    whole = np.sum(way, axis=-1)
    time = not_negative("closing", closing)
    slow = np.asarray(np.sum(slow_closing(density, length, stopped, time[..., np.newaxis]), axis=-1))
    if np.all(time > 2.0 * whole):
        return slow
    return np.asarray(np.minimum(slow, _fast(density * wave * stopped, way, whole, time)))


def _fast(full: Array, way: Array, whole: Array, time: Array) -> Array:
    """The most of all closings that take so long or longer, up to the time in which the wave returns [Pa]."""
    returns = 2 * CELLS
    part = _cells(full.reshape(-1, full.shape[-1]), way.reshape(-1, way.shape[-1]))
    step = whole / CELLS
    steps = np.divide(time, step, out=np.full(np.broadcast_shapes(time.shape, whole.shape), np.inf), where=step > 0.0)
    taken = np.maximum(np.minimum(steps, returns).astype(np.intp), 1).reshape(-1, len(part))
    most = np.empty((returns + 1, len(part)))
    most[returns] = np.sum(part, axis=1) / CELLS  # what twice the rigid column gives there
    least = np.min(taken, axis=0)
    followed = np.flatnonzero(least < returns)
    if followed.size:
        most[:returns, followed] = _windows(part[followed], most[returns, followed], int(least.min()))
    return np.take_along_axis(most, taken, axis=0).reshape(steps.shape)


def _windows(part: Array, rigid: Array, least: int) -> Array:
    """Greatest mean pressure over so many steps or more, from the least number of them on [Pa]."""
    returns = 2 * CELLS
    impulse = np.pad(np.cumsum(_instant(part), axis=1), ((0, 0), (returns, 0)))
    moved = np.lib.stride_tricks.sliding_window_view(impulse, impulse.shape[1] - returns, axis=1)
    steps = np.arange(returns - 1, least - 1, -1)
    gained = np.max(moved[:, -1:] - moved[:, 1 : 1 + steps.size], axis=2) / steps
    most = np.empty((returns, len(part)))
    most[steps] = np.maximum.accumulate(np.maximum(gained, rigid[:, np.newaxis]), axis=1).T
    return most


def _cells(full: Array, way: Array) -> Array:
    """Mean ρ a Δv of each cell, from the tap back; cells take equal times, so that all waves step together [Pa]."""
    zero = np.zeros((len(way), 1))
    times = np.concatenate([zero, np.cumsum(way[:, ::-1], axis=1)], axis=1)
    columns = np.concatenate([zero, np.cumsum((full * way)[:, ::-1], axis=1)], axis=1)
    edges = np.linspace(0.0, 1.0, CELLS + 1)
    means = [
        np.diff(np.interp(edges * time[-1], time, column)) * CELLS / time[-1] if time[-1] > 0.0 else np.zeros(CELLS)
        for time, column in zip(times, columns, strict=True)
    ]
    return np.array(means).reshape(-1, CELLS)


def _instant(full: Array) -> Array:
    """Pressure at the tap step by step after the flow was stopped at once, by the waves up and down the cells [Pa].

    Where cells of equal travelling time meet, the characteristics from both sides leave
    p(t + dt) = (1 + r) p_before(t) + (1 - r) p_behind(t) - p(t - dt), r the share that is thrown back. Every other
    meeting of cells takes a step in turn, and the tap's pressure changes at every other step only.
    """
    met = full[:, 1:] + full[:, :-1]
    thrown = np.divide(full[:, 1:] - full[:, :-1], met, out=np.zeros_like(met), where=met > 0.0).T
    ahead, behind = np.pad(1.0 + thrown, ((1, 0), (0, 0))), np.pad(1.0 - thrown, ((1, 0), (0, 0)), constant_values=2.0)
    (ahead_even, ahead_odd), (behind_even, behind_odd) = (
        (each[0::2].copy(), each[1::2].copy()) for each in (ahead, behind)
    )
    even, odd = np.zeros((2, CELLS // 2 + 1, len(full)))  # the last even one is the end, where the pressure is held
    even[0] = full[:, 0]
    first, second = np.empty((2, CELLS // 2, len(full)))
    pressure = np.empty((2 * PERIODS * CELLS, len(full)))
    for step in range(len(pressure)):
        pressure[step] = even[0]
        np.multiply(ahead_odd, even[:-1], out=first)
        np.multiply(behind_odd, even[1:], out=second)
        np.add(first, second, out=first)
        np.subtract(first, odd[1:], out=odd[1:])
        np.multiply(ahead_even, odd[:-1], out=first)
        np.multiply(behind_even, odd[1:], out=second)
        np.add(first, second, out=first)
        np.subtract(first, even[:-1], out=even[:-1])
    return np.repeat(pressure.T, 2, axis=1)
