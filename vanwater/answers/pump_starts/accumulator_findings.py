"""What is to be said of an accumulator that is planned and too small."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Given, say
from vanwater.answers.core.working import limit
from vanwater.answers.pump_starts.accumulator_size import LIMIT
from vanwater.answers.pump_starts.cycle import PumpCycle
from vanwater.plan.model import Plan
from vanwater.quantities import STARTS
from vanwater.system.accumulators import accumulators_behind, decided

__all__ = ["too_small_finding"]


def too_small_finding(plan: Plan, cycle: PumpCycle, told: bool) -> Iterator[Finding]:
    """The finding on an accumulator with which the pump starts too often under a thin stream.

    Parameters
    ----------
    plan : Plan
        The plan.
    cycle : PumpCycle
        How the pump starts and stops.
    told : bool
        Whether its pre-charge is told to be set anew already.

    Yields
    ------
    Finding
        With the pre-charge that cures it, else the stock size that would serve; none where an accumulator whose
        pre-charge is not decided makes the starts fewer than they are told, or the pre-charge cures it and is told
        already.
    """
    there = accumulators_behind(plan, cycle.pump)
    if not cycle.too_small or decided(plan, there) != there or (cycle.set_right is not None and told):
        return
    change, then = say("Take a pump with a speed control."), cycle.set_right
    if then is not None:
        each = "each" if len(cycle.vessels) > 1 else "its"
        change = say(f"Set {each} pre-charge to {{setting}} with the line empty.", setting=cycle.setting.amount)
    elif cycle.fitted is not None:
        then = cycle.fitted.starts
        change = say(
            "Fit an accumulator of {size}, its pre-charge set to {setting} with the line empty.",
            size=cycle.fitted.size.amount,
            setting=cycle.setting.amount,
        )
    most = limit("starts of a pump under a thin stream", LIMIT, STARTS, "common practice")
    given: dict[str, Given] = {"vessels": cycle.vessels, "flow": cycle.draw, "pump": cycle.pump}
    given["gives"] = say("give" if len(cycle.vessels) > 1 else "gives")
    if cycle.starts is None:
        statement = say("The {vessels} {gives} too little: at a trickle of {flow} the {pump} chatters.", **given)
    else:
        statement = say(
            "The {vessels} {gives} too little: at a trickle of {flow} the {pump} starts {starts}, more than {limit}.",
            starts=cycle.starts,
            limit=most,
            **given,
        )
    yield Finding(
        f"pump_starts.{cycle.pump}.size",
        Verdict.WATCH,
        statement,
        value=None if cycle.starts is None else cycle.starts.shown,
        limit=None if cycle.starts is None else most.amount,
        change=change,
        gain=None if then is None else say("{starts} with it", starts=then.amount),
        address=f"accumulators.{cycle.vessel}.{'volume' if cycle.set_right is None else 'precharge'}",
        source="Boyle's law; sizes and limit: common practice",
    )
