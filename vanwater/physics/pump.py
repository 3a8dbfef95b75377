"""The pump: a displacement (diaphragm) pump by its measured curve, and what it draws.

A diaphragm pump moves a stroke's volume a turn: its speed follows the motor's volts, its pressure sets the
motor's current. The affinity laws of centrifugal pumps do not hold for it; they stand here, named, for
submersible pumps. Pressures are rises across the pump; a curve is measured at a stated voltage.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from vanwater.physics._polyline import Polyline, polyline, rises
from vanwater.quantities import Array, Flow, Pressure, Real, Voltage

__all__ = [
    "PumpCurve",
    "free_flow",
    "pump_flow",
    "pump_rise",
    "shut_off_pressure",
]


@dataclass(frozen=True, eq=False)
class PumpCurve:
    """A displacement pump: points of its curve, the volts they were measured at, the volts that reach it.

    Straight lines join the points; the first and the last line go on beyond them. The last axis of ``flow``
    and ``rise`` runs along the points, the axes before it are rows and broadcast with the values asked for.

    Parameters
    ----------
    flow : array
        Flow at each point, rising [m³/s].
    rise : array
        Pressure rise across the pump at each point, falling [Pa].
    voltage : float or array
        Voltage that reaches the pump, V [V].
    rated_voltage : float or array
        Voltage at which the points were measured, V₀ [V].

    Raises
    ------
    ValueError
        When there are fewer than two points, the flow does not rise, the rise does not fall, or a voltage is
        not positive.
    """

    flow: Flow[Array]
    rise: Pressure[Array]
    voltage: Voltage[Real]
    rated_voltage: Voltage[Real]
    slowing: Flow[Array] = field(init=False, repr=False)
    _flow_line: Polyline = field(init=False, repr=False)
    _rise_line: Polyline = field(init=False, repr=False)

    def __post_init__(self) -> None:
        flow, rise = np.asarray(self.flow, dtype=np.float64), np.asarray(self.rise, dtype=np.float64)
        voltage, rated = np.asarray(self.voltage, dtype=np.float64), np.asarray(self.rated_voltage, dtype=np.float64)
        _check(flow, rise, voltage, rated)
        put = object.__setattr__
        put(self, "flow", flow)
        put(self, "rise", rise)
        put(self, "_rise_line", polyline(flow, rise))
        put(self, "_flow_line", polyline(-rise, flow))
        put(self, "slowing", self._flow_line.at(np.zeros(()))[0] * (1.0 - voltage / rated))

    def rise_and_slope(self, flow: Array) -> tuple[Array, Array]:
        """Pressure rise [Pa] and its slope against flow [Pa·s/m³], for solvers; no clipping."""
        return self._rise_line.at(flow + self.slowing)

    def flow_at(self, rise: Array) -> Array:
        """Flow [m³/s] on the line through the points; negative beyond the shut-off pressure."""
        return self._flow_line.at(-rise)[0] - self.slowing


def pump_flow(rise: Pressure[Real], curve: PumpCurve) -> Flow[Array]:
    """Flow of a displacement pump against a pressure rise, at the voltage that reaches it.

    Formula: max(Q₀(p) − Q₀(0) (V₀ − V) / V₀, 0)

    Parameters
    ----------
    rise : float or array
        Pressure rise across the pump, p [Pa].
    curve : PumpCurve
        Points Q₀(p) of the pump at V₀, and the voltage V that reaches it.

    Returns
    -------
    array
        Flow; none beyond the shut-off pressure [m³/s].

    Notes
    -----
    Less voltage slows the motor by the same share whatever the pressure, so that the whole curve moves down by
    one flow. A second measured curve is better where there is one. A check valve keeps water from running back.

    References
    ----------
    Displacement pump on a permanent-magnet motor, speed by volts: common practice; straight lines between points.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 11.4, 12.0)
    >>> round(float(pump_flow(1.8e5, curve)) * 6e4, 2)
    4.2
    """
    return np.maximum(curve.flow_at(np.asarray(rise, dtype=np.float64)), 0.0)


def pump_rise(flow: Flow[Real], curve: PumpCurve) -> Pressure[Array]:
    """Pressure rise of a displacement pump at a flow, at the voltage that reaches it.

    Formula: p₀(Q + Q₀(0) (V₀ − V) / V₀)

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    curve : PumpCurve
        Points p₀(Q) of the pump at V₀, and the voltage V that reaches it.

    Returns
    -------
    array
        Pressure rise; negative where more flow is forced through than the pump moves freely [Pa].

    Notes
    -----
    The same law as ``pump_flow``, read the other way.

    References
    ----------
    Displacement pump on a permanent-magnet motor, speed by volts: common practice; straight lines between points.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 12.0, 12.0)
    >>> round(float(pump_rise(1.4e-4, curve)))
    90000
    """
    return curve.rise_and_slope(np.asarray(flow, dtype=np.float64))[0]


def shut_off_pressure(curve: PumpCurve) -> Pressure[Array]:
    """Pressure rise at which a displacement pump no longer moves water, at the voltage that reaches it.

    Formula: p₀(Q₀(0) (V₀ − V) / V₀)

    Parameters
    ----------
    curve : PumpCurve
        Points p₀(Q) of the pump at V₀, and the voltage V that reaches it.

    Returns
    -------
    array
        Pressure rise without flow [Pa].

    Notes
    -----
    What every joint and hose after the pump must stand if its pressure switch sticks.

    References
    ----------
    The curve itself, first line extended where no point lies at zero flow.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0, 2e-4]), np.array([3e5, 0]), 10.8, 12.0)
    >>> round(float(shut_off_pressure(curve)))
    270000
    """
    return curve.rise_and_slope(np.zeros(()))[0]


def free_flow(curve: PumpCurve) -> Flow[Array]:
    """Flow of a displacement pump against no pressure, at the voltage that reaches it.

    Formula: Q₀(0) V / V₀

    Parameters
    ----------
    curve : PumpCurve
        Points Q₀(p) of the pump at V₀, and the voltage V that reaches it.

    Returns
    -------
    array
        Flow without pressure rise [m³/s].

    Notes
    -----
    Last line extended where no point lies at zero pressure.

    References
    ----------
    The curve itself; speed by volts: common practice.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0, 2e-4]), np.array([3e5, 0]), 10.8, 12.0)
    >>> round(float(free_flow(curve)) * 6e4, 2)
    10.8
    """
    return curve.flow_at(np.zeros(()))


def _check(flow: Array, rise: Array, voltage: Array, rated: Array) -> None:
    if flow.shape[-1:] != rise.shape[-1:] or flow.ndim == 0 or flow.shape[-1] < 2:
        raise ValueError(
            f"curve: {flow.shape} flows and {rise.shape} pressures; two points or more of each are needed."
        )
    if not rises(flow):
        raise ValueError(f"flow: the points {flow.tolist()} m³/s of the curve do not rise.")
    if not rises(-rise):
        raise ValueError(f"rise: the points {rise.tolist()} Pa of the curve do not fall with the flow.")
    if not (np.all(voltage > 0.0) and np.all(rated > 0.0)):
        raise ValueError(f"voltage: {voltage} V at the pump and {rated} V of the curve must both lie above 0 V.")
