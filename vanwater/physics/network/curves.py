"""Pump curves that are no measured points."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Flow, Pressure, Real

__all__ = ["fixed_flow_points"]

DROP = 1e-6
"""Share of the flow over which the rise of a pump of fixed flow falls to nothing [-]."""


def fixed_flow_points(flow: Flow[Real], greatest_rise: Pressure[Real]) -> tuple[Flow[Array], Pressure[Array]]:
    """Points of a hand or foot pump: one flow at any pressure up to the greatest that the stroke can lift.

    Parameters
    ----------
    flow : float or array
        Flow that the strokes give [m³/s].
    greatest_rise : float or array
        Pressure rise at which the pump stalls [Pa].

    Returns
    -------
    tuple of array
        Flow [m³/s] and rise [Pa] at three points, along a last axis, as :class:`NetworkInputs` takes them.

    Raises
    ------
    ValueError
        When the flow or the greatest rise is not above zero.

    Notes
    -----
    The flow holds within one part in a million. Mean of the strokes: a single-acting pump gives it in pulses.

    References
    ----------
    Positive displacement; common practice.

    Examples
    --------
    >>> flow, rise = fixed_flow_points(6e-5, 0.8e5)
    >>> rise.tolist()
    [80000.0, 80000.0, 0.0]
    """
    steady, stall = np.broadcast_arrays(np.asarray(flow, dtype=float), np.asarray(greatest_rise, dtype=float))
    for name, values in (("flow", steady), ("greatest_rise", stall)):
        if not np.all(values > 0.0):
            raise ValueError(f"{name} is {float(values.min()):g}; expected above zero everywhere.")
    none = np.zeros_like(steady)
    return np.stack([none, steady, steady * (1.0 + DROP)], axis=-1), np.stack([stall, stall, none], axis=-1)
