"""The charts of pump starts and hot water."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.hot_water.question import HotWater
from vanwater.answers.pump_starts.question import Accumulator
from vanwater.quantities import FLOW, STARTS, VOLUME

__all__ = ["litres_of_a_charge", "starts_against_draw"]


def starts_against_draw(answer: Accumulator) -> Chart | None:
    """Starts an hour against a steady draw, as planned.

    Parameters
    ----------
    answer : Accumulator
        The answer on accumulator and pump switch.

    Returns
    -------
    Chart or None
        None while no pump is decided.
    """
    if not answer.pumps:
        return None
    one = answer.pumps[0]
    draws, planned, soft, hard = one.along()
    worst = float(one.worst_starts.value.ravel()[0])
    fitted = one.drawdown is not None
    line = (
        Line("cold", draws, planned, say("with the {vessel}", vessel=one.vessel))
        if fitted
        else Line("cold", draws, np.sqrt(soft * hard), say("by the hoses alone"), soft, hard)
    )
    return Chart(
        "starts",
        say(
            "The {pump} starts at most {starts}, at a draw of {flow}",
            pump=one.pump,
            starts=Amount(worst, STARTS, 2),
            flow=one.worst,
        ),
        Axis("steady draw", FLOW),
        Axis("starts", STARTS),
        (line, Mark("limit", one.worst.value, worst, say("worst draw"))),
        say(
            "Starts an hour rise from none at no draw to the worst draw and fall to none where the pump runs on. "
            "Without an accumulator they would be {bare} at {flow}.",
            bare=one.bare,
            flow=Amount(one.draw, FLOW),
        ),
    )


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
