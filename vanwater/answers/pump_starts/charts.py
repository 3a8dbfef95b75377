"""The chart of pump starts against the draw."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Chart, Line, Mark
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.pump_starts.answer import Accumulator
from vanwater.quantities import FLOW, STARTS

__all__ = ["starts_against_draw"]


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
