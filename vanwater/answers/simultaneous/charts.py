"""The chart of outlets that are open together: where the pressure goes on the way to the weakest."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Role
from vanwater.answers.core.statement import say
from vanwater.answers.outlets.outlet import BudgetPiece
from vanwater.answers.simultaneous.answer import Simultaneous
from vanwater.answers.simultaneous.sets import worst
from vanwater.quantities import PRESSURE_DIFFERENCE

__all__ = ["pressure_budget_together"]

_ROLES: Mapping[str, Role] = {"outlet": "fresh", "lift": "plain", "valve": "heat"}


def pressure_budget_together(answer: Simultaneous) -> Chart | None:
    """Where the pressure goes on the way to the weakest outlet of the worst set, largest told.

    Parameters
    ----------
    answer : Simultaneous
        The answer on outlets that are open together.

    Returns
    -------
    Chart or None
        None while no set of outlets is planned and decided.
    """
    if not answer.sets:
        return None
    told = worst(answer.sets)
    way = told.alone[told.weakest].way

    def role(piece: BudgetPiece) -> Role:
        run = piece.label.removeprefix("fittings of the ")
        if piece.kind not in ("run", "fittings"):
            return _ROLES[piece.kind]
        return "hot" if run in way.hot else "heat" if run in way.mixed and way.mixer else "cold"

    budget = told.budget.largest_first
    return Chart(
        "budget-together",
        say(
            "With the {others} open too, {left} of {rise} are left before the {outlet}",
            others=told.others(told.weakest),
            left=told.pressure[told.weakest].amount,
            rise=told.budget.rise.amount,
            outlet=told.weakest,
        ),
        Axis("pressure it takes", PRESSURE_DIFFERENCE),
        Axis("piece"),
        (
            Bars(
                tuple(map(role, budget)),
                tuple(piece.label for piece in budget),
                np.array([piece.loss.likely for piece in budget]),
                numbers=tuple(piece.loss for piece in budget),
            ),
        ),
        say(
            "The pieces on the way to the outlet that falls shortest, the largest first, each run and its fittings "
            "apart; together they take all that drives the water."
        ),
    )
