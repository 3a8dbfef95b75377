"""The chart of one charge of the heater."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.hot_water.answer import HotWater
from vanwater.quantities import VOLUME

__all__ = ["litres_of_a_charge"]


def litres_of_a_charge(answer: HotWater) -> Chart | None:
    """Mixed water of one charge against what one use takes.

    Parameters
    ----------
    answer : HotWater
        The answer on hot water.

    Returns
    -------
    Chart or None
        None while no use wants warm water.
    """
    warm = [one for one in answer.heaters.values() if one.charge is not None]
    if not warm:
        return None
    one = warm[0]
    assert one.charge is not None
    given = {piece.name: piece.value for piece in one.steps["use_heat"].given}
    wanted = given["volume"]
    assert isinstance(wanted, Amount)
    return Chart(
        "charge",
        say(
            "One charge makes {low} to {high}; one {use} takes {wanted}",
            low=Amount(one.charge.low, VOLUME, 2),
            high=Amount(one.charge.high, VOLUME, 2),
            use=one.use,
            wanted=wanted,
        ),
        Axis("mixed water", VOLUME),
        Axis("what"),
        (
            Bars(
                ("cold", "heat", "hot"),
                (say("one {use} takes", use=one.use), say("one charge, fully mixed"), say("one charge, hot on top")),
                np.array([wanted.value, one.charge.low, one.charge.high]),
            ),
        ),
        say("The truth lies between the two lower bars; where, only a thermometer tells."),
    )
