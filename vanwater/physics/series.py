"""One way from the tank to one outlet: the flow at which pump, lift, losses and outlet agree, row by row.

The whole flow passes the common segments; between heater and mixing tap it parts into a hot and a cold leg.
Every row is a case of its own (the plan, its unsure inputs, its remedies) and all rows are solved at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace

import numpy as np
import numpy.typing as npt

from vanwater.physics._balance import COLD, COMMON, HOT, SUCTION, Balance, Bools, Runs, Valve
from vanwater.physics.pump import PumpCurve
from vanwater.physics.statics import STANDARD_GRAVITY
from vanwater.quantities import (
    Array,
    Bore,
    Density,
    Flow,
    Length,
    OutletConstant,
    Pressure,
    PressureDifference,
    Ratio,
    Real,
    Roughness,
    Share,
    Viscosity,
)

__all__ = ["COLD", "COMMON", "HOT", "SeriesFlow", "SeriesPath", "series_flow", "series_flows"]

_SEGMENT = ("bore", "length", "k", "roughness", "density", "viscosity", "drawn")
_ROW = (
    "hot_share",
    "surface_height",
    "pump_height",
    "outlet_height",
    "outlet_constant",
    "supply_pressure",
    "regulated_flow",
    "mixer_constant",
)


_ENDLESS = ("regulated_flow", "mixer_constant")
_ABOVE_ZERO = ("bore", "density", "viscosity", "drawn", "outlet_constant", *_ENDLESS)
_NOT_NEGATIVE = ("length", "k", "roughness")


@dataclass(frozen=True, eq=False, kw_only=True)
class SeriesPath:
    """A way from tank to outlet: segments in the order of flow, heights, outlet and pump.

    Segment values have their last axis along the segments, all others are one value a row.

    Parameters
    ----------
    bore : float or array
        Inside diameter of each segment, D [m].
    length : float or array
        Length of each segment, equivalent lengths of its fittings included, L [m].
    k : float or array
        Sum of the loss coefficients of each segment on its own bore, K [-].
    roughness : float or array
        Roughness of each segment's wall, ε [m].
    density : float or array
        Density of the water in each segment, ρ [kg/m³].
    viscosity : float or array
        Viscosity of the water in each segment, μ [Pa·s].
    role : sequence of int
        COMMON, HOT or COLD, one for each segment.
    suction : sequence of bool
        Whether the segment lies before the pump, one for each segment; these are COMMON.
    hot_share : float or array
        Share of the flow that comes through the hot leg, x [-].
    surface_height : float or array
        Height of the water's surface in the tank, z_s [m].
    pump_height : float or array
        Height of the pump, z_p [m].
    outlet_height : float or array
        Height of the outlet, z_o [m].
    outlet_constant : float or array
        Flow of the open outlet at a pressure of one, k [m³/(s·√Pa)].
    pump : PumpCurve, optional
        The pump; None where gravity or a mains inlet drives the water.
    supply_pressure : float or array
        Gauge pressure above the surface: none in a vented tank, the regulator's setting at a mains inlet [Pa].
    regulated_flow : float or array
        Most that a flow regulator in the outlet lets through, infinite without one [m³/s].
    mixer_constant : float or array
        Constant of a thermostatic mixing valve's wide open port, k_v; infinite for a tap set by hand, whose loss
        belongs to the K of its two legs [m³/(s·√Pa)].
    drawn : float or array
        Flow of each segment over that of the whole way, besides its role: below 1 where other tanks or pumps give the
        rest [-].

    Raises
    ------
    ValueError
        When a bore, density, viscosity, outlet constant or what is drawn is not above zero, a length, K or roughness is
        negative, a value is not finite, a share lies outside 0 to 1, or roles and segments do not match.
    """

    bore: Bore[Real]
    length: Length[Real]
    k: Ratio[Real]
    roughness: Roughness[Real]
    density: Density[Real]
    viscosity: Viscosity[Real]
    role: npt.ArrayLike
    suction: npt.ArrayLike
    hot_share: Share[Real]
    surface_height: Length[Real]
    pump_height: Length[Real]
    outlet_height: Length[Real]
    outlet_constant: OutletConstant[Real]
    pump: PumpCurve | None = None
    supply_pressure: Pressure[Real] = 0.0
    regulated_flow: Flow[Real] = np.inf
    mixer_constant: OutletConstant[Real] = np.inf
    drawn: Ratio[Real] = 1.0
    runs: Runs = field(init=False, repr=False)
    weight: Array = field(init=False, repr=False)

    def __post_init__(self) -> None:
        values = {name: np.asarray(getattr(self, name), dtype=np.float64) for name in (*_SEGMENT, *_ROW)}
        role, suction = np.asarray(self.role, dtype=np.intp), np.asarray(self.suction, dtype=np.bool_)
        _check(values, role, suction)
        x = values["hot_share"][..., None]
        share = np.where(role == COMMON, 1.0, np.where(role == HOT, x, 1.0 - x))
        columns = np.stack([role == COMMON, role == HOT, role == COLD, suction], axis=-1).astype(np.float64)
        bore, length, k, roughness, density, viscosity, drawn = (values[name] for name in _SEGMENT)
        valve = (
            Valve(values["mixer_constant"], values["hot_share"])
            if np.isfinite(values["mixer_constant"]).any()
            else None
        )
        runs = Runs.of(bore, length, k, roughness, density, viscosity, share * drawn, columns, valve)
        weight = np.broadcast_to(values["density"], runs.viscous.shape)[..., 0] * STANDARD_GRAVITY
        for name, value in {**values, "role": role, "suction": suction, "runs": runs, "weight": weight}.items():
            object.__setattr__(self, name, value)

    def lift(self, start: Real, end: Real) -> Array:
        """Pressure the tank's water gains on its way from one height down to another [Pa]."""
        return self.weight * (np.asarray(start, dtype=np.float64) - end)


