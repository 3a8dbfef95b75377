"""The pressure switch under an open outlet: whether the pump runs on or cycles, and what then flows.

The discharge pressure at which the pump's supply and the outlet's draw agree decides. Below the cut-out the
pump runs on; above it the pump stops and starts, and the flow swings between two values.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics._balance import COLD, HOT, SUCTION, Balance, Bools
from vanwater.physics.series import SeriesFlow, SeriesPath
from vanwater.physics.switch_cycle import cycle_pressures, cycle_times
from vanwater.physics.switching import ElasticStorage
from vanwater.quantities import Array, Flow, Pressure, Real, Seconds, Share

__all__ = [
    "SwitchedFlow",
    "draw_flow",
    "flow_held",
    "supply_flow",
    "switched_flow",
]


@dataclass(frozen=True, eq=False, kw_only=True)
class SwitchedFlow:
    """What an outlet gives behind a pump with a pressure switch; one value a row.

    Parameters
    ----------
    cycles : array
        Whether the pump stops and starts while the outlet is open.
    flow_at_cut_in : array
        Flow at the outlet when the discharge pressure is the cut-in [m³/s].
    flow_at_cut_out : array
        Flow at the outlet when the discharge pressure is the cut-out [m³/s].
    mean_flow : array
        Mean over a cycle, or the steady flow where the pump runs on [m³/s].
    running_share : array
        Share of the time that the pump runs [-].
    on, off : array
        Times on and off in a cycle [s]; infinite and none where the pump runs on, none and infinite where the outlet
        runs dry before the pump starts again.
    """

    cycles: Bools
    flow_at_cut_in: Flow[Array]
    flow_at_cut_out: Flow[Array]
    mean_flow: Flow[Array]
    running_share: Share[Array]
    on: Seconds[Array]
    off: Seconds[Array]


def draw_flow(path: SeriesPath, discharge_pressure: Pressure[Real]) -> Flow[Array]:
    """Flow at the outlet while a given pressure stands behind the pump.

    Formula: p_d + ρ g (z_p − z_o) = Σ Δp(Q) behind the pump + (Q/k)²

    Parameters
    ----------
    path : SeriesPath
        Segments, heights and outlet; the pump plays no part.
    discharge_pressure : float or array
        Gauge pressure behind the pump, p_d [Pa].

    Returns
    -------
    array
        Flow, at most that of the outlet's regulator; none where the pressure does not reach the outlet [m³/s].

    Notes
    -----
    Steady at every moment: the water's inertia settles within a tenth of a second in a van's runs.

    References
    ----------
    The balance of ``series.series_flow`` without pump and suction run.

    Examples
    --------
    >>> path = SeriesPath(bore=0.010, length=4.0, k=9.0, roughness=1.5e-6, density=999.5, viscosity=1.234e-3,
    ...                   role=(0,), suction=(False,), hot_share=0.0, surface_height=0.0, pump_height=0.1,
    ...                   outlet_height=1.2, outlet_constant=3.2e-7)
    >>> round(float(draw_flow(path, 1.8e5)) * 6e4, 2)
    7.3
    """
    behind = path.runs.only(~np.asarray(path.suction), path.runs.valve)
    head = np.asarray(discharge_pressure, dtype=np.float64) + path.lift(path.pump_height, path.outlet_height)
    flow, _ = Balance(behind, head, None, np.asarray(path.outlet_constant)).solve()
    return np.minimum(flow, path.regulated_flow)


def supply_flow(path: SeriesPath, discharge_pressure: Pressure[Real]) -> Flow[Array]:
    """Flow the pump brings through its suction run against a given pressure behind it.

    Formula: p_pump(Q) + p_supply + ρ g (z_s − z_p) = Σ Δp(Q) before the pump + p_d

    Parameters
    ----------
    path : SeriesPath
        Suction segments, heights and pump; what lies behind the pump plays no part.
    discharge_pressure : float or array
        Gauge pressure behind the pump, p_d [Pa].

    Returns
    -------
    array
        Flow; none where the pump does not reach the pressure [m³/s].

    Raises
    ------
    ValueError
        When the path has no pump.

    Notes
    -----
    A check valve in the pump holds the water where the pump does not.

    References
    ----------
    The balance of ``series.series_flow`` up to the pump's outlet.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 12.0, 12.0)
    >>> path = SeriesPath(bore=0.0125, length=1.0, k=6.0, roughness=1.5e-6, density=999.5, viscosity=1.234e-3,
    ...                   role=(0,), suction=(True,), hot_share=0.0, surface_height=-0.1, pump_height=0.1,
    ...                   outlet_height=1.2, outlet_constant=3.2e-7, pump=curve)
    >>> round(float(supply_flow(path, 1.8e5)) * 6e4, 2)
    4.62
    """
    if path.pump is None:
        raise ValueError("path: it has no pump; a pressure switch needs one.")
    before = path.runs.only(np.asarray(path.suction))
    gained = path.supply_pressure + path.lift(path.surface_height, path.pump_height)
    return Balance(before, gained - np.asarray(discharge_pressure, dtype=np.float64), path.pump, None).solve()[0]


def switched_flow(
    path: SeriesPath,
    steady: SeriesFlow,
    cut_in: Pressure[Real],
    cut_out: Pressure[Real],
    storage: ElasticStorage,
) -> SwitchedFlow:
    """What an outlet gives behind a pump with a pressure switch: steady, or the mean of a cycle.

    Formula: Q̄ = (∫ Q dV/(Q_p − Q) + ∫ dV) / (∫ dV/(Q_p − Q) + ∫ dV/Q), from cut-in to cut-out

    Parameters
    ----------
    path : SeriesPath
        The way from tank to outlet, with its pump.
    steady : SeriesFlow
        Its steady flow, from ``series.series_flow``.
    cut_in : float or array
        Gauge pressure behind the pump at which it starts [Pa].
    cut_out : float or array
        Gauge pressure behind the pump at which it stops [Pa].
    storage : ElasticStorage
        Accumulator and line, which hold the water; one number each, or one a row.

    Returns
    -------
    SwitchedFlow
        Cycling or not, the flows at the switch points, the mean, times on and off.

    Raises
    ------
    ValueError
        When cut-out is not above cut-in, the path has no pump, or nothing gives between the switch pressures.

    Notes
    -----
    Q_p(p) is what the pump brings, Q(p) what the outlet draws. The water held goes with the pressure: dV ~ dp in
    elastic hoses, dV ~ dp/p^(1/n+1) (absolute) in an accumulator above its pre-charge; its amount cancels in the mean.
    Where an outlet runs dry above the cut-in the pump does not start again: the mean is zero. The integrals run in
    ln(p_x − p), p_x the crossing, with six nodes of Gauss-Legendre: right to 0.01 % of the mean, however near the
    cut-out lies to p_x.

    References
    ----------
    Conservation of volume between pump, store and outlet; Boyle's law.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> from vanwater.physics.series import series_flow
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 12.0, 12.0)
    >>> path = SeriesPath(bore=0.010, length=4.0, k=9.0, roughness=1.5e-6, density=999.5, viscosity=1.234e-3,
    ...                   role=(0,), suction=(False,), hot_share=0.0, surface_height=0.0, pump_height=0.1,
    ...                   outlet_height=1.2, outlet_constant=1.6e-7, pump=curve)
    >>> hoses = ElasticStorage(compliance=1e-10)
    >>> found = switched_flow(path, series_flow(path), 1.2e5, 1.7e5, hoses)
    >>> bool(found.cycles), round(float(found.mean_flow) * 6e4, 2)
    (True, 3.46)
    """
    low, high = np.asarray(cut_in, dtype=np.float64), np.asarray(cut_out, dtype=np.float64)
    if np.any(high <= low):
        raise ValueError(f"cut_out: {cut_out} Pa must lie above cut_in: {cut_in} Pa.")
    if path.pump is None:
        raise ValueError("path: it has no pump; a pressure switch needs one.")
    at_ends = draw_flow(path, np.stack(np.broadcast_arrays(low, high, steady.flow)[:2]))
    cycles = steady.reaches & (steady.discharge_pressure > high)
    mean, running = steady.flow, np.ones_like(steady.flow)
    on, off = np.full_like(steady.flow, np.inf), np.zeros_like(steady.flow)
    if cycles.any():
        crossing = np.where(cycles, steady.discharge_pressure, high + 1.0)
        fed = at_ends[0] > 0.0
        drawn, runs, rests = _cycle(path, crossing, low, high, storage)
        on = np.where(cycles, np.where(fed, runs, 0.0), on)
        off = np.where(cycles, np.where(fed, rests, np.inf), off)
        mean = np.where(cycles, np.where(fed, drawn / (runs + rests), 0.0), mean)
        running = np.where(cycles, np.where(fed, runs / (runs + rests), 0.0), running)
    return SwitchedFlow(
        cycles=cycles,
        flow_at_cut_in=at_ends[0],
        flow_at_cut_out=at_ends[1],
        mean_flow=mean,
        running_share=running,
        on=on,
        off=off,
    )


def _cycle(
    path: SeriesPath, crossing: Array, low: Array, high: Array, storage: ElasticStorage
) -> tuple[Array, Array, Array]:
    """Water that the outlet takes in a cycle, and the times for which the pump runs and rests."""
    pressure, held = cycle_pressures(crossing, low, high, storage)
    draw = draw_flow(path, pressure)
    filled, emptied = cycle_times(held, supply_flow(path, pressure), draw)
    return (filled * draw + held).sum(axis=0), filled.sum(axis=0), emptied.sum(axis=0)


def flow_held(
    path: SeriesPath, steady: SeriesFlow, cycles: Bools, flow: Flow[Real], between: Pressure[Real]
) -> SeriesFlow:
    """Where the pressure goes at the moment at which an outlet gives a flow while its pump cycles.

    Formula: p_d = (Q/k)² + Σ Δp(Q) behind the pump − ρ g (z_p − z_o); the pump brings Q_p(p_d)

    Parameters
    ----------
    path : SeriesPath
        The way from tank to outlet, with its pump.
    steady : SeriesFlow
        Its steady flow, from ``series.series_flow``; kept where the pump does not cycle.
    cycles : array of bool
        Where the pump cycles, from :func:`switched_flow`.
    flow : float or array
        The flow at that moment, such as the mean of the cycle, Q; none where the outlet runs dry [m³/s].
    between : float or array
        Gauge pressure behind the pump where a flow regulator holds the flow, so that it tells nothing of it [Pa].

    Returns
    -------
    SeriesFlow
        Suction side and pump at the flow that the pump brings then, all behind it at that of the outlet.

    References
    ----------
    The balances of :func:`draw_flow` and :func:`supply_flow`.

    Examples
    --------
    >>> from vanwater.physics.pump import PumpCurve
    >>> from vanwater.physics.series import series_flow
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 12.0, 12.0)
    >>> path = SeriesPath(bore=0.010, length=4.0, k=9.0, roughness=1.5e-6, density=999.5, viscosity=1.234e-3,
    ...                   role=(0,), suction=(False,), hot_share=0.0, surface_height=0.0, pump_height=0.1,
    ...                   outlet_height=1.2, outlet_constant=1.6e-7, pump=curve)
    >>> moment = flow_held(path, series_flow(path), np.array(True), 3.46e-3 / 60, 1.5e5)
    >>> round(float(moment.discharge_pressure) / 1e5, 2), round(float(moment.pump_flow) * 6e4, 2)
    (1.47, 6.08)
    """
    most, lift = np.asarray(path.regulated_flow), path.lift(path.pump_height, path.outlet_height)
    drawn = np.where(cycles, np.minimum(flow, most), steady.flow)
    lost = path.runs.losses(drawn)
    behind = lost.total - lost.sums[..., SUCTION]
    held = drawn >= most * (1.0 - 1e-9)
    outlet = np.where(held, between + lift - behind, (drawn / np.asarray(path.outlet_constant)) ** 2)
    discharge = np.where(cycles, outlet + behind - lift, steady.discharge_pressure)
    brought = np.where(drawn > 0.0, supply_flow(path, discharge), 0.0)
    before = path.runs.losses(brought)
    inlet = path.supply_pressure + path.lift(path.surface_height, path.pump_height) - before.sums[..., SUCTION]

    def told(moment: Array, otherwise: Array) -> Array:
        return np.where(cycles, moment, otherwise)

    return SeriesFlow(
        flow=drawn,
        pump_flow=told(brought, steady.pump_flow),
        outlet_pressure=told(outlet, steady.outlet_pressure),
        losses=np.where(np.asarray(cycles)[..., None], np.where(path.suction, before.each, lost.each), steady.losses),
        leg_loss=told(np.maximum(lost.sums[..., HOT], lost.sums[..., COLD]), steady.leg_loss),
        valve_loss=told(np.broadcast_to(lost.valve, drawn.shape), steady.valve_loss),
        pump_rise=told(discharge - inlet, steady.pump_rise),
        discharge_pressure=discharge,
        pump_inlet_pressure=told(inlet, steady.pump_inlet_pressure),
        residual=told(np.zeros_like(drawn), steady.residual),
        reaches=steady.reaches & (~np.asarray(cycles) | (drawn > 0.0)),
    )
