"""The charts of a minute: pressure at the accumulator and flow of pump and outlets while taps open and shut."""

from __future__ import annotations

import numpy as np

from vanwater.answers.over_time import OverTime
from vanwater.answers.wording import Amount, Count, Say, say
from vanwater.figures.chart import Axis, Chart, Draw, Line, Rule
from vanwater.figures.roles import Role
from vanwater.quantities import FLOW, PRESSURE, SECONDS, Array

__all__ = ["flow_over_time", "over_time_charts", "pressure_over_time"]

_OUTLETS: tuple[Role, ...] = ("fresh", "hot", "cold", "heat", "grey")
_POINTS = 400


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
    kept = one.thinned(_POINTS)
    low, high = Amount(one.lowest, PRESSURE), Amount(one.highest, PRESSURE)
    return Chart(
        "pressure-over-time",
        say("{starts}: the pressure runs from {low} to {high}", starts=_starts(one), low=low, high=high),
        _time(one),
        Axis("pressure", PRESSURE, low=0.0, high=one.cut_out),
        (
            Line("fresh", one.time[kept], one.pressure[kept], say("{place}", place=one.vessel or one.script.pump)),
            Rule("cut-in", y=one.cut_in),
            Rule("cut-out", y=one.cut_out),
        ),
        say(
            "From a full start the pressure falls while {outlets} run, to {low} at the lowest; {starts} and {stops}.",
            outlets=one.outlets,
            low=low,
            starts=_starts(one),
            stops=Count(one.stops.size, "stop"),
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
    kept = one.thinned(_POINTS)
    time = one.time[kept]
    draws: list[Draw] = [Line("plain", time, one.pump_flow[kept], say("{pump}", pump=one.script.pump))]
    for place, outlet in enumerate(one.outlets):
        flow: Array = np.where(one.open[place, kept], one.outlet_flow[place, kept], np.nan)
        draws.append(Line(_OUTLETS[place % len(_OUTLETS)], time, flow, say("{outlet}", outlet=outlet)))
    swings = tuple(_swing(one, outlet) for outlet in one.outlets)
    return Chart(
        "flow-over-time",
        say("{swing}", swing=swings[0]),
        _time(one),
        Axis("flow", FLOW, low=0.0),
        tuple(draws),
        say("While open, {swings}.", swings=swings),
    )


def _time(one: OverTime) -> Axis:
    return Axis("time", SECONDS, low=0.0, high=one.script.until)


def _starts(one: OverTime) -> Say:
    return say("{pump} makes {count}", pump=one.script.pump, count=Count(one.starts.size, "start"))


def _swing(one: OverTime, outlet: str) -> Say:
    low, high = (Amount(end, FLOW, 2) for end in one.flow_of(outlet))
    return say("{outlet} gives {low} to {high}", outlet=outlet, low=low, high=high)
