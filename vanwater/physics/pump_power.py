"""What a pump draws: power in the water, power and current taken."""

from __future__ import annotations

import numpy as np

from vanwater.physics._polyline import polyline
from vanwater.physics.pump import PumpCurve
from vanwater.quantities import Array, Current, Flow, Power, Pressure, Real, Share, Voltage

__all__ = [
    "current_at_rise",
    "current_drawn",
    "electric_power",
    "hydraulic_power",
]


def hydraulic_power(flow: Flow[Real], rise: Pressure[Real]) -> Power[Array]:
    """Power that the water gains in the pump.

    Formula: Q p

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    rise : float or array
        Pressure rise across the pump, p [Pa].

    Returns
    -------
    array
        Power in the water [W].

    Notes
    -----
    Incompressible water.

    References
    ----------
    Crane, Flow of Fluids, TP-410, pump power.

    Examples
    --------
    >>> round(float(hydraulic_power(1.2e-4, 1.9e5)), 1)
    22.8
    """
    return np.asarray(flow, dtype=np.float64) * rise


def electric_power(flow: Flow[Real], rise: Pressure[Real], efficiency: Share[Real]) -> Power[Array]:
    """Power that the pump takes for a flow against a pressure rise.

    Formula: Q p / η

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    rise : float or array
        Pressure rise across the pump, p [Pa].
    efficiency : float or array
        Share of the power taken that reaches the water, η, all stages multiplied [-].

    Returns
    -------
    array
        Power taken [W].

    Raises
    ------
    ValueError
        When the efficiency does not lie above 0 and at or below 1.

    Notes
    -----
    A small diaphragm pump with its motor reaches some 0.25 to 0.45 (common practice, unsure): measure the amps.

    References
    ----------
    Crane, Flow of Fluids, TP-410, pump power.

    Examples
    --------
    >>> round(float(electric_power(1.2e-4, 1.9e5, 0.35)), 1)
    65.1
    """
    share = np.asarray(efficiency, dtype=np.float64)
    if not np.all((share > 0.0) & (share <= 1.0)):
        raise ValueError(f"efficiency: {efficiency} is no share above 0 and at most 1.")
    return np.asarray(flow, dtype=np.float64) * rise / share


def current_drawn(
    flow: Flow[Real], rise: Pressure[Real], efficiency: Share[Real], voltage: Voltage[Real]
) -> Current[Array]:
    """Current that the pump takes for a flow against a pressure rise.

    Formula: Q p / (η V)

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    rise : float or array
        Pressure rise across the pump, p [Pa].
    efficiency : float or array
        Share of the power taken that reaches the water, η [-].
    voltage : float or array
        Voltage that reaches the pump, V [V].

    Returns
    -------
    array
        Current [A].

    Raises
    ------
    ValueError
        When the efficiency does not lie above 0 and at or below 1, or the voltage is not positive.

    Notes
    -----
    Near the shut-off pressure the efficiency falls to nothing: there use measured points, ``current_at_rise``.

    References
    ----------
    Energy balance of the pump; efficiency as measured.

    Examples
    --------
    >>> round(float(current_drawn(1.2e-4, 1.9e5, 0.35, 12.0)), 2)
    5.43
    """
    volts = np.asarray(voltage, dtype=np.float64)
    if not np.all(volts > 0.0):
        raise ValueError(f"voltage: {voltage} V is not above 0 V.")
    return electric_power(flow, rise, efficiency) / volts


def current_at_rise(rise: Pressure[Real], curve: PumpCurve, currents: Current[Array]) -> Current[Array]:
    """Current of a displacement pump by points measured along its curve.

    Parameters
    ----------
    rise : float or array
        Pressure rise across the pump, p [Pa].
    curve : PumpCurve
        The pump; its points' pressures are those at which the currents were measured.
    currents : array
        Current at each point of the curve, last axis along the points [A].

    Returns
    -------
    array
        Current [A].

    Raises
    ------
    ValueError
        When there is not one current for each point.

    Notes
    -----
    Straight lines between the points, the end lines go on. Pressure sets the torque and so the current;
    the volts set the speed, so that the same current serves at less voltage.

    References
    ----------
    Permanent-magnet motor: torque in proportion to current; straight lines between points.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 12.0, 12.0)
    >>> round(float(current_at_rise(0.9e5, curve, np.array([8.0, 6.5, 3.0]))), 2)
    4.75
    """
    amps = np.asarray(currents, dtype=np.float64)
    if amps.shape[-1:] != curve.rise.shape[-1:]:
        raise ValueError(f"currents: {amps.shape[-1:]} values for {curve.rise.shape[-1]} points of the curve.")
    return polyline(-curve.rise, amps).at(-np.asarray(rise, dtype=np.float64))[0]
