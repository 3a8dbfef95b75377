"""The charts of frost: hours until each piece freezes, heat by face."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Role
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.frost.answer import Frost
from vanwater.quantities import HOURS, POWER, TEMPERATURE

__all__ = ["heat_by_face", "hours_to_freeze"]

_ROLES: Mapping[str, Role] = {"fresh": "fresh", "grey": "grey", "urine": "urine", "cassette": "urine"}
_MOST = 8


def hours_to_freeze(answer: Frost) -> Chart | None:
    """Hours until each piece is at 0 °C without heat, the first one first.

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
    bars: list[tuple[Say, Role, Range]] = [(say("{run}", run=run.run), "cold", run.hours) for run in answer.runs]
    for tank in answer.tanks:
        role = _ROLES[tank.holds]
        bars.append((say("{tank}, full", tank=tank.label), role, tank.hours["full"]))
        bars.append((say("{tank}, last tenth", tank=tank.label), role, tank.hours["tenth"]))
    bars = sorted((bar for bar in bars if np.isfinite(bar[2].likely)), key=lambda bar: bar[2].likely)[:_MOST]
    lasting = [hours for _, _, hours in bars]
    return Chart(
        "freezing",
        say("The {piece} freezes first, after {hours}", piece=answer.first, hours=answer.first_hours.amount),
        Axis("hours to freezing without heat", HOURS),
        Axis("piece"),
        (
            Bars(
                tuple(role for _, role, _ in bars),
                tuple(name for name, _, _ in bars),
                np.array([hours.likely for hours in lasting]),
                low=np.array([hours.low for hours in lasting]),
                high=np.array([hours.high for hours in lasting]),
            ),
        ),
        say("Still water without heat, parked in the design cold, with the range of what is not sure."),
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
    one = answer.tanks[0]
    names = tuple(say("{faces}, {beside}", faces=", ".join(face.names), beside=face.beside) for face in one.faces)
    parked = Bars("cold", names, np.array([face.parked for face in one.faces]), label="parked")
    driving = Bars("heat", names, np.array([face.driving for face in one.faces]), label="driving")
    return Chart(
        "faces",
        say(
            "In {cold} the {tank} loses {parked} parked and {driving} on the road",
            cold=Amount(answer.design_cold, TEMPERATURE),
            tank=one.label,
            parked=Amount(one.parked.likely, POWER, 2),
            driving=Amount(one.driving.likely, POWER, 2),
        ),
        Axis("heat lost", POWER),
        Axis("face"),
        (parked, driving),
        say("Each face by what lies beside it; a bar to the left feeds the tank."),
    )
