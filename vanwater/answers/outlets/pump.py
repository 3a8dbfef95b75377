"""What is to be said of a pump without a pressure switch under one outlet: by speed, in the tank, by hand."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics.pump_kinds import stroke_flow
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import FLOW, PRESSURE, STROKES
from vanwater.system.pump import starts_from

__all__ = ["pump_findings"]

NEARLY = 0.999
"""Share of a pressure held, or of the strokes' flow, from which on it counts as reached."""

MEETS = "pump curve against the way's losses"


def pump_findings(plan: Plan, one: OutletSupply) -> Iterator[Finding]:
    """The findings on a pump that no pressure switch starts and stops.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        A solved outlet behind it.

    Yields
    ------
    Finding
        Whether it runs, and steadily.
    """
    kind = plan.pumps[one.way.pump].kind
    if kind == "submersible":
        yield _within(plan, one)
    elif kind == "speed-controlled":
        yield _by_speed(plan, one)
    elif kind in BY_HAND:
        yield _by_hand(plan, one)


def _within(plan: Plan, one: OutletSupply) -> Finding:
    starts = starts_from(plan, one.way.pump, one.outlet)
    given = {"outlet": one.outlet, "pump": one.way.pump}
    key, address = f"supply.{one.outlet}.pump", f"outlets.{one.outlet}.micro_switch"
    if starts is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Whether the {outlet} starts the {pump} is not decided.", **given),
            change=say("Say whether it has a micro-switch."),
            address=address,
        )
    if not starts:
        return Finding(
            key,
            Verdict.FAILS,
            say("The {outlet} has no micro-switch: opened alone it does not start the {pump}.", **given),
            change=say("Take a tap with a micro-switch."),
            address=address,
            source="a submersible pump runs only while a tap with a switch is open",
        )
    behind = Amount(one.discharge, PRESSURE)
    return Finding(
        key,
        Verdict.FINE,
        say("The {pump} runs while the {outlet} is open, at {pressure}, and never cycles.", pressure=behind, **given),
        value=behind,
        address=address,
        source=MEETS,
    )


def _by_speed(plan: Plan, one: OutletSupply) -> Finding:
    pump = plan.pumps[one.way.pump]
    assert pump.holds is not None
    at = f"pumps.{one.way.pump}"
    behind, held = Amount(one.discharge, PRESSURE), Amount(pump.holds, PRESSURE)
    if pump.least_flow is not None and one.flow.likely < pump.least_flow:
        least = Amount(pump.least_flow, FLOW)
        return Finding(
            f"supply.{one.outlet}.pump",
            Verdict.WATCH,
            say(
                "The {outlet} draws {flow}: below {least} the {pump}'s speed control starts and stops it.",
                outlet=one.outlet,
                flow=one.flow.amount,
                least=least,
                pump=one.way.pump,
            ),
            value=one.flow.amount,
            limit=least,
            change=say("Open the outlet further, or take one that gives more."),
            address=f"{at}.least_flow",
            source=MEETS,
            bound="at least",
        )
    told = (
        say(
            "Under the {outlet} the {pump} holds {held} and does not cycle.",
            outlet=one.outlet,
            pump=one.way.pump,
            held=held,
        )
        if one.rise >= NEARLY * pump.holds
        else say(
            "Under the {outlet} the {pump} runs at full speed, {pressure} behind it: {held}, which it holds, is not "
            "reached.",
            outlet=one.outlet,
            pump=one.way.pump,
            pressure=behind,
            held=held,
        )
    )
    rise = Amount(one.rise, PRESSURE)
    return Finding(
        f"supply.{one.outlet}.pump", Verdict.FINE, told, value=rise, limit=held, address=f"{at}.holds", source=MEETS
    )


def _by_hand(plan: Plan, one: OutletSupply) -> Finding:
    pump = plan.pumps[one.way.pump]
    assert pump.stroke is not None and pump.strokes is not None and pump.stall is not None
    whole = Amount(float(stroke_flow(pump.stroke, pump.strokes)), FLOW)
    stalls = one.flow.likely < NEARLY * whole.value
    rise, stall = Amount(one.rise, PRESSURE), Amount(pump.stall, PRESSURE)
    told = (
        say(
            "The {outlet} takes more than hand or foot can press: the {pump} stalls at {stall} and gives {flow} "
            "instead of {whole}.",
            outlet=one.outlet,
            pump=one.way.pump,
            stall=stall,
            flow=one.flow.amount,
            whole=whole,
        )
        if stalls
        else say(
            "Worked at {strokes} the {pump} gives {flow} at the {outlet}, against {rise}; it stalls at {stall}.",
            strokes=Amount(pump.strokes, STROKES, 2),
            pump=one.way.pump,
            flow=one.flow.amount,
            outlet=one.outlet,
            rise=rise,
            stall=stall,
        )
    )
    return Finding(
        f"supply.{one.outlet}.pump",
        Verdict.WATCH if stalls else Verdict.FINE,
        told,
        value=rise,
        limit=stall,
        change=say("Take an outlet that gives more at that pressure, or a wider hose.") if stalls else None,
        address=f"pumps.{one.way.pump}.strokes",
        source="mean of the strokes; a stroke pumps its volume at any pressure below the stall",
    )
