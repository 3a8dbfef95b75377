"""What is to be said of a pump's switch and its accumulator."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, Given, say
from vanwater.answers.pump_starts.pump import SMALL_DRAW, PumpCushion
from vanwater.physics.pump import shut_off_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE
from vanwater.system.compliance import accumulator_of

__all__ = ["cushion_findings", "no_accumulator"]

FAR_BELOW = 0.6
"""Share of cut-in below which a pre-charge wastes the vessel (common practice)."""


def cushion_findings(plan: Plan, one: PumpCushion) -> Iterator[Finding]:
    """The findings on one pump's switch and accumulator.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : PumpCushion
        How the pump starts and stops.

    Yields
    ------
    Finding
        Chatter, pre-charge against cut-in and cut-out.
    """
    if not one.stops:
        yield _never_stops(plan, one)
        return
    if not one.vessel:
        yield _chatters(plan, one)
        return
    yield _precharge(plan, one)


_WHY_NONE = {
    "speed-controlled": "The {pump} needs no accumulator: its speed follows the draw.",
    "submersible": "The {pump} needs no accumulator: it runs only while a tap with a switch is open.",
    "hand": "The {pump} needs no accumulator: it gives water only while it is worked.",
    "foot": "The {pump} needs no accumulator: it gives water only while it is worked.",
}


def no_accumulator(plan: Plan, pump: str) -> Finding | None:
    """The finding on a pump that no pressure switch starts and stops, so that it never cycles.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        The pump.

    Returns
    -------
    Finding or None
        Why it takes no accumulator; what one behind it does. None for a pump with a switch.
    """
    kind = plan.pumps[pump].kind
    if kind not in _WHY_NONE:
        return None
    vessel = accumulator_of(plan, pump)
    if not vessel:
        return Finding(
            f"accumulator.{pump}.none",
            Verdict.FINE,
            say(_WHY_NONE[kind], pump=pump),
            address=f"pumps.{pump}.kind",
            source="common practice",
        )
    told = (
        say("The {vessel} makes the speed control of the {pump} hunt: it takes none.", vessel=vessel, pump=pump)
        if kind == "speed-controlled"
        else say("The {vessel} does nothing: the {pump} gives water with an open tap only.", vessel=vessel, pump=pump)
    )
    return Finding(
        f"accumulator.{pump}.none",
        Verdict.WATCH,
        told,
        change=say("Leave it out, unless the pump's maker asks for one."),
        address=f"accumulators.{vessel}.at",
        source="common practice",
    )


def _never_stops(plan: Plan, one: PumpCushion) -> Finding:
    cut_out = plan.pumps[one.pump].cut_out
    assert cut_out is not None
    most = float(shut_off_pressure(one.switch.curve).ravel()[0])
    return Finding(
        f"accumulator.{one.pump}.stops",
        Verdict.FAILS,
        say(
            "The {pump} never stops: with all taps shut it makes {most}, and its switch stops it at {limit} only.",
            pump=one.pump,
            most=Amount(most, PRESSURE),
            limit=Amount(cut_out, PRESSURE),
        ),
        value=Amount(most, PRESSURE),
        limit=Amount(cut_out, PRESSURE),
        change=say("Set the switch lower, or give the pump its volts."),
        address=f"pumps.{one.pump}.cut_out",
        source="pump curve at the volts that reach it",
        bound="at least",
    )


def _chatters(plan: Plan, one: PumpCushion) -> Finding:
    least = float(np.ravel(one.switch.curve.flow_at(np.asarray(one.switch.cut_out)))[0])
    if plan.pumps[one.pump].kind == "by-pass" and least <= SMALL_DRAW:
        return Finding(
            f"accumulator.{one.pump}.by-pass",
            Verdict.FINE,
            say(
                "From {flow} on the {pump} runs on instead of cycling, the rest of its flow through its by-pass.",
                flow=Amount(least, FLOW, 2),
                pump=one.pump,
            ),
            value=Amount(least, FLOW),
            address=f"pumps.{one.pump}.by_pass",
            source="pump curve at its port against its cut-out",
        )
    decided = [name for name, vessel in plan.accumulators.items() if vessel.precharge is None]
    if decided:
        return Finding(
            f"accumulator.{one.pump}.precharge",
            Verdict.NOT_DECIDED,
            say("The pre-charge of the {vessel} is not decided.", vessel=decided[0]),
            change=say("Set it to {setting} with the line empty.", setting=one.setting.result),
            address=f"accumulators.{decided[0]}.precharge",
        )
    return Finding(
        f"accumulator.{one.pump}.chatter",
        Verdict.WATCH,
        say(
            "The {pump} chatters: its line alone gives so little that it starts {starts} at a trickle.",
            pump=one.pump,
            starts=one.bare,
        ),
        change=say("Fit an accumulator behind it, or take a pump with a speed control."),
        address=f"pumps.{one.pump}.cut_in",
        source="conservation of volume with the hoses' elasticity",
    )


def _precharge(plan: Plan, one: PumpCushion) -> Finding:
    pump = plan.pumps[one.pump]
    assert pump.cut_in is not None and pump.cut_out is not None
    planned = plan.accumulators[one.vessel].precharge
    assert planned is not None
    cut_in = Amount(pump.cut_in, PRESSURE)
    highest = one.precharge[1]
    given: dict[str, Given] = {"vessel": one.vessel, "high": Amount(highest, PRESSURE), "limit": cut_in}
    if highest >= pump.cut_out:
        verdict = Verdict.FAILS
        told = say(
            "The {vessel} takes no water on the hottest and highest day: its pre-charge reads {high} then, above "
            "cut-out.",
            vessel=one.vessel,
            high=given["high"],
        )
    elif planned > pump.cut_in:
        verdict = Verdict.WATCH
        told = say(
            "The pre-charge of the {vessel}, {planned}, lies above cut-in at {limit}: the water stutters at each "
            "start.",
            vessel=one.vessel,
            planned=Amount(planned, PRESSURE),
            limit=cut_in,
        )
    elif highest > pump.cut_in:
        verdict = Verdict.WATCH
        told = say(
            "On the hottest and highest day the pre-charge of the {vessel} reads {high}, above cut-in at {limit}: the "
            "water stutters then.",
            **given,
        )
    elif planned < FAR_BELOW * pump.cut_in:
        verdict = Verdict.WATCH
        told = say(
            "The pre-charge of the {vessel}, {planned}, lies far below cut-in at {limit}: much of its volume is idle.",
            vessel=one.vessel,
            planned=Amount(planned, PRESSURE),
            limit=cut_in,
        )
    else:
        verdict = Verdict.FINE
        told = say("The pre-charge of the {vessel} stays below cut-in: {high} at most, {limit}.", **given)
    return Finding(
        f"accumulator.{one.pump}.precharge",
        verdict,
        told,
        value=Amount(highest, PRESSURE),
        limit=cut_in,
        change=None
        if verdict is Verdict.FINE
        else say("Set it to {setting} with the line empty.", setting=one.setting.result),
        address=f"accumulators.{one.vessel}.precharge",
        source="ideal gas law over the plan's range of height and warmth; the margin is common practice",
    )
