"""Pump curve against system curves: each outlet alone, and the sets that are open together. Made on demand only."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.physics import series
from vanwater.physics.pump import PumpCurve, free_flow
from vanwater.physics.system_curve import inlet_pressure, needed_rise
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch, Row
from vanwater.system.network import open_together
from vanwater.system.pump import pump_curve
from vanwater.system.series import series_case
from vanwater.system.ways import Way

__all__ = ["PumpLine", "PumpMeets", "SystemCurve", "pump_meets"]

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
    working, rated : tuple of float, optional
        Flow and pressure behind the pump where it meets the pump's curve, at the volts that reach it and at its
        rated ones; None where no water comes.
    """

    name: str
    outlets: tuple[str, ...]
    flow: Array
    rise: Array
    pressure: Array
    working: tuple[float, float] | None
    rated: tuple[float, float] | None


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


def pump_meets(plan: Plan, pump: str, ways: Mapping[str, Way]) -> PumpMeets:
    """The curve of a pump and the system curves of all outlets and sets behind it.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        A pump whose curve is decided.
    ways : mapping of str to Way
        Ways by outlet that are whole and decided, one of them behind that pump.

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
    behind = {outlet: way for outlet, way in ways.items() if way.pump == pump}
    known = plan.pumps[pump]
    rated = known.curve_volts or 1.0  # a pump that is worked by hand has no volts; its curve is one
    real = known.volts or rated
    fast = _BEYOND * max(rated, real)
    speeds = Batch(plan, [_at(pump, volts) for volts in (rated, fast)])
    paths = {outlet: series_case(speeds, way).physics for outlet, way in behind.items()}
    alone = [_alone(outlet, path) for outlet, path in paths.items()]
    sets = {
        name: one.outlets
        for name, one in plan.together.items()
        if all(outlet in ways for outlet in one.outlets) and sum(outlet in behind for outlet in one.outlets) > 1
    }
    batch = Batch(plan, [_at(pump, volts) for volts in (rated, *np.linspace(_SLOWEST * rated, fast, _POINTS).tolist())])
    first = next(iter(paths.values()))
    return PumpMeets(
        pump,
        _line(first, pump_curve(speeds, pump), 0, real),
        _line(first, pump_curve(speeds, pump), 1, rated),
        (*(one for one in alone if one is not None), *_together(batch, pump, paths, sets)),
    )


def _at(pump: str, volts: float) -> Row:
    return Row(f"{volts!r} V", {f"pumps.{pump}.volts": volts})


def _line(path: series.SeriesPath, curve: PumpCurve, row: int, volts: float) -> PumpLine:
    """The curve of a row behind the suction side of a way; every bend of it is a point."""
    at, rated = (np.broadcast_to(one, curve.rise.shape[:-1])[row] for one in (curve.voltage, curve.rated_voltage))
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


def _alone(outlet: str, path: series.SeriesPath) -> SystemCurve | None:
    """The curve of one outlet: what its way loses, flow by flow. Rows: the plan, rated volts, faster than both."""
    solved = series.series_flow(path)
    end = float(solved.flow[-1])
    if end <= 0.0:
        return None
    flow = np.linspace(0.0, end, _POINTS)
    rise, inlet = _planned(needed_rise, path, flow), _planned(inlet_pressure, path, flow)
    if end >= float(np.ravel(path.regulated_flow)[0]):  # held there, whatever the pump gives
        flow, rise, inlet = np.append(flow, end), np.append(rise, solved.pump_rise[-1]), np.append(inlet, inlet[-1])
    real, rated = (
        (float(solved.flow[row]), float(solved.discharge_pressure[row])) if solved.reaches[row] else None
        for row in (0, 1)
    )
    return SystemCurve(outlet, (outlet,), flow, rise, rise + inlet, real, rated)


def _together(
    batch: Batch, pump: str, paths: Mapping[str, series.SeriesPath], sets: Mapping[str, Sequence[str]]
) -> list[SystemCurve]:
    """The curves of sets: the pump's operating points at many speeds, the plan's first, the rated second."""
    if not sets:
        return []
    solved = open_together(batch, list(sets.values()))
    curve = pump_curve(batch, pump)
    found: list[SystemCurve] = []
    for place, (name, opened) in enumerate(sets.items()):
        through = [outlet for outlet in opened if outlet in paths]
        flow = solved.flow[place][:, [solved.outlets.index(outlet) for outlet in through]].sum(axis=-1)
        pressure, rise = solved.discharge[pump][place], curve.rise_and_slope(flow)[0]
        real, rated = ((float(flow[row]), float(pressure[row])) if flow[row] > 0.0 else None for row in (0, 1))
        wet = 2 + np.flatnonzero(flow[2:] > 0.0)
        if wet.size:
            none = np.zeros(1)
            lift = min(float(_planned(needed_rise, paths[outlet], none)[0]) for outlet in through)
            at_rest = lift + float(_planned(inlet_pressure, paths[through[0]], none)[0])
            found.append(
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
    return found
