"""The system curve: the pressure rise that a way to an open outlet asks of its pump, flow by flow."""

from __future__ import annotations

import numpy as np

from vanwater.physics.series import SeriesPath
from vanwater.quantities import Array, Flow, Pressure, Real

__all__ = ["inlet_pressure", "needed_rise"]


def needed_rise(path: SeriesPath, flow: Flow[Real]) -> Pressure[Array]:
    """Pressure rise that a way to an open outlet asks of its pump at a flow: its system curve.

    Formula: Σ Δp(Q) + max(Σ Δp(x Q) hot, Σ Δp((1−x) Q) cold) + (Q/k)² − p_supply − ρ g (z_s − z_o)

    Parameters
    ----------
    path : SeriesPath
        Segments, heights and outlet; its pump does not count.
    flow : float or array
        Flow at the outlet, Q [m³/s].

    Returns
    -------
    array
        Rise that keeps that flow up; negative where height alone gives more, without end beyond a regulator's
        flow [Pa].

    Raises
    ------
    ValueError
        When a flow is negative or not finite.

    Notes
    -----
    Where it meets the pump's curve is the operating point that ``series_flow`` solves for. At no flow it is the
    static lift.

    References
    ----------
    Crane, Flow of Fluids, TP-410, chapter 1 for the losses; the meeting of pump and system curve: any textbook of
    pumps, for instance Karassik, Pump Handbook, chapter on pump systems (from memory).

    Examples
    --------
    >>> from vanwater.physics.series import COMMON
    >>> path = SeriesPath(bore=0.010, length=4.0, k=9.0, roughness=1.5e-6, density=999.5, viscosity=1.234e-3,
    ...                   role=(COMMON,), suction=(False,), hot_share=0.0, surface_height=0.2, pump_height=0.1,
    ...                   outlet_height=1.2, outlet_constant=3.2e-7)
    >>> [round(float(needed_rise(path, litres / 6e4))) for litres in (0.0, 6.0)]
    [9802, 124752]
    """
    flow = _flow(flow)
    lost = path.runs.losses(flow).total
    head = path.supply_pressure + path.lift(path.surface_height, path.outlet_height)
    needed: Array = lost + (flow / path.outlet_constant) ** 2 - head
    return np.where(flow > path.regulated_flow, np.inf, needed)


def inlet_pressure(path: SeriesPath, flow: Flow[Real]) -> Pressure[Array]:
    """Gauge pressure at the pump's inlet at a flow: negative is suction.

    Formula: p_supply + ρ g (z_s − z_p) − Σ Δp(Q)

    Parameters
    ----------
    path : SeriesPath
        Segments and heights; those before the pump count.
    flow : float or array
        Flow, Q [m³/s].

    Returns
    -------
    array
        Pressure before the pump [Pa].

    Raises
    ------
    ValueError
        When a flow is negative or not finite.

    Notes
    -----
    The pump's rise on top of it is what a gauge behind the pump reads and what its switch feels.

    References
    ----------
    Bernoulli's equation with losses, Crane, Flow of Fluids, TP-410, chapter 1.

    Examples
    --------
    >>> from vanwater.physics.series import COMMON
    >>> path = SeriesPath(bore=0.010, length=1.0, k=3.0, roughness=1.5e-6, density=999.5, viscosity=1.234e-3,
    ...                   role=(COMMON,), suction=(True,), hot_share=0.0, surface_height=0.0, pump_height=0.3,
    ...                   outlet_height=1.2, outlet_constant=3.2e-7)
    >>> [round(float(inlet_pressure(path, litres / 6e4))) for litres in (0.0, 6.0)]
    [-2941, -7872]
    """
    losses = path.runs.losses(_flow(flow)).each
    at_rest = path.supply_pressure + path.lift(path.surface_height, path.pump_height)
    before: Array = at_rest - losses[..., np.asarray(path.suction)].sum(axis=-1)
    return before


def _flow(flow: Real) -> Array:
    wanted = np.asarray(flow, dtype=np.float64)
    if not np.all((wanted >= 0.0) & np.isfinite(wanted)):
        raise ValueError(f"flow: {flow} m³/s must be finite and not negative.")
    return wanted
