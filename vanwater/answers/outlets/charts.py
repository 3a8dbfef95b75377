"""The charts of the supply side: the pressure along the way, where it goes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Role
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.outlets.answer import Supply
from vanwater.answers.outlets.outlet import Piece
from vanwater.answers.outlets.pressure_along import Stretch, pressure_along
from vanwater.quantities import PRESSURE, PRESSURE_DIFFERENCE, Array

__all__ = [
    "pressure_along_the_way",
    "pressure_budget",
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
_KINDS: Mapping[tuple[str, ...], str] = {
    ("suction", "cold"): "lost, cold",
    ("hot",): "lost, hot",
    ("mixed",): "lost, mixed",
    ("pump",): "",
    ("outlet",): "",
}
"""Pieces that share a colour, and what it stands for; pump and outlet say it by their name."""


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
        None while no outlet is decided, or where no pump drives the water.
    """
    along = _along(answer)
    if not along or not answer.outlets[answer.main].rise > 0:
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


def _losses(budget: Sequence[Piece]) -> Array:
    return np.array([piece.loss for piece in budget])


def _along(answer: Supply) -> tuple[Stretch, ...]:
    return pressure_along(answer.plan, answer.outlets[answer.main]) if answer.main else ()
