"""The charts of the supply side: the pressure along the way, where it goes."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Role
from vanwater.answers.core.statement import Say, say
from vanwater.answers.outlets.answer import Outlets
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.answers.outlets.pressure_along import Stretch, pressure_along
from vanwater.quantities import PRESSURE, PRESSURE_DIFFERENCE

__all__ = ["pressure_along_the_way", "pressure_budget"]

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


def pressure_along_the_way(answer: Outlets) -> Chart | None:
    """The pressure from the tank to the main outlet, what each piece lifts and loses.

    Parameters
    ----------
    answer : Outlets
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no outlet is decided, or no water reaches it.
    """
    along = _along(answer)
    if not along:
        return None
    before, lifted, after = (
        np.array([getattr(stretch, end) for stretch in along]) for end in ("before", "lifted", "after")
    )
    names = tuple(stretch.label for stretch in along)
    bars = [Bars("plain", names, lifted, before, label="static lift", numbers=tuple(stretch.lift for stretch in along))]
    takes = tuple(stretch.takes for stretch in along)
    for kind, label in _KINDS.items():
        here = np.array([stretch.kind in kind for stretch in along])
        if here.any():
            ends = np.where(here, after, lifted)
            bars.append(Bars(_ROLES[kind[0]], names, ends, lifted, label=label, numbers=takes))
    return Chart(
        "along",
        _lifted(answer.outlets[answer.main]),
        Axis("pressure", PRESSURE),
        Axis("piece"),
        tuple(bars),
        say(
            "From the tank's surface to the open air, piece by piece: each bar begins where the one above it ends. "
            "{sucks}What drives the water, lift and losses take back, and the outlet the rest.",
            sucks=say("Left of zero the pump sucks. ") if min(stretch.after for stretch in along) < -_FELT else say(""),
        ),
    )


def _lifted(supply: OutletSupply) -> Say:
    if not supply.way.pump:
        return say("{left} are left before the {outlet}", left=supply.pressure.amount, outlet=supply.outlet)
    return say(
        "The {pump} lifts the pressure from {before} to {behind}; {left} reach the {outlet}",
        pump=supply.way.pump,
        before=supply.inlet.rounded(2),
        behind=supply.discharge.amount,
        left=supply.pressure.amount,
        outlet=supply.outlet,
    )


def pressure_budget(answer: Outlets) -> Chart | None:
    """Where the pump's pressure goes on the way to the main outlet, largest first.

    Parameters
    ----------
    answer : Outlets
        The answer on flow and pressure.

    Returns
    -------
    Chart or None
        None while no outlet is decided, or where no pump drives the water.
    """
    along = _along(answer)
    if not along or not answer.outlets[answer.main].rise.likely > 0:
        return None
    supply = answer.outlets[answer.main]
    kinds = {stretch.label: stretch.kind for stretch in along}
    budget = sorted(supply.budget, key=lambda piece: -piece.loss.likely)
    return Chart(
        "budget",
        say(
            "Of {rise} that the pump gives, {left} are left before the {outlet}",
            rise=supply.rise.amount,
            left=supply.pressure.amount,
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
                np.array([piece.loss.likely for piece in budget]),
                numbers=tuple(piece.loss for piece in budget),
            ),
        ),
        say("The pressure that each piece takes, the largest first; together they take all that the pump makes."),
    )


def _along(answer: Outlets) -> tuple[Stretch, ...]:
    return pressure_along(answer.outlets[answer.main]) if answer.main else ()
