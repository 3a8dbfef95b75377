"""One cycle of a pressure switch under steady draws: the pressures it passes, and the time it spends about each."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from vanwater.physics.switching import ElasticStorage
from vanwater.quantities import Array, Flow, Pressure, Real, Seconds, Volume

__all__ = ["cycle_pressures", "cycle_times"]

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(6)
_NODES, _WEIGHTS = 0.5 * (_NODES + 1.0), 0.5 * _WEIGHTS
_LEAST = 1e-3  # Pa between cut-out and crossing, below which the pump as good as never stops
_NOTHING = 1e-18  # m³/s, keeps quotients finite where nothing flows


def cycle_pressures(
    crossing: Pressure[Real], cut_in: Pressure[Real], cut_out: Pressure[Real], storage: ElasticStorage
) -> tuple[Pressure[Array], Volume[Array]]:
    """Pressures between cut-in and cut-out at which a cycle is looked at, and the water held about each.

    Formula: ∫ f dV = Σ f(p_j) V_j

    Parameters
    ----------
    crossing : float or array
        Pressure at which the pump would run on without a switch, above the cut-out, p_x [Pa].
    cut_in, cut_out : float or array
        Gauge pressures behind the pump at which it starts and stops [Pa].
    storage : ElasticStorage
        Accumulators and line.

    Returns
    -------
    tuple of array
        Pressures along a new first axis, p_j [Pa], and the water that is taken up about each, V_j [m³].

    Raises
    ------
    ValueError
        When nothing gives between the switch pressures.

    References
    ----------
    Gauss-Legendre quadrature in ln(p_x − p), apart below and above each pre-charge.

    Examples
    --------
    >>> pressure, water = cycle_pressures(2e5, 1.2e5, 1.7e5, ElasticStorage(compliance=1e-10))
    >>> len(pressure), f"{water.sum():.4g}"
    (6, '5e-06')
    """
    crossing, low, high = np.broadcast_arrays(
        *(np.asarray(given, dtype=np.float64) for given in (crossing, cut_in, cut_out))
    )
    nodes, weights = (each.reshape(-1, *(1,) * crossing.ndim) for each in (_NODES, _WEIGHTS))
    begins = [
        np.where(np.asarray(vessel.volume) > 0.0, np.clip(vessel.precharge, low, high), low)
        for vessel in storage.vessels
    ]
    ends = [low, *np.sort(np.stack(np.broadcast_arrays(*begins)), axis=0), high]
    pressures, waters = [], []
    for start, end in pairwise(ends):
        if not np.any(end > start):
            continue
        near, far = np.log(np.maximum(crossing - end, _LEAST)), np.log(np.maximum(crossing - start, _LEAST))
        below = np.exp(near + (far - near) * nodes)
        pressures.append(crossing - below)
        waters.append(weights * below * (far - near) * storage.yields(crossing - below))
    pressure, water = np.concatenate(pressures), np.concatenate(waters)
    if not np.all(water.sum(axis=0) > 0.0):
        raise ValueError("storage: neither accumulator nor line gives water between the switch pressures.")
    return pressure, water


def cycle_times(water: Volume[Real], supply: Flow[Real], draw: Flow[Real]) -> tuple[Seconds[Array], Seconds[Array]]:
    """How long the pump takes to fill in some water while outlets draw, and how long these take to draw it.

    Formula: V/(Q_p − Q), V/Q

    Parameters
    ----------
    water : float or array
        Water held about a pressure, from :func:`cycle_pressures`, V [m³].
    supply, draw : float or array
        What the pump brings at that pressure, Q_p, and what is drawn, Q [m³/s].

    Returns
    -------
    tuple of array
        Time for which the pump runs [s], and for which it rests [s].

    References
    ----------
    Conservation of volume.

    Examples
    --------
    >>> running, resting = cycle_times(1e-5, 1e-4, 5e-5)
    >>> round(float(running), 3), round(float(resting), 3)
    (0.2, 0.2)
    """
    water, draw = np.asarray(water, dtype=np.float64), np.asarray(draw, dtype=np.float64)
    return water / np.maximum(supply - draw, _NOTHING), water / np.maximum(draw, _NOTHING)
