"""The chart of a pump's curve against what the outlets ask for, alone and together."""

from __future__ import annotations

import math
from collections.abc import Sequence

from vanwater.answers.core.chart import Axis, Chart, Draw, Line, Mark, Role, Rule
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.outlets.answer import Outlets
from vanwater.answers.outlets.system_curve import SystemCurve, pump_meets
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, STROKES, VOLTAGE

__all__ = ["pump_against_system"]

_ENDS = (("cut-in", "cut_in"), ("cut-out", "cut_out"))
_CURVES: tuple[Role, ...] = ("cold", "hot", "heat", "fresh")


def pump_against_system(answer: Outlets) -> Chart | None:
    """The pump's curve against what the outlets ask for, alone and together.

    Parameters
    ----------
    answer : Outlets
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no outlet behind a pump is decided.
    """
    if not answer.main or not answer.outlets[answer.main].way.pump:
        return None
    name = answer.outlets[answer.main].way.pump
    meets = pump_meets(answer.plan, name, answer.outlets)
    curves = _told_first(meets.curves, answer.main)
    if not curves:
        return None
    rated = planned(answer.plan, f"pumps.{name}.curve_volts", VOLTAGE)
    volts = planned(answer.plan, f"pumps.{name}.volts", VOLTAGE)
    strokes = planned(answer.plan, f"pumps.{name}.strokes", STROKES, 2)  # of a pump that is worked by hand
    at = next((number for number in (strokes, volts) if not math.isnan(number.likely)), rated).amount
    draws: list[Draw] = []
    if meets.rated.volts != meets.real.volts:
        draws.append(Line("battery", meets.rated.flow, meets.rated.pressure, say("rated {volts}", volts=rated.amount)))
    draws.append(Line("plain", meets.real.flow, meets.real.pressure, say("{pump} at {volts}", pump=name, volts=at)))
    for role, curve in zip(_CURVES, curves, strict=False):
        draws.append(Line(role, curve.flow, curve.pressure, say("{name}", name=curve.name)))
        points = (curve.rated, curve.point) if meets.rated.volts != meets.real.volts else (curve.point,)
        draws += [Mark(role, *point) for point in points if point is not None]
    return Chart(
        "pump",
        _meeting(name, curves[0], at),
        Axis("flow", FLOW),
        Axis("pressure behind the pump", PRESSURE),
        (*draws, *_switch(answer.plan, name)),
        say(
            "Each outlet, alone or together with others, asks for more pressure the more flows; the pump gives less. "
            "Where two curves meet the water runs: {points}.{switch}",
            points=tuple(_told(curve) for curve in curves if curve.working is not None),
            switch=_of_switch(answer.plan, name),
        ),
    )


def _told_first(curves: Sequence[SystemCurve], main: str) -> list[SystemCurve]:
    """As many as can be told apart: the main outlet, the sets, then the other outlets by what they draw."""

    def rank(curve: SystemCurve) -> tuple[bool, bool, float]:
        drawn = curve.point[0] if curve.point is not None else 0.0
        return curve.name != main or len(curve.outlets) > 1, len(curve.outlets) == 1, -drawn

    return sorted(curves, key=rank)[: len(_CURVES)]


def _meeting(pump: str, curve: SystemCurve, volts: Amount) -> Say:
    if curve.working is None:
        return say("At {volts} the {pump} does not reach the {outlet}", volts=volts, pump=pump, outlet=curve.name)
    flow, pressure = curve.working
    if curve.cycles:
        return say(
            "Under the {outlet} the {pump} cycles: {flow} in the mean, at {pressure}",
            outlet=curve.name,
            pump=pump,
            flow=flow.amount,
            pressure=pressure.amount,
        )
    return say(
        "The {outlet} meets the {pump} at {flow} and {pressure}",
        outlet=curve.name,
        pump=pump,
        flow=flow.amount,
        pressure=pressure.amount,
    )


def _told(curve: SystemCurve) -> Say:
    assert curve.working is not None  # asked only for those that meet the pump
    flow, pressure = curve.working
    return say(
        "{name} {flow} in the mean at {pressure}, while the pump cycles"
        if curve.cycles
        else "{name} {flow} at {pressure}",
        name=curve.name,
        flow=flow.amount,
        pressure=pressure.rounded(2),
    )


def _switch(plan: Plan, name: str) -> list[Rule]:
    ends = [(end, planned(plan, f"pumps.{name}.{field}", PRESSURE)) for end, field in _ENDS]
    return [Rule(say(f"{end} {{at}}", at=at), y=at.likely) for end, at in ends if not math.isnan(at.likely)]


def _of_switch(plan: Plan, name: str) -> Say:
    stop = planned(plan, f"pumps.{name}.cut_out", PRESSURE)
    if math.isnan(stop.likely):
        return say("")
    return say(" Above {stop} the switch stops the pump, which then cycles.", stop=stop)
