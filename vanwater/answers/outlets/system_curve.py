"""Pump curve against system curves: each outlet alone, and the sets that are open together. Made on demand only."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import stated
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics import series
from vanwater.physics.pump import PumpCurve, free_flow
from vanwater.physics.system_curve import inlet_pressure, needed_rise
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, Array, Quantity
from vanwater.system.batch import Batch, Row
from vanwater.system.network import open_together
from vanwater.system.pump import pump_curve
from vanwater.system.series import series_case

__all__ = ["PumpLine", "PumpMeets", "SystemCurve", "pump_meets", "set_points"]

NETWORK = "Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor"

_POINTS = 41
_BEYOND = 1.25  # times the higher speed: how far a system curve is followed past the pump's curve
_SLOWEST = 0.02  # of the speed at rated volts


@dataclass(frozen=True, slots=True, eq=False)
class SystemCurve:
    """What an outlet, or a set of outlets open together, asks of the pump.

    Parameters
    ----------
    name : str
        The outlet, or the name of the set.
    outlets : tuple of str
        The outlets that are open.
    flow : array
        Flow through the pump, rising [m³/s].
    rise : array
        Pressure rise that it asks for [Pa].
    pressure : array
        The same as a gauge behind the pump reads it [Pa].
    working : tuple of Number, optional
        Flow and pressure behind the pump where it meets the pump's curve at the volts that reach it; None where no
        water comes.
    rated : tuple of float, optional
        The same at its rated volts [m³/s, Pa]; None also where the pump would cycle there.
    cycles : bool
        Whether the pump cycles there, so that flow and pressure are those of its mean.
    """

    name: str
    outlets: tuple[str, ...]
    flow: Array
    rise: Array
    pressure: Array
    working: tuple[Number, Number] | None
    rated: tuple[float, float] | None
    cycles: bool = False

    @property
    def point(self) -> tuple[float, float] | None:
        """Where it works [m³/s, Pa]."""
        return None if self.working is None else (self.working[0].likely, self.working[1].likely)


@dataclass(frozen=True, slots=True, eq=False)
class PumpLine:
    """A pump's curve at one voltage.

    Parameters
    ----------
    volts : float
        The volts [V].
    flow : array
        Flow, from none to where a gauge behind it reads nothing, or the pump gives no more rise [m³/s].
    pressure : array
        Gauge pressure behind the pump: its rise less what its suction side takes [Pa].
    """

    volts: float
    flow: Array
    pressure: Array


@dataclass(frozen=True, slots=True, eq=False)
class PumpMeets:
    """A pump's curve, and the system curves that it meets.

    Parameters
    ----------
    pump : str
        Its name.
    real, rated : PumpLine
        Its curve at the volts that reach it, and at those at which it was measured.
    curves : tuple of SystemCurve
        Outlets in the plan's order, then sets.
    """

    pump: str
    real: PumpLine
    rated: PumpLine
    curves: tuple[SystemCurve, ...]


def pump_meets(plan: Plan, pump: str, outlets: Mapping[str, OutletSupply]) -> PumpMeets:
    """The curve of a pump and the system curves of all outlets and sets behind it.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        A pump whose curve is decided.
    outlets : mapping of str to OutletSupply
        The solved outlets, one of them behind that pump.

    Returns
    -------
    PumpMeets
        A set whose outlets hang on other pumps too counts what passes this one; one that passes it by one outlet
        only says nothing new and is left out.

    Notes
    -----
    Outlets alone by the law of their way, flow by flow. Sets by the whole network in one solve: a pump that runs
    faster and slower walks along the system curve, for each of its speeds meets it in one point.
    """
    behind = {name: supply for name, supply in outlets.items() if supply.way.pump == pump}
    known = plan.pumps[pump]
    rated = known.curve_volts or 1.0  # a pump that is worked by hand has no volts; its curve is one
    real = known.volts or rated
    fast = _BEYOND * max(rated, real)
    speeds = Batch(plan, [_at(pump, volts) for volts in (rated, fast)], alone=True)
    paths = {name: series_case(speeds, supply.way).physics for name, supply in behind.items()}
    alone = [_alone(supply, paths[name]) for name, supply in behind.items()]
    volts = (rated, *np.linspace(_SLOWEST * rated, fast, _POINTS).tolist())
    batch = Batch(plan, [_at(pump, each) for each in volts], alone=True)
    first = next(iter(paths.values()))
    return PumpMeets(
        pump,
        _line(first, pump_curve(speeds, pump), 0, real),
        _line(first, pump_curve(speeds, pump), 1, rated),
        (
            *(curve for curve in alone if curve is not None),
            *_together(batch, pump, paths, set_points(plan, pump, outlets)),
        ),
    )


def set_points(plan: Plan, pump: str, outlets: Mapping[str, OutletSupply]) -> Mapping[str, tuple[Number, Number]]:
    """Where sets of outlets that are open together meet a pump's curve.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        The pump.
    outlets : mapping of str to OutletSupply
        The solved outlets.

    Returns
    -------
    mapping of str to tuple of Number
        Flow through the pump and pressure behind it, by set, of those that draw on it by more than one outlet.
    """
    return plan.once(f"sets at {pump}", lambda: _set_points(plan, pump, outlets))


def _set_points(plan: Plan, pump: str, outlets: Mapping[str, OutletSupply]) -> dict[str, tuple[Number, Number]]:
    behind = {
        name: [outlet for outlet in supply.outlets if outlets[outlet].way.pump == pump]
        for name, supply in plan.together.items()
        if all(outlet in outlets for outlet in supply.outlets)
    }
    sets = {name: through for name, through in behind.items() if len(through) > 1}
    if not sets:
        return {}
    solved = open_together(Batch(plan), [plan.together[name].outlets for name in sets])
    method = "Where the pump's curve meets what the whole network takes."

    def number(what: str, name: str, value: float, quantity: Quantity) -> Number:
        at = stated(f"{what} of the {pump} with {name} open", value, quantity, method, source=NETWORK)
        return at.keyed("pump", pump, what, name)

    return {
        name: (
            number("flow", name, sum(solved.flow[place, 0, solved.outlets.index(outlet)] for outlet in through), FLOW),
            number("pressure", name, float(solved.discharge[pump][place, 0]), PRESSURE),
        )
        for place, (name, through) in enumerate(sets.items())
    }


def _at(pump: str, volts: float) -> Row:
    return Row(f"{volts!r} V", {f"pumps.{pump}.volts": volts})


def _line(path: series.SeriesPath, curve: PumpCurve, row: int, volts: float) -> PumpLine:
    """The curve of a row behind the suction side of a way; every bend of it is a point."""
    at, rated = (np.broadcast_to(volts, curve.rise.shape[:-1])[row] for volts in (curve.voltage, curve.rated_voltage))
    here = PumpCurve(curve.flow[row], curve.rise[row], float(at), float(rated))
    most = max(float(free_flow(here)), 0.0)
    bends = here.flow - float(here.slowing)
    flow = np.union1d(np.linspace(0.0, most, _POINTS), bends[(bends > 0.0) & (bends < most)])
    pressure = here.rise_and_slope(flow)[0] + _planned(inlet_pressure, path, flow)
    if pressure[-1] < 0.0 < pressure[0]:
        kept = pressure > 0.0
        nothing = float(np.interp(0.0, pressure[::-1], flow[::-1]))
        flow, pressure = np.append(flow[kept], nothing), np.append(pressure[kept], 0.0)
    return PumpLine(volts, flow, pressure)


def _planned(law: Callable[[series.SeriesPath, Array], Array], path: series.SeriesPath, flow: Array) -> Array:
    """A law of a way, flow by flow, for the row that is the plan."""
    return law(path, flow[:, np.newaxis])[:, 0]


def _alone(supply: OutletSupply, path: series.SeriesPath) -> SystemCurve | None:
    """The curve of one outlet: what its way loses, flow by flow. Rows: the plan, rated volts, faster than both."""
    solved = series.series_flow(path)
    end = float(solved.flow[-1])
    if end <= 0.0:
        return None
    flow = np.linspace(0.0, end, _POINTS)
    rise, inlet = _planned(needed_rise, path, flow), _planned(inlet_pressure, path, flow)
    if end >= float(np.ravel(path.regulated_flow)[0]):  # held there, whatever the pump gives
        flow, rise, inlet = np.append(flow, end), np.append(rise, solved.pump_rise[-1]), np.append(inlet, inlet[-1])
    real = (supply.flow, supply.discharge) if supply.reaches else None
    stop = supply.plan.pumps[supply.way.pump].cut_out or math.inf
    runs = bool(solved.reaches[1]) and float(solved.discharge_pressure[1]) <= stop
    rated = (float(solved.flow[1]), float(solved.discharge_pressure[1])) if runs else None
    cycles = bool(supply.cycles)
    return SystemCurve(supply.outlet, (supply.outlet,), flow, rise, rise + inlet, real, rated, cycles)


def _together(
    batch: Batch, pump: str, paths: Mapping[str, series.SeriesPath], points: Mapping[str, tuple[Number, Number]]
) -> list[SystemCurve]:
    """The curves of sets: the pump's operating points at many speeds, the plan's first, the rated second."""
    sets = {name: batch.plan.together[name].outlets for name in points}
    if not sets:
        return []
    solved = open_together(batch, list(sets.values()))
    curve = pump_curve(batch, pump)
    curves: list[SystemCurve] = []
    for place, (name, opened) in enumerate(sets.items()):
        through = [outlet for outlet in opened if outlet in paths]
        flow = solved.flow[place][:, [solved.outlets.index(outlet) for outlet in through]].sum(axis=-1)
        pressure, rise = solved.discharge[pump][place], curve.rise_and_slope(flow)[0]
        real = points[name] if points[name][0].likely > 0.0 else None
        rated = (float(flow[1]), float(pressure[1])) if flow[1] > 0.0 else None
        wet = 2 + np.flatnonzero(flow[2:] > 0.0)
        if wet.size:
            none = np.zeros(1)
            lift = min(float(_planned(needed_rise, paths[outlet], none)[0]) for outlet in through)
            at_rest = lift + float(_planned(inlet_pressure, paths[through[0]], none)[0])
            curves.append(
                SystemCurve(
                    name,
                    tuple(opened),
                    np.append(0.0, flow[wet]),
                    np.append(lift, rise[wet]),
                    np.append(at_rest, pressure[wet]),
                    real,
                    rated,
                )
            )
    return curves