@dataclass(frozen=True, eq=False, kw_only=True)
class SeriesFlow:
    """The steady flow along a way, and where its pressure goes; one value a row.

    Parameters
    ----------
    flow : array
        Flow at the outlet, Q [m³/s].
    pump_flow : array
        Flow of suction side and pump; another than the outlet's only at a moment of a pump that cycles [m³/s].
    outlet_pressure : array
        Gauge pressure before the outlet and its regulator [Pa].
    losses : array
        Pressure each segment would lose on its own, last axis along the segments [Pa].
    leg_loss : array
        Loss of the governing leg, hot or cold, which the throttled other one loses too [Pa].
    valve_loss : array
        What a thermostatic mixing valve takes besides of that leg; none for a tap set by hand [Pa].
    pump_rise : array
        Pressure rise across the pump [Pa].
    discharge_pressure : array
        Gauge pressure behind the pump [Pa].
    pump_inlet_pressure : array
        Gauge pressure before the pump; negative is suction [Pa].
    residual : array
        What the pressures fail to add up to; none where the water does not reach the outlet [Pa].
    reaches : array
        Whether water reaches the outlet at all.
    """

    flow: Flow[Array]
    pump_flow: Flow[Array]
    outlet_pressure: Pressure[Array]
    losses: PressureDifference[Array]
    leg_loss: PressureDifference[Array]
    valve_loss: PressureDifference[Array]
    pump_rise: Pressure[Array]
    discharge_pressure: Pressure[Array]
    pump_inlet_pressure: Pressure[Array]
    residual: PressureDifference[Array]
    reaches: Bools


def series_flow(path: SeriesPath) -> SeriesFlow:
    """Steady flow along one way from tank to one outlet: pump rise and lift against losses and outlet.

    Formula: p_pump(Q) + p_supply + ρ g (z_s − z_o) = Σ Δp(Q) + max(Σ Δp(x Q) hot, Σ Δp((1−x) Q) cold) + (Q/k)²

    Parameters
    ----------
    path : SeriesPath
        Segments, heights, outlet and pump; one row a case.

    Returns
    -------
    SeriesFlow
        Flow, pressures and losses, one value a row.

    Notes
    -----
    Both legs start and end together, so the user throttles the easier one at the mixing tap: both lose the
    larger loss. A thermostatic valve opens one port as it shuts the other: it takes Δp besides the governing leg,
    x/√Δp + (1−x)/√(Δp + g) = k_v/Q, with x that leg's share and g by how much less the other leg loses. The lift
    is taken at the density of the first segment, the tank's water, all the path. A flow regulator takes what
    pressure is left over. Every sum falls with the flow, so there is one root; Newton's steps within a bracket
    find it to 1e-8 Pa. Without enough head the flow is zero: no back-flow.

    References
    ----------
    Bernoulli's equation with losses, Crane, Flow of Fluids, TP-410, chapter 1; friction by ``friction``.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 12.0, 12.0)
    >>> path = SeriesPath(bore=np.array([0.0125, 0.010]), length=np.array([1.0, 4.0]), k=np.array([6.0, 9.0]),
    ...                   roughness=1.5e-6, density=999.5, viscosity=1.234e-3, role=(COMMON, COMMON),
    ...                   suction=(True, False), hot_share=0.0, surface_height=-0.1, pump_height=0.1,
    ...                   outlet_height=1.2, outlet_constant=3.2e-7, pump=curve)
    >>> round(float(series_flow(path).flow) * 6e4, 2)
    6.3
    """
    return _flows(path.runs, path.pump, *_heads(path))


