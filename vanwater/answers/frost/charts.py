"""The charts of frost: hours until each piece is at 0 °C with its pads off, heat by face."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Role
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.frost.answer import Frost
from vanwater.answers.frost.cold import FREEZING, pads_off
from vanwater.quantities import HOURS, POWER

__all__ = ["heat_by_face", "hours_to_freeze"]

_ROLES: Mapping[str, Role] = {"fresh": "fresh", "grey": "grey", "urine": "urine", "cassette": "urine"}
_STATES: tuple[tuple[Role, str], ...] = (("cold", "parked"), ("heat", "driving"))
_MOST = 8


def hours_to_freeze(answer: Frost) -> Chart | None:
    """Hours until each piece is at 0 °C, pads off and the van heated, the first one first.

    Parameters
    ----------
    answer : Frost
        The answer on frost.

    Returns
    -------
    Chart or None
        None while nothing freezes.
    """
    if answer.first_hours is None:
        return None
    plan = answer.runs[0].cold.plan if answer.runs else answer.tanks[0].cold.plan
    bars: list[tuple[Role, Say, Number]] = [
        ("cold", say("{run}", run=run.label), run.hours["parked"]) for run in answer.runs
    ]
    for tank in answer.tanks:
        for fill, told in (("full", "{tank}, full"), ("tenth", "{tank}, last tenth")):
            bars.append(
                (_ROLES[tank.cold.plan.tanks[tank.tank].holds], say(told, tank=tank.label), tank.hours["parked"][fill])
            )
    bars = sorted((bar for bar in bars if math.isfinite(bar[2].likely)), key=lambda bar: bar[2].likely)[:_MOST]
    roles, names, hours = zip(*bars, strict=True)
    return Chart(
        "freezing",
        say(
            f"{pads_off(plan, True)}, the {{piece}} freezes first: at {{freezing}} after {{hours}}",
            piece=answer.first,
            freezing=FREEZING,
            hours=answer.first_hours.amount,
        ),
        Axis("hours to freezing", HOURS),
        Axis("piece"),
        (Bars.of(roles, names, hours),),
        say(
            f"Still water, {pads_off(plan)}, parked in the design cold, with the range of what is not sure; ice blocks "
            "it later."
        ),
    )


def heat_by_face(answer: Frost) -> Chart | None:
    """Heat that the first tank loses through its faces, parked and driving.

    Parameters
    ----------
    answer : Frost
        The answer on frost.

    Returns
    -------
    Chart or None
        None while no tank lies in the cold.
    """
    if not answer.tanks or answer.design_cold is None:
        return None
    tank = answer.tanks[0]
    names = tuple(say("{faces}, {beside}", faces=face.names, beside=face.beside) for face in tank.faces)
    return Chart(
        "faces",
        say(
            "In {cold} the {tank} loses {parked} parked and {driving} on the road",
            cold=answer.design_cold,
            tank=tank.label,
            parked=tank.loss["parked"].rounded(2),
            driving=tank.loss["driving"].rounded(2),
        ),
        Axis("heat lost", POWER),
        Axis("face"),
        tuple(_bars(role, names, state, tuple(face.loss[state] for face in tank.faces)) for role, state in _STATES),
        say("Each face by what lies beside it; a bar to the left feeds the tank."),
    )


def _bars(role: Role, names: tuple[Say, ...], state: str, losses: tuple[Number, ...]) -> Bars:
    return Bars(role, names, np.array([loss.likely for loss in losses]), label=state, numbers=losses)
