"""The centrifugal (submersible) pump: affinity laws, a curve from one point. None of it holds for a diaphragm pump."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Flow, Power, Pressure, Ratio, Real

__all__ = [
    "affinity_flow",
    "affinity_power",
    "affinity_rise",
    "centrifugal_rise",
]


def affinity_flow(flow: Flow[Real], speed_ratio: Ratio[Real]) -> Flow[Array]:
    """Flow of a centrifugal pump at another speed.

    Formula: Q n₂ / n₁

    Parameters
    ----------
    flow : float or array
        Flow at the first speed, Q [m³/s].
    speed_ratio : float or array
        Second speed over first speed, n₂ / n₁ [-].

    Returns
    -------
    array
        Flow at the second speed [m³/s].

    Notes
    -----
    Centrifugal (submersible) pumps only: wrong for a diaphragm pump.

    References
    ----------
    Crane, Flow of Fluids, TP-410, affinity laws.

    Examples
    --------
    >>> round(float(affinity_flow(2e-4, 0.5)), 6)
    0.0001
    """
    return np.asarray(flow, dtype=np.float64) * speed_ratio


def affinity_rise(rise: Pressure[Real], speed_ratio: Ratio[Real]) -> Pressure[Array]:
    """Pressure rise of a centrifugal pump at another speed.

    Formula: p (n₂ / n₁)²

    Parameters
    ----------
    rise : float or array
        Pressure rise at the first speed, p [Pa].
    speed_ratio : float or array
        Second speed over first speed, n₂ / n₁ [-].

    Returns
    -------
    array
        Pressure rise at the second speed, at the flow of ``affinity_flow`` [Pa].

    Notes
    -----
    Centrifugal (submersible) pumps only: wrong for a diaphragm pump.

    References
    ----------
    Crane, Flow of Fluids, TP-410, affinity laws.

    Examples
    --------
    >>> round(float(affinity_rise(6e4, 0.5)))
    15000
    """
    return rise * np.asarray(speed_ratio, dtype=np.float64) ** 2


def affinity_power(power: Power[Real], speed_ratio: Ratio[Real]) -> Power[Array]:
    """Power of a centrifugal pump at another speed.

    Formula: P (n₂ / n₁)³

    Parameters
    ----------
    power : float or array
        Power at the first speed, P [W].
    speed_ratio : float or array
        Second speed over first speed, n₂ / n₁ [-].

    Returns
    -------
    array
        Power at the second speed [W].

    Notes
    -----
    Centrifugal (submersible) pumps only: wrong for a diaphragm pump.

    References
    ----------
    Crane, Flow of Fluids, TP-410, affinity laws.

    Examples
    --------
    >>> round(float(affinity_power(40.0, 0.5)), 2)
    5.0
    """
    return power * np.asarray(speed_ratio, dtype=np.float64) ** 3


def centrifugal_rise(flow: Flow[Real], design_flow: Flow[Real], design_rise: Pressure[Real]) -> Pressure[Array]:
    """Pressure rise of a centrifugal pump of which only one point is known.

    Formula: p_d (4 − (Q / Q_d)²) / 3

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    design_flow : float or array
        Flow at the known point, Q_d [m³/s].
    design_rise : float or array
        Pressure rise at the known point, p_d [Pa].

    Returns
    -------
    array
        Pressure rise; zero at twice the known flow, negative beyond [Pa].

    Notes
    -----
    Centrifugal (submersible) pumps only: never to be offered for a diaphragm pump.

    References
    ----------
    Rossman (2000), EPANET 2 Users Manual, single-point pump curve.

    Examples
    --------
    >>> round(float(centrifugal_rise(0.0, 1e-4, 6e4)))
    80000
    """
    share = np.asarray(flow, dtype=np.float64) / design_flow
    return design_rise * (4.0 - share * share) / 3.0
