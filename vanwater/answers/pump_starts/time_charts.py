"""The charts of a minute: pressure at the accumulator and flow of pump and outlets while taps open and shut."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Chart, Line, Role, Rule
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.pump_starts.answer import PumpStarts
from vanwater.answers.pump_starts.over_time import Minute, OverTime
from vanwater.quantities import FLOW, PRESSURE, SECONDS, Array

__all__ = ["flow_in", "flow_over_time", "pressure_in", "pressure_over_time"]

_OUTLETS: tuple[Role, ...] = ("fresh", "hot", "cold", "heat", "grey")
_POINTS = 400
_MANY = 25
"""Starts in a minute beyond which the swing is drawn as a band."""
_SPANS = 120


def pressure_over_time(answer: PumpStarts) -> Chart | None:
    """The pressure while outlets open and shut, between the two of the switch.

    Parameters
    ----------
    answer : PumpStarts
        The answer on pump starts.

    Returns
    -------
    Chart or None
        With the switch's pressures as rules; they hold at the pump, a little before the accumulator. None while no pump
        with its switch and no outlet behind it is decided.
    """
    minute = _first(answer)
    return None if minute is None else pressure_in(minute)


def flow_over_time(answer: PumpStarts) -> Chart | None:
    """The flow of pump and outlets in the same minute.

    Parameters
    ----------
    answer : PumpStarts
        The answer on pump starts.

    Returns
    -------
    Chart or None
        A line for each outlet and one for the pump; None where there is no such minute.
    """
    minute = _first(answer)
    return None if minute is None else flow_in(minute)


def _first(answer: PumpStarts) -> Minute | None:
    """A set of outlets, else a shower, else a hand-wash."""
    return next(iter(answer.minutes.values()), None)


def pressure_in(minute: Minute) -> Chart:
    """Pressure over a minute."""
    planned, low, high = minute.planned, minute.lowest.amount, minute.highest.amount
    return Chart(
        "pressure-over-time",
        say("{starts}; the pressure runs from {low} to {high}", starts=_starts(planned), low=low, high=high),
        _time(planned),
        Axis("pressure", PRESSURE, low=0.0, high=planned.cut_out),
        (
            _line(planned, "fresh", planned.pressure, say("{place}", place=planned.vessel or planned.script.pump)),
            Rule("cut-in", y=planned.cut_in),
            Rule("cut-out", y=planned.cut_out),
        ),
        say(
            "The pump rests and the pressure is full at first; with the {outlets} open it falls to {low} at the "
            "lowest. {starts}, and the last point is at {last}.",
            outlets=planned.outlets,
            low=low,
            starts=_starts(planned),
            last=minute.last.amount,
        ),
    )


def flow_in(minute: Minute) -> Chart:
    """Flow of the pump and of each outlet over a minute."""
    planned = minute.planned
    draws = [_line(planned, "plain", planned.pump_flow, say("{pump}", pump=planned.script.pump))]
    for place, outlet in enumerate(planned.outlets):
        flow: Array = np.where(planned.open[place], planned.outlet_flow[place], np.nan)
        draws.append(_line(planned, _OUTLETS[place % len(_OUTLETS)], flow, say("{outlet}", outlet=outlet)))
    swings = tuple(_swing(minute, outlet) for outlet in planned.outlets)
    return Chart(
        "flow-over-time",
        say("The {swing}", swing=swings[0]),
        _time(planned),
        Axis("flow", FLOW, low=0.0),
        tuple(draws),
        say("While open, the {swings}; the pump fills up what they took.", swings=swings),
    )


def _time(told: OverTime) -> Axis:
    return Axis("time", SECONDS, low=0.0, high=told.script.until)


def _line(told: OverTime, role: Role, values: Array, label: Say) -> Line:
    """The values at the points, or their mean with their swing where the pump chatters."""
    if told.starts.size <= _MANY:
        kept = told.thinned(_POINTS)
        return Line(role, told.time[kept], values[kept], label)
    edges = np.linspace(0.0, told.script.until, _SPANS + 1)
    known, width = np.nan_to_num(values), np.diff(edges)

    def over(part: Array) -> Array:
        moved = np.concatenate([[0.0], np.cumsum(np.diff(told.time) * 0.5 * (part[:-1] + part[1:]))])
        return np.asarray(np.diff(np.interp(edges, told.time, moved)) / width)

    mean, share = over(known), over((~np.isnan(values)).astype(np.float64))
    ends = np.interp(edges, told.time, known)
    low, high = np.minimum(ends[:-1], ends[1:]), np.maximum(ends[:-1], ends[1:])
    span = np.clip(np.searchsorted(edges, told.time, side="right") - 1, 0, _SPANS - 1)
    np.minimum.at(low, span, known)
    np.maximum.at(high, span, known)
    mean, low, high = (np.where(share > 0.5, part, np.nan) for part in (mean, low, high))
    return Line(role, 0.5 * (edges[:-1] + edges[1:]), mean, label, low, high)


def _starts(told: OverTime) -> Say:
    if told.chatters:
        return say("The {pump} chatters", pump=told.script.pump)
    return say("The {pump} starts {count} in a minute", pump=told.script.pump, count=Count(told.starts.size, "time"))


def _swing(minute: Minute, outlet: str) -> Say:
    low, high = (flow.rounded(2) for flow in minute.flows[outlet])
    return say("{outlet} gives {low} to {high}", outlet=outlet, low=low, high=high)
