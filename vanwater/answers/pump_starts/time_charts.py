"""The charts of a minute: pressure at the accumulator and flow of pump and outlets while taps open and shut."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Chart, Line, Role, Rule
from vanwater.answers.core.statement import Amount, Count, Say, say
from vanwater.answers.pump_starts.over_time import OverTime
from vanwater.quantities import FLOW, PRESSURE, SECONDS, Array

__all__ = ["flow_over_time", "over_time_charts", "pressure_over_time"]

_OUTLETS: tuple[Role, ...] = ("fresh", "hot", "cold", "heat", "grey")
_POINTS = 400
_MANY = 25
"""Starts in a minute beyond which the swing is drawn as a band."""
_SPANS = 120


def over_time_charts(one: OverTime) -> tuple[Chart, Chart]:
    """Both charts of a minute, one to be set above the other.

    Parameters
    ----------
    one : OverTime
        What was followed.

    Returns
    -------
    tuple of Chart
        Pressure and flow, on the same axis of time.
    """
    return pressure_over_time(one), flow_over_time(one)


def pressure_over_time(one: OverTime) -> Chart:
    """Pressure over time between the two pressures of the switch.

    Parameters
    ----------
    one : OverTime
        What was followed.

    Returns
    -------
    Chart
        With the switch's pressures as rules; they hold at the pump, a little before the accumulator.
    """
    low, high = Amount(one.lowest, PRESSURE), Amount(one.highest, PRESSURE)
    return Chart(
        "pressure-over-time",
        say("{starts} in a minute; the pressure runs from {low} to {high}", starts=_starts(one), low=low, high=high),
        _time(one),
        Axis("pressure", PRESSURE, low=0.0, high=one.cut_out),
        (
            _line(one, "fresh", one.pressure, say("{place}", place=one.vessel or one.script.pump)),
            Rule("cut-in", y=one.cut_in),
            Rule("cut-out", y=one.cut_out),
        ),
        say(
            "The pump rests and the pressure is full at first; with the {outlets} open it falls to {low} at the "
            "lowest. {starts}, and the last point is at {last}.",
            outlets=one.outlets,
            low=low,
            starts=_starts(one),
            last=Amount(float(one.pressure[-1]), PRESSURE),
        ),
    )


def flow_over_time(one: OverTime) -> Chart:
    """Flow of the pump and of each outlet over time.

    Parameters
    ----------
    one : OverTime
        What was followed.

    Returns
    -------
    Chart
        A line for each outlet and one for the pump.
    """
    draws = [_line(one, "plain", one.pump_flow, say("{pump}", pump=one.script.pump))]
    for place, outlet in enumerate(one.outlets):
        flow: Array = np.where(one.open[place], one.outlet_flow[place], np.nan)
        draws.append(_line(one, _OUTLETS[place % len(_OUTLETS)], flow, say("{outlet}", outlet=outlet)))
    swings = tuple(_swing(one, outlet) for outlet in one.outlets)
    return Chart(
        "flow-over-time",
        say("The {swing}", swing=swings[0]),
        _time(one),
        Axis("flow", FLOW, low=0.0),
        tuple(draws),
        say("While open, the {swings}; the pump fills up what they took.", swings=swings),
    )


def _time(one: OverTime) -> Axis:
    return Axis("time", SECONDS, low=0.0, high=one.script.until)


def _line(one: OverTime, role: Role, values: Array, label: Say) -> Line:
    """The values at the points, or their mean with their swing where the pump chatters."""
    if one.starts.size <= _MANY:
        kept = one.thinned(_POINTS)
        return Line(role, one.time[kept], values[kept], label)
    edges = np.linspace(0.0, one.script.until, _SPANS + 1)
    known, width = np.nan_to_num(values), np.diff(edges)

    def over(part: Array) -> Array:
        moved = np.concatenate([[0.0], np.cumsum(np.diff(one.time) * 0.5 * (part[:-1] + part[1:]))])
        return np.asarray(np.diff(np.interp(edges, one.time, moved)) / width)

    mean, share = over(known), over((~np.isnan(values)).astype(np.float64))
    ends = np.interp(edges, one.time, known)
    low, high = np.minimum(ends[:-1], ends[1:]), np.maximum(ends[:-1], ends[1:])
    span = np.clip(np.searchsorted(edges, one.time, side="right") - 1, 0, _SPANS - 1)
    np.minimum.at(low, span, known)
    np.maximum.at(high, span, known)
    mean, low, high = (np.where(share > 0.5, part, np.nan) for part in (mean, low, high))
    return Line(role, 0.5 * (edges[:-1] + edges[1:]), mean, label, low, high)


def _starts(one: OverTime) -> Say:
    return say("The {pump} starts {count}", pump=one.script.pump, count=Count(one.starts.size, "time"))


def _swing(one: OverTime, outlet: str) -> Say:
    low, high = (Amount(end, FLOW, 2) for end in one.flow_of(outlet))
    return say("{outlet} gives {low} to {high}", outlet=outlet, low=low, high=high)
