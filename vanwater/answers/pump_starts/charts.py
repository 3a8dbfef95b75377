"""The chart of pump starts against the draw."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Chart, Line, Mark
from vanwater.answers.core.statement import Say, say
from vanwater.answers.pump_starts.answer import PumpStarts
from vanwater.answers.pump_starts.cycle import PumpCycle
from vanwater.quantities import FLOW, STARTS

__all__ = ["starts_against_draw"]


def starts_against_draw(answer: PumpStarts) -> Chart | None:
    """Starts an hour against a steady draw, as planned.

    Parameters
    ----------
    answer : PumpStarts
        The answer on pump starts.

    Returns
    -------
    Chart or None
        None while no pump is decided, and for one that chatters.
    """
    if not answer.pumps or answer.pumps[0].worst_starts is None:
        return None
    cycle = answer.pumps[0]
    assert cycle.worst_starts is not None
    draws, planned, soft, hard = cycle.along()
    line = (
        Line("cold", draws, planned, say("with the {vessels}", vessels=cycle.vessels))
        if cycle.vessels
        else Line("cold", draws, np.sqrt(soft * hard), say("by the hoses alone"), soft, hard)
    )
    return Chart(
        "starts",
        say(
            "The {pump} starts at most {starts}, at a draw of {flow}",
            pump=cycle.pump,
            starts=cycle.worst_starts.rounded(2),
            flow=cycle.worst_draw.amount,
        ),
        Axis("steady draw", FLOW),
        Axis("starts", STARTS),
        (line, Mark("limit", cycle.worst_draw.likely, cycle.worst_starts.likely, say("worst draw"))),
        say(
            "Starts an hour rise from none at no draw to the worst draw and fall to none where the pump runs on.{bare}",
            bare=_alone(cycle),
        ),
    )


def _alone(cycle: PumpCycle) -> Say:
    if not cycle.vessel:
        return say("")
    if cycle.bare is None:
        return say(" Without an accumulator the {pump} would chatter.", pump=cycle.pump)
    return say(" Without an accumulator they would be {bare} at {flow}.", bare=cycle.bare, flow=cycle.draw)
