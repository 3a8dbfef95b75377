"""What is to be said of a pump's switch, its accumulator, a tap that drips and a hand-wash."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Given, say
from vanwater.answers.core.working import planned, stated, step
from vanwater.answers.pump_starts.cycle import DRIPS, NIGHT, SMALL_DRAW, PumpCycle
from vanwater.physics.pump import shut_off_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, HOURS, PRESSURE
from vanwater.system.compliance import accumulator_of, accumulators_of

__all__ = ["cycle_findings", "no_accumulator"]

FAR_BELOW = 0.6
"""Share of cut-in below which a pre-charge wastes the vessel (common practice)."""

DRIP_SOURCE = "conservation of volume; 0.1 to 1 L/h of a dripping tap: common practice"

CERTAIN = 0.95
"""Chance from which on a hand-wash is said to start the pump every time."""


def cycle_findings(plan: Plan, cycle: PumpCycle) -> Iterator[Finding]:
    """The findings on one pump's switch and accumulator, and on small draws.

    Parameters
    ----------
    plan : Plan
        The plan.
    cycle : PumpCycle
        How the pump starts and stops.

    Yields
    ------
    Finding
        Chatter, pre-charge against cut-in and cut-out, a night with a dripping tap, a hand-wash; only that it never
        stops where it does not.
    """
    if not cycle.stops:
        yield _never_stops(plan, cycle)
        return
    yield _precharge(plan, cycle) if cycle.vessel else _chatters(plan, cycle)
    yield from _other_accumulators(plan, cycle)
    yield _night(cycle)
    yield from _hand_wash(cycle)


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
            f"pump_starts.{pump}.none",
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
        f"pump_starts.{pump}.none",
        Verdict.WATCH,
        told,
        change=say("Leave it out, unless the pump's maker asks for one."),
        address=f"accumulators.{vessel}.at",
        source="common practice",
    )


def _never_stops(plan: Plan, cycle: PumpCycle) -> Finding:
    cut_out = planned(plan, f"pumps.{cycle.pump}.cut_out", PRESSURE).amount
    most = step("pressure with all taps shut", shut_off_pressure, curve=cycle.switch.curve).keyed(
        "pump", cycle.pump, "shut_off_pressure", pairs=cycle.pairs
    )
    return Finding(
        f"pump_starts.{cycle.pump}.stops",
        Verdict.FAILS,
        say(
            "The {pump} never stops: with all taps shut it makes {most}, and its switch stops it at {limit} only.",
            pump=cycle.pump,
            most=most.amount,
            limit=cut_out,
        ),
        value=most.amount,
        limit=cut_out,
        change=say("Set the switch lower, or give the pump its volts."),
        address=f"pumps.{cycle.pump}.cut_out",
        source="pump curve at the volts that reach it",
        bound="at least",
    )


def _chatters(plan: Plan, cycle: PumpCycle) -> Finding:
    if plan.pumps[cycle.pump].kind == "by-pass" and cycle.at_cut_out.likely <= SMALL_DRAW:
        return Finding(
            f"pump_starts.{cycle.pump}.by-pass",
            Verdict.FINE,
            say(
                "From {flow} on the {pump} runs on instead of cycling, the rest of its flow through its by-pass.",
                flow=cycle.at_cut_out.rounded(2),
                pump=cycle.pump,
            ),
            value=cycle.at_cut_out.amount,
            address=f"pumps.{cycle.pump}.by_pass",
            source="pump curve at its port against its cut-out",
        )
    undecided = accumulators_of(plan, cycle.pump)
    if undecided:
        return Finding(
            f"pump_starts.{cycle.pump}.precharge",
            Verdict.NOT_DECIDED,
            say("The pre-charge of the {vessels} is not decided.", vessels=undecided),
            change=say("Set it to {setting} with the line empty.", setting=cycle.setting.amount),
            address=f"accumulators.{undecided[0]}.precharge",
        )
    return Finding(
        f"pump_starts.{cycle.pump}.chatter",
        Verdict.WATCH,
        say(
            "The {pump} chatters: its line alone gives so little that it starts {starts} at a trickle.",
            pump=cycle.pump,
            starts=cycle.bare,
        ),
        change=say("Fit an accumulator behind it, or take a pump with a speed control."),
        address=f"pumps.{cycle.pump}.cut_in",
        source="conservation of volume with the hoses' elasticity",
    )


def _precharge(plan: Plan, cycle: PumpCycle) -> Finding:
    pump, at = plan.pumps[cycle.pump], f"accumulators.{cycle.vessel}.precharge"
    assert pump.cut_in is not None and pump.cut_out is not None and cycle.hottest is not None
    set_to, cut_in = planned(plan, at, PRESSURE), planned(plan, f"pumps.{cycle.pump}.cut_in", PRESSURE)
    highest = cycle.hottest.likely
    given: dict[str, Given] = {"vessel": cycle.vessel, "high": cycle.hottest.amount, "limit": cut_in}
    as_set: dict[str, Given] = {"vessel": cycle.vessel, "planned": set_to, "limit": cut_in}
    verdict = Verdict.WATCH
    if highest >= pump.cut_out:
        verdict = Verdict.FAILS
        told = say(
            "The {vessel} takes no water on the hottest and highest day: its pre-charge reads {high} then, above "
            "cut-out.",
            vessel=cycle.vessel,
            high=cycle.hottest.amount,
        )
    elif set_to.likely > pump.cut_in:
        told = say(
            "The pre-charge of the {vessel}, {planned}, lies above cut-in at {limit}: the water stutters at each "
            "start.",
            **as_set,
        )
    elif highest > pump.cut_in:
        told = say(
            "On the hottest and highest day the pre-charge of the {vessel} reads {high}, above cut-in at {limit}: the "
            "water stutters then.",
            **given,
        )
    elif set_to.likely < FAR_BELOW * pump.cut_in:
        told = say(
            "The pre-charge of the {vessel}, {planned}, lies far below cut-in at {limit}: much of its volume is idle.",
            **as_set,
        )
    else:
        verdict = Verdict.FINE
        told = say("The pre-charge of the {vessel} stays below cut-in: {high} at most, {limit}.", **given)
    return Finding(
        f"pump_starts.{cycle.pump}.precharge",
        verdict,
        told,
        value=cycle.hottest.amount,
        limit=cut_in.amount,
        change=None
        if verdict is Verdict.FINE
        else say("Set it to {setting} with the line empty.", setting=cycle.setting.amount),
        address=at,
        source="ideal gas law over the plan's range of height and warmth; the margin is common practice",
    )


def _other_accumulators(plan: Plan, cycle: PumpCycle) -> Iterator[Finding]:
    """Accumulators behind the pump beside the one that counts."""
    for vessel in accumulators_of(plan, cycle.pump):
        if not cycle.vessel or vessel == cycle.vessel:
            continue
        known = plan.accumulators[vessel].precharge is not None
        told = "the {vessel}, the smaller one, is left out, and makes them fewer still."
        yield Finding(
            f"pump_starts.{cycle.pump}.beside.{vessel}",
            Verdict.FINE if known else Verdict.NOT_DECIDED,
            say(
                "The starts of the {pump} are told with the {counted} alone; "
                + (told if known else "the pre-charge of the {vessel} is not decided."),
                pump=cycle.pump,
                counted=cycle.vessel,
                vessel=vessel,
            ),
            change=None if known else say("Set it to {setting} with the line empty.", setting=cycle.setting.amount),
            address=f"accumulators.{vessel}.{'volume' if known else 'precharge'}",
            source="common practice" if known else "",
        )


def _night(cycle: PumpCycle) -> Finding:
    low, high = (
        stated(f"{word} that a dripping tap loses", drip, DAILY_VOLUME, "Taken as such.", source="common practice")
        for word, drip in (("least", DRIPS[0]), ("most", DRIPS[-1]))
    )
    night = stated("a night", NIGHT, HOURS, "Taken as eight hours.", source="common practice")
    beside = say("; by its hoses alone {bare}", bare=cycle.bare_night) if cycle.vessel else say("")
    return Finding(
        f"pump_starts.{cycle.pump}.night",
        Verdict.FINE,
        say(
            "A tap that drips {low} to {high} starts the {pump} {night} times in a night of {hours}{beside}. Switch "
            "the pump off for the night.",
            low=low.keyed("drip", "least"),
            high=high.keyed("drip", "most"),
            pump=cycle.pump,
            night=cycle.night,
            hours=night.keyed("night", "duration"),
            beside=beside,
        ),
        value=cycle.night.shown,
        source=DRIP_SOURCE,
    )


def _hand_wash(cycle: PumpCycle) -> Iterator[Finding]:
    if cycle.wash is None or cycle.wash_starts is None:
        return
    chance = cycle.wash_starts.likely
    often = say("every time")
    if chance < CERTAIN:
        often = say("in {cases} of 10 cases", cases=max(round(10 * chance), 1))
    yield Finding(
        f"pump_starts.{cycle.pump}.hand_wash",
        Verdict.FINE,
        say(
            "A hand-wash of {wash} starts the {pump} {often}: the {by} gives {gives} between two starts.",
            wash=cycle.wash,
            pump=cycle.pump,
            often=often,
            by=cycle.vessel or "line",
            gives=cycle.between.rounded(2),
        ),
        value=cycle.wash_starts.amount,
        source="water left above cut-in taken as anything alike: holds after draws of all sizes",
    )
