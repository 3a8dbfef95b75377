"""The charts of the supply side: pump against system curves, the pressure along the way, where it goes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from vanwater.answers.outlet import Piece
from vanwater.answers.over_time import OverTime, over_time
from vanwater.answers.pressure_along import Stretch, pressure_along
from vanwater.answers.supply import Supply
from vanwater.answers.system_curve import SystemCurve, pump_meets
from vanwater.answers.wording import Amount, Say, say
from vanwater.figures.chart import Axis, Bars, Chart, Draw, Line, Mark, Rule
from vanwater.figures.roles import Role
from vanwater.figures.time_charts import flow_over_time, pressure_over_time
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, STROKES, VOLTAGE, Array
from vanwater.system.over_time import scripts

__all__ = [
    "flow_in_a_minute",
    "pressure_along_the_way",
    "pressure_budget",
    "pressure_budget_together",
    "pressure_in_a_minute",
    "pump_against_system",
]

_ROLES: Mapping[str, Role] = {
    "suction": "cold",
    "cold": "cold",
    "hot": "hot",
    "mixed": "heat",
    "pump": "battery",
    "outlet": "fresh",
    "lift": "plain",
}
_FELT = 1.0
"""Suction that is worth a word [Pa]."""
_CURVES: tuple[Role, ...] = ("cold", "hot", "heat", "fresh")
_KINDS: Mapping[tuple[str, ...], str] = {
    ("suction", "cold"): "lost, cold",
    ("hot",): "lost, hot",
    ("mixed",): "lost, mixed",
    ("pump",): "",
    ("outlet",): "",
}
"""Pieces that share a colour, and what it stands for; pump and outlet say it by their name."""


def pump_against_system(answer: Supply) -> Chart | None:
    """The pump's curve against what the outlets ask for, alone and together.

    Parameters
    ----------
    answer : Supply
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no outlet behind a pump is decided.
    """
    if not answer.main or not answer.outlets[answer.main].way.pump:
        return None
    name = answer.outlets[answer.main].way.pump
    meets = pump_meets(answer.plan, name, {outlet: one.way for outlet, one in answer.outlets.items()})
    curves = _told_first(meets.curves, answer.main)
    if not curves:
        return None
    real, rated = (say("{volts}", volts=Amount(line.volts, VOLTAGE)) for line in (meets.real, meets.rated))
    strokes = answer.plan.pumps[name].strokes
    real = real if strokes is None else say("{strokes}", strokes=Amount(strokes, STROKES, 2))  # worked by hand
    draws: list[Draw] = []
    if meets.rated.volts != meets.real.volts:
        draws.append(Line("battery", meets.rated.flow, meets.rated.pressure, say("rated {volts}", volts=rated)))
    draws.append(Line("plain", meets.real.flow, meets.real.pressure, say("{pump} at {volts}", pump=name, volts=real)))
    for role, curve in zip(_CURVES, curves, strict=False):
        draws.append(Line(role, curve.flow, curve.pressure, say("{name}", name=curve.name)))
        draws += [Mark(role, *point) for point in dict.fromkeys((curve.rated, curve.working)) if point is not None]
    return Chart(
        "pump",
        _meeting(name, curves[0], real),
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
        drawn = curve.working[0] if curve.working is not None else 0.0
        return curve.name != main or len(curve.outlets) > 1, len(curve.outlets) == 1, -drawn

    return sorted(curves, key=rank)[: len(_CURVES)]


def _meeting(pump: str, curve: SystemCurve, volts: Say) -> Say:
    if curve.working is None:
        return say("At {volts} the {pump} does not reach the {outlet}", volts=volts, pump=pump, outlet=curve.name)
    flow, pressure = curve.working
    return say(
        "The {outlet} meets the {pump} at {flow} and {pressure}",
        outlet=curve.name,
        pump=pump,
        flow=Amount(flow, FLOW),
        pressure=Amount(pressure, PRESSURE),
    )


def _told(curve: SystemCurve) -> Say:
    assert curve.working is not None  # asked only for those that meet the pump
    flow, pressure = curve.working
    return say(
        "{name} {flow} at {pressure}",
        name=curve.name,
        flow=Amount(flow, FLOW),
        pressure=Amount(pressure, PRESSURE, 2),
    )


def _switch(plan: Plan, name: str) -> list[Rule]:
    pump = plan.pumps[name]
    ends = (("cut-in", pump.cut_in), ("cut-out", pump.cut_out))
    return [Rule(say(f"{end} {{at}}", at=Amount(at, PRESSURE)), y=at) for end, at in ends if at is not None]


def _of_switch(plan: Plan, name: str) -> Say:
    stop = plan.pumps[name].cut_out
    if stop is None:
        return say("")
    return say(" Above {stop} the switch stops the pump, which then cycles.", stop=Amount(stop, PRESSURE))


def pressure_along_the_way(answer: Supply) -> Chart | None:
    """The pressure from the tank to the main outlet, what each piece lifts and loses.

    Parameters
    ----------
    answer : Supply
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no outlet is decided, or no water reaches it.
    """
    along = _along(answer)
    if not along:
        return None
    before, lifted, after = (np.array([getattr(one, end) for one in along]) for end in ("before", "lifted", "after"))
    names = tuple(one.label for one in along)
    bars = [Bars("plain", names, lifted, before, label="static lift")]
    for kind, label in _KINDS.items():
        here = np.array([one.kind in kind for one in along])
        if here.any():
            bars.append(Bars(_ROLES[kind[0]], names, np.where(here, after, lifted), lifted, label=label))
    return Chart(
        "along",
        _lifted(answer, along),
        Axis("pressure", PRESSURE),
        Axis("piece"),
        tuple(bars),
        say(
            "From the tank's surface to the open air, piece by piece: each bar begins where the one above it ends. "
            "{sucks}What drives the water, lift and losses take back, and the outlet the rest.",
            sucks=say("Left of zero the pump sucks. ") if min(one.after for one in along) < -_FELT else say(""),
        ),
    )


def _lifted(answer: Supply, along: Sequence[Stretch]) -> Say:
    left = Amount(along[-1].before, PRESSURE)
    pump = next((one for one in along if one.kind == "pump"), None)
    if pump is None:
        return say("{left} are left before the {outlet}", left=left, outlet=answer.main)
    return say(
        "The {pump} lifts the pressure from {before} to {behind}; {left} reach the {outlet}",
        pump=pump.label,
        before=Amount(pump.before, PRESSURE, 2),
        behind=Amount(pump.after, PRESSURE),
        left=left,
        outlet=answer.main,
    )


def pressure_budget(answer: Supply) -> Chart | None:
    """Where the pump's pressure goes on the way to the main outlet, largest first.

    Parameters
    ----------
    answer : Supply
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no outlet is decided.
    """
    along = _along(answer)
    if not along:
        return None
    one = answer.outlets[answer.main]
    kinds = {stretch.label: stretch.kind for stretch in along}
    budget = sorted(one.budget, key=lambda piece: -piece.loss)
    return Chart(
        "budget",
        say(
            "Of {rise} that the pump gives, {left} are left before the {outlet}",
            rise=Amount(one.rise, PRESSURE_DIFFERENCE),
            left=Amount(one.budget[-1].loss, PRESSURE_DIFFERENCE),
            outlet=answer.main,
        ),
        Axis("pressure it takes", PRESSURE_DIFFERENCE),
        Axis("piece"),
        (
            Bars(
                tuple(
                    _ROLES[piece.kind if piece.kind == "lift" else kinds.get(piece.label, "mixed")] for piece in budget
                ),
                tuple(piece.label for piece in budget),
                _losses(budget),
            ),
        ),
        say("The pieces by what they take, the largest first; together they take the pump's whole rise."),
    )


def pressure_budget_together(answer: Supply) -> Chart | None:
    """Where the pressure goes on the way to the weakest outlet of the first set, largest first.

    Parameters
    ----------
    answer : Supply
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no set of outlets is planned and decided.
    """
    if not answer.sets:
        return None
    one = answer.sets[0]
    kinds = {stretch.label: stretch.kind for stretch in pressure_along(answer.plan, one.alone[one.weakest])}

    def role(piece: Piece) -> Role:
        if piece.kind in ("run", "fittings"):
            return _ROLES[kinds.get(piece.label.removeprefix("fittings of the "), "cold")]
        return _ROLES[piece.kind if piece.kind in _ROLES else "mixed"]

    budget = one.budget.largest_first
    others = tuple(outlet for outlet in one.outlets if outlet != one.weakest)
    return Chart(
        "budget-together",
        say(
            "With the {others} open too, {left} of {rise} are left before the {outlet}",
            others=others,
            left=Amount(one.pressure[one.weakest].likely, PRESSURE_DIFFERENCE),
            rise=Amount(one.budget.rise, PRESSURE_DIFFERENCE),
            outlet=one.weakest,
        ),
        Axis("pressure it takes", PRESSURE_DIFFERENCE),
        Axis("piece"),
        (Bars(tuple(map(role, budget)), tuple(piece.label for piece in budget), _losses(budget)),),
        say(
            "The pieces on the way to the outlet that falls shortest, the largest first, each run and its fittings "
            "apart; together they take all that drives the water."
        ),
    )


def _losses(budget: Sequence[Piece]) -> Array:
    return np.array([piece.loss for piece in budget])


def pressure_in_a_minute(answer: Supply) -> Chart | None:
    """The pressure behind the pump while outlets open and shut: a set of them, else a shower, else a hand-wash.

    Parameters
    ----------
    answer : Supply
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no pump with its switch and no outlet behind it is decided.
    """
    minute = _minute(answer)
    return None if minute is None else pressure_over_time(minute)


def flow_in_a_minute(answer: Supply) -> Chart | None:
    """The flow of pump and outlets in the same minute.

    Parameters
    ----------
    answer : Supply
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None where there is no such minute.
    """
    minute = _minute(answer)
    return None if minute is None else flow_over_time(minute)


def _minute(answer: Supply) -> OverTime | None:
    name = next(iter(scripts(answer.plan)), None)
    if name is None:
        return None
    try:
        return over_time(answer.plan, name)
    except ValueError:  # an accumulator that the pump's switch does not feel: told among the accumulator's findings
        return None


def _along(answer: Supply) -> tuple[Stretch, ...]:
    return pressure_along(answer.plan, answer.outlets[answer.main]) if answer.main else ()