def series_flows(paths: Sequence[SeriesPath]) -> list[SeriesFlow]:
    """Steady flows along several ways, those behind one pump solved in one go.

    Parameters
    ----------
    paths : sequence of SeriesPath
        The ways, each with its rows; none hears of the others.

    Returns
    -------
    list of SeriesFlow
        What ``series_flow`` gives for each, to the solve's tolerance of 1e-8 Pa.

    References
    ----------
    As ``series_flow``.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0, 8e-5, 2e-4]), np.array([2.8e5, 1.8e5, 0]), 12.0, 12.0)
    >>> low, high = (SeriesPath(bore=np.array([0.010]), length=4.0, k=9.0, roughness=1.5e-6, density=999.5,
    ...     viscosity=1.234e-3, role=(COMMON,), suction=(False,), hot_share=np.zeros(1), surface_height=-0.1,
    ...     pump_height=0.1, outlet_height=height, outlet_constant=3.2e-7, pump=curve) for height in (0.8, 1.8))
    >>> [round(float(one.flow[0]) * 6e4, 2) for one in series_flows([low, high])]
    [6.41, 6.26]
    """
    together: dict[tuple[int, tuple[int, ...]], list[int]] = {}
    for place, path in enumerate(paths):
        together.setdefault((id(path.pump), path.runs.viscous.shape[:-1]), []).append(place)
    flows: dict[int, SeriesFlow] = {}
    for (_, rows), places in together.items():
        if len(places) == 1 or len(rows) != 1:
            flows |= {place: series_flow(paths[place]) for place in places}
            continue
        group = [paths[place] for place in places]
        heads = [
            np.stack([np.broadcast_to(row, rows) for row in each]) for each in zip(*map(_heads, group), strict=True)
        ]
        solved = _flows(Runs.side_by_side([path.runs for path in group]), group[0].pump, *heads)
        for at, place in enumerate(places):
            flow = SeriesFlow(**{each.name: getattr(solved, each.name)[at] for each in fields(SeriesFlow)})
            flows[place] = replace(flow, losses=flow.losses[:, : paths[place].runs.columns.shape[0]])
    return [flows[place] for place in range(len(paths))]


def _heads(path: SeriesPath) -> tuple[Array, ...]:
    """Pressure that drives the way, pressure at the pump before suction's loss, outlet's constant and held flow."""
    head = path.supply_pressure + path.lift(path.surface_height, path.outlet_height)
    inlet = path.supply_pressure + path.lift(path.surface_height, path.pump_height)
    return head, inlet, np.asarray(path.outlet_constant), np.asarray(path.regulated_flow)


def _flows(runs: Runs, pump: PumpCurve | None, head: Array, before: Array, k: Array, most: Array) -> SeriesFlow:
    flow, reaches = Balance(runs, head, pump, k).solve()
    held = flow >= most
    flow = np.where(held, most, flow)
    lost = runs.losses(flow)
    rise = np.zeros_like(flow) if pump is None else pump.rise_and_slope(flow)[0]
    left = rise + head - lost.total
    outlet = np.where(reaches, np.where(held, left, (flow / k) ** 2), 0.0)
    inlet = before - lost.sums[..., SUCTION]
    return SeriesFlow(
        flow=flow,
        pump_flow=flow,
        outlet_pressure=outlet,
        losses=lost.each,
        leg_loss=np.maximum(lost.sums[..., HOT], lost.sums[..., COLD]),
        valve_loss=np.broadcast_to(lost.valve, flow.shape),
        pump_rise=rise,
        discharge_pressure=inlet + rise,
        pump_inlet_pressure=inlet,
        residual=np.where(reaches, left - outlet, 0.0),
        reaches=reaches,
    )


def _check(values: dict[str, Array], role: npt.NDArray[np.intp], suction: Bools) -> None:
    if role.ndim != 1 or role.shape != suction.shape or not np.all((role >= COMMON) & (role <= COLD)):
        raise ValueError(f"role: {role} and suction: {suction} must hold one value a segment, COMMON, HOT or COLD.")
    if np.any(role[suction] != COMMON):
        raise ValueError(f"suction: segments before the pump carry the whole flow, their role {role} must be COMMON.")
    for name in (*_SEGMENT, *_ROW):
        least, most = values[name].min(), values[name].max()  # NaN goes through both
        if name not in _ENDLESS and not (-np.inf < least <= most < np.inf):
            raise ValueError(f"{name}: {values[name]} must be finite.")
        if name in _ABOVE_ZERO and not least > 0.0:
            raise ValueError(f"{name}: {values[name]} must lie above zero.")
        if name in _NOT_NEGATIVE and not least >= 0.0:
            raise ValueError(f"{name}: {values[name]} must not be negative.")
        if name == "hot_share" and not 0.0 <= least <= most <= 1.0:
            raise ValueError(f"hot_share: {values['hot_share']} must lie between 0 and 1.")
    for name in _SEGMENT:
        if values[name].ndim and values[name].shape[-1] not in (1, role.size):
            raise ValueError(f"{name}: {values[name].shape[-1]} values for {role.size} segments.")
