"""What is to be said of a pump's switch, its accumulator, a tap that drips and a hand-wash."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Given, say
from vanwater.answers.core.unsure import PUMPS
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.answers.pump_starts.accumulator_findings import too_small_finding
from vanwater.answers.pump_starts.accumulator_size import LIMIT
from vanwater.answers.pump_starts.cycle import PumpCycle
from vanwater.answers.pump_starts.draws import DRIPS, NIGHT, SMALL_DRAW
from vanwater.answers.pump_starts.precharge_findings import precharge_finding, set_to
from vanwater.physics.pump import shut_off_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import (
    DAILY_VOLUME,
    HOURS,
    PRESSURE,
    SHARE,
    STARTS,
)
from vanwater.system.accumulators import accumulators_behind, cut_off

__all__ = ["cycle_findings", "no_accumulator"]

DRIP_SOURCE = "conservation of volume; what a tap drips: common practice"

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
        yield _stops(plan, cycle)
        return
    if cycle.may_not_stop:
        yield _stops(plan, cycle)
    about = [precharge_finding(plan, cycle, vessel) for vessel in cycle.vessels] or [_chatters(plan, cycle)]
    yield from about
    yield from too_small_finding(plan, cycle, any(finding.verdict is not Verdict.FINE for finding in about))
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
    vessel = next(iter(accumulators_behind(plan, pump)), "")
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


def _stops(plan: Plan, cycle: PumpCycle) -> Finding:
    """The finding on a pump that does not reach its cut-out, as planned or at the low end of what is unsure."""
    limited = planned(plan, f"pumps.{cycle.pump}.cut_out", PRESSURE).amount
    most = step("pressure with all taps shut", shut_off_pressure, curve=cycle.switch.curve).keyed(
        "pump", cycle.pump, "shut_off_pressure", pairs=cycle.pairs
    )
    weaker = limit("how much weaker a pump may be", 1.0 - PUMPS.low, SHARE, PUMPS.source, digits=2)
    given: dict[str, Given] = {"pump": cycle.pump, "most": most, "limit": limited}
    told = (
        say(
            "{weaker} weaker than planned, the {pump} no longer stops: as planned it makes {most} with all taps shut, "
            "and its switch wants {limit}. It runs on, gets hot and empties the battery.",
            weaker=weaker.amount,
            **given,
        )
        if cycle.stops
        else say(
            "The {pump} never stops: with all taps shut it makes {most}, and its switch stops it at {limit} only. It "
            "runs on, gets hot and empties the battery.",
            **given,
        )
    )
    return Finding(
        f"pump_starts.{cycle.pump}.stops",
        Verdict.WATCH if cycle.stops else Verdict.FAILS,
        told,
        value=most.amount,
        limit=limited,
        change=say("Read a gauge with all taps shut; if it runs on, lower the switch.")
        if cycle.stops
        else say("Set the switch lower, or give the pump its volts."),
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
    there = accumulators_behind(plan, cycle.pump)
    undecided = [name for name in there if plan.accumulators[name].precharge is None]
    if undecided:
        return Finding(
            f"pump_starts.{cycle.pump}.precharge",
            Verdict.NOT_DECIDED,
            say("The pre-charge of the {vessels} is not decided.", vessels=tuple(undecided)),
            change=set_to(plan, cycle, undecided[0]),
            address=f"accumulators.{undecided[0]}.precharge",
        )
    return _out_of_reach(plan, cycle, there[0]) if there else _by_its_line(cycle)


def _out_of_reach(plan: Plan, cycle: PumpCycle, vessel: str) -> Finding:
    """The finding on an accumulator whose water does not come to every outlet behind the pump."""
    at = plan.accumulators[vessel].at
    run = "" if at in plan.mixers or at in plan.outlets else cut_off(plan, at)
    does = say("chatters") if cycle.bare is None else say("starts {starts}", starts=cycle.bare)
    given: dict[str, Given] = {"vessel": vessel, "pump": cycle.pump, "does": say("runs on") if cycle.runs_on else does}
    if run:
        told = (
            "The {vessel} feeds only what lies behind the check valve in the {run}: at a trickle elsewhere the {pump} "
            "{does}."
        )
        change = say("Fit an accumulator between the {pump} and that check valve.", pump=cycle.pump)
        given["run"] = run
    else:
        told = "The {vessel} sits behind the {tap} and holds no pressure: at a trickle the {pump} {does}."
        change = say("Put the {vessel} between the {pump} and the taps.", vessel=vessel, pump=cycle.pump)
        given["tap"] = at
    return Finding(
        f"pump_starts.{cycle.pump}.chatter",
        Verdict.WATCH,
        say(told, **given),
        change=change,
        address=f"accumulators.{vessel}.at",
        source="a check valve lets water pass one way; conservation of volume with the hoses' elasticity",
    )


def _by_its_line(cycle: PumpCycle) -> Finding:
    """The finding on a pump with nothing but its hoses behind it."""
    given: dict[str, Given] = {"pump": cycle.pump, "flow": cycle.draw}
    if cycle.runs_on:
        told = say(
            "At a trickle of {flow} the {pump} runs on: it brings no more than {most} at its cut-out. At less it "
            "starts and stops, since its line alone gives little.",
            most=cycle.at_cut_out.rounded(2),
            **given,
        )
    elif cycle.bare is None:
        told = say("The {pump} chatters at a trickle of {flow}: its line alone gives hardly any water.", **given)
    else:
        told = say(
            "The {pump} starts {starts} at a trickle of {flow}: its line alone gives little water.",
            starts=cycle.bare,
            **given,
        )
    fitted = cycle.fitted
    fit = say("Take a pump with a speed control, or fit an accumulator behind it.")
    if fitted is not None:
        fit = say(
            "Take a pump with a speed control, or fit an accumulator of {size}, its pre-charge set to {setting} with "
            "the line empty.",
            size=fitted.size.amount,
            setting=cycle.setting.amount,
        )
    return Finding(
        f"pump_starts.{cycle.pump}.chatter",
        Verdict.WATCH,
        told,
        change=fit,
        gain=None
        if fitted is None or cycle.runs_on
        else say(
            "{starts} with it, less than {limit}",
            starts=fitted.starts.amount,
            limit=limit("starts of a pump under a thin stream", LIMIT, STARTS, "common practice"),
        ),
        address=f"pumps.{cycle.pump}.cut_in",
        source="conservation of volume with the hoses' elasticity; sizes and limit: common practice",
    )


def _other_accumulators(plan: Plan, cycle: PumpCycle) -> Iterator[Finding]:
    """Accumulators behind the pump that do not count: their pre-charge is not decided, or they do not feed it all."""
    for vessel in accumulators_behind(plan, cycle.pump) if cycle.vessels else ():
        if vessel in cycle.vessels:
            continue
        known = plan.accumulators[vessel].precharge is not None
        yield Finding(
            f"pump_starts.{cycle.pump}.beside.{vessel}",
            Verdict.FINE if known else Verdict.NOT_DECIDED,
            say(
                "The starts of the {pump} are told with the {counted} alone; "
                + (
                    "the {vessel} does not feed every tap, and is left out."
                    if known
                    else "the pre-charge of the {vessel} is not decided."
                ),
                pump=cycle.pump,
                counted=cycle.vessels,
                vessel=vessel,
            ),
            change=None if known else set_to(plan, cycle, vessel),
            address=f"accumulators.{vessel}.{'at' if known else 'precharge'}",
            source="a check valve lets water pass one way" if known else "",
        )


def _night(cycle: PumpCycle) -> Finding:
    low, high = (
        stated(f"{word} that a dripping tap loses", drip, DAILY_VOLUME, "Taken as such.", source="common practice")
        for word, drip in (("least", DRIPS[0]), ("most", DRIPS[-1]))
    )
    night = stated("a night", NIGHT, HOURS, "Taken as eight hours.", source="common practice")
    given: dict[str, Given] = {
        "low": low.keyed("drip", "least", digits=2),
        "high": high.keyed("drip", "most", digits=2),
        "pump": cycle.pump,
        "hours": night.keyed("night", "duration"),
    }
    if cycle.night is None:
        told = say(
            "A tap that drips {low} to {high} starts the {pump} again and again, a moment each time, all night of "
            "{hours}. Switch the pump off for the night.",
            **given,
        )
    else:
        beside = say("")
        if cycle.vessel and cycle.bare_night is not None:
            beside = say("; by its hoses alone {bare}", bare=cycle.bare_night)
        told = say(
            "A tap that drips {low} to {high} starts the {pump} {night} times in a night of {hours}{beside}. Switch "
            "the pump off for the night.",
            night=cycle.night,
            beside=beside,
            **given,
        )
    return Finding(
        f"pump_starts.{cycle.pump}.night",
        Verdict.FINE,
        told,
        value=None if cycle.night is None else cycle.night.shown,
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
            "A hand-wash of {wash} starts the {pump} {often}: the {by} {does} {gives} between two starts.",
            wash=cycle.wash,
            pump=cycle.pump,
            often=often,
            by=cycle.vessels or "line",
            does=say("give" if len(cycle.vessels) > 1 else "gives"),
            gives=cycle.between.rounded(2),
        ),
        value=cycle.wash_starts.amount,
        source="water left above cut-in taken as anything alike: holds after draws of all sizes",
    )
