"""What is to be said of a pump without a pressure switch under one outlet: by speed, in the tank, by hand."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned, step
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics.pump_kinds import stroke_flow
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import FLOW, PRESSURE, STROKES, VOLUME
from vanwater.system.pump import starts_from

__all__ = ["pump_findings"]

NEARLY = 0.999
"""Share of a pressure held, or of the strokes' flow, from which on it counts as reached."""

MEETS = "pump curve against the way's losses"


def pump_findings(one: OutletSupply) -> Iterator[Finding]:
    """The findings on a pump that no pressure switch starts and stops.

    Parameters
    ----------
    one : OutletSupply
        A solved outlet behind it.

    Yields
    ------
    Finding
        Whether it runs, and steadily.
    """
    kind = one.plan.pumps[one.way.pump].kind
    if kind == "submersible":
        yield _within(one)
    elif kind == "speed-controlled":
        yield _by_speed(one)
    elif kind in BY_HAND:
        yield _by_hand(one)


def _within(one: OutletSupply) -> Finding:
    starts = starts_from(one.plan, one.way.pump, one.outlet)
    given = {"outlet": one.outlet, "pump": one.way.pump}
    key, address = f"outlets.{one.outlet}.pump", f"outlets.{one.outlet}.micro_switch"
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
    behind = one.discharge.amount
    return Finding(
        key,
        Verdict.FINE,
        say("The {pump} runs while the {outlet} is open, at {pressure}, and never cycles.", pressure=behind, **given),
        value=behind,
        address=address,
        source=MEETS,
    )


def _by_speed(one: OutletSupply) -> Finding:
    pump = one.plan.pumps[one.way.pump]
    assert pump.holds is not None
    at = f"pumps.{one.way.pump}"
    behind, held = one.discharge.amount, planned(one.plan, f"{at}.holds", PRESSURE).amount
    if pump.least_flow is not None and one.flow.likely < pump.least_flow:
        least = planned(one.plan, f"{at}.least_flow", FLOW).amount
        return Finding(
            f"outlets.{one.outlet}.pump",
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
        if one.rise.likely >= NEARLY * pump.holds
        else say(
            "Under the {outlet} the {pump} runs at full speed, {pressure} behind it: {held}, which it holds, is not "
            "reached.",
            outlet=one.outlet,
            pump=one.way.pump,
            pressure=behind,
            held=held,
        )
    )
    return Finding(
        f"outlets.{one.outlet}.pump",
        Verdict.FINE,
        told,
        value=one.rise.amount,
        limit=held,
        address=f"{at}.holds",
        source=MEETS,
    )


def _by_hand(one: OutletSupply) -> Finding:
    at = f"pumps.{one.way.pump}"
    strokes = planned(one.plan, f"{at}.strokes", STROKES, 2)
    stroke = planned(one.plan, f"{at}.stroke", VOLUME)
    whole = step(f"flow of the {one.way.pump}'s strokes", stroke_flow, stroke=stroke, strokes=strokes)
    whole = whole.keyed("pump", one.way.pump, "stroke_flow")
    stalls = one.flow.likely < NEARLY * whole.likely
    rise, stall = one.rise.amount, planned(one.plan, f"{at}.stall", PRESSURE).amount
    told = (
        say(
            "The {outlet} takes more than hand or foot can press: the {pump} stalls at {stall} and gives {flow} "
            "instead of {whole}.",
            outlet=one.outlet,
            pump=one.way.pump,
            stall=stall,
            flow=one.flow.amount,
            whole=whole.amount,
        )
        if stalls
        else say(
            "Worked at {strokes} the {pump} gives {flow} at the {outlet}, against {rise}; it stalls at {stall}.",
            strokes=strokes,
            pump=one.way.pump,
            flow=one.flow.amount,
            outlet=one.outlet,
            rise=rise,
            stall=stall,
        )
    )
    return Finding(
        f"outlets.{one.outlet}.pump",
        Verdict.WATCH if stalls else Verdict.FINE,
        told,
        value=rise,
        limit=stall,
        change=say("Take an outlet that gives more at that pressure, or a wider hose.") if stalls else None,
        address=f"{at}.strokes",
        source="mean of the strokes; a stroke pumps its volume at any pressure below the stall",
    )
