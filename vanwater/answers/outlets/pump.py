"""What is to be said of a pump without a pressure switch under one outlet: by speed, in the tank, by hand."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned, step
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics.pump_kinds import stroke_flow
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import FLOW, PRESSURE, STROKES, VOLTAGE, VOLUME
from vanwater.system.pump import starts_from

__all__ = ["pump_findings", "volts_findings"]

NEARLY = 0.999
"""Share of a pressure held, or of the strokes' flow, from which on it counts as reached."""

MOST_VOLTS = 1.25
"""Most that a pump may get of its curve's volts: a 12 V pump stands a charging battery's 14.6 V (common practice)."""

LEAST_VOLTS = 0.75
"""Least that a pump may get of its curve's volts: a 12 V pump on an empty battery and a long cable has 0.8 (common
practice)."""

MEETS = "pump curve against the way's losses"


def pump_findings(supply: OutletSupply) -> Iterator[Finding]:
    """The findings on a pump that no pressure switch starts and stops.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet behind it.

    Yields
    ------
    Finding
        Whether it runs, and steadily.
    """
    kind = supply.plan.pumps[supply.way.pump].kind
    if kind == "submersible":
        yield _within(supply)
    elif kind == "speed-controlled":
        yield _by_speed(supply)
    elif kind in BY_HAND:
        yield _by_hand(supply)


def volts_findings(plan: Plan) -> Iterator[Finding]:
    """The findings on pumps that get far more volts than they are made for, or far less.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        One for each of them.
    """
    for name, pump in plan.pumps.items():
        if pump.volts is None or pump.curve_volts is None:
            continue
        high, low = pump.volts > MOST_VOLTS * pump.curve_volts, pump.volts < LEAST_VOLTS * pump.curve_volts
        if not high and not low:
            continue
        volts, rated = (planned(plan, f"pumps.{name}.{field}", VOLTAGE) for field in ("volts", "curve_volts"))
        yield Finding(
            f"outlets.{name}.volts",
            Verdict.FAILS,
            say(
                "The {pump} gets {volts}, its curve is one at {rated}: at so many volts its motor burns out, and what "
                "the outlets give was never measured."
                if high
                else "The {pump} gets {volts}, its curve is one at {rated}: at so few volts it turns slowly or stalls, "
                "and what the outlets give was never measured.",
                pump=name,
                volts=volts,
                rated=rated,
            ),
            value=volts.amount,
            limit=rated.amount,
            change=say(
                "Take a pump made for {volts}, or feed it {rated} through a converter.", volts=volts, rated=rated
            ),
            address=f"pumps.{name}.volts",
            source="common practice",
            bound="at most" if high else "at least",
        )


def _within(supply: OutletSupply) -> Finding:
    starts = starts_from(supply.plan, supply.way.pump, supply.outlet)
    given = {"outlet": supply.outlet, "pump": supply.way.pump}
    key, address = f"outlets.{supply.outlet}.pump", f"outlets.{supply.outlet}.micro_switch"
    if starts is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Whether the {outlet} starts the {pump} is not decided.", **given),
            change=say("Write {line}, or false.", line="micro_switch = true"),
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
    behind = supply.discharge.amount
    return Finding(
        key,
        Verdict.FINE,
        say("The {pump} runs while the {outlet} is open, at {pressure}, and never cycles.", pressure=behind, **given),
        value=behind,
        address=address,
        source=MEETS,
    )


def _by_speed(supply: OutletSupply) -> Finding:
    pump = supply.plan.pumps[supply.way.pump]
    assert pump.holds is not None
    at = f"pumps.{supply.way.pump}"
    behind, held = supply.discharge.amount, planned(supply.plan, f"{at}.holds", PRESSURE).amount
    if pump.least_flow is not None and supply.flow.likely < pump.least_flow:
        least = planned(supply.plan, f"{at}.least_flow", FLOW).amount
        return Finding(
            f"outlets.{supply.outlet}.pump",
            Verdict.WATCH,
            say(
                "The {outlet} draws {flow}: below {least} the {pump}'s speed control starts and stops it.",
                outlet=supply.outlet,
                flow=supply.flow.amount,
                least=least,
                pump=supply.way.pump,
            ),
            value=supply.flow.amount,
            limit=least,
            change=say("Open the outlet further, or take one that gives more."),
            address=f"{at}.least_flow",
            source=MEETS,
            bound="at least",
        )
    told = (
        say(
            "Under the {outlet} the {pump} holds {held} and does not cycle.",
            outlet=supply.outlet,
            pump=supply.way.pump,
            held=held,
        )
        if supply.rise.likely >= NEARLY * pump.holds
        else say(
            "Under the {outlet} the {pump} runs at full speed, {pressure} behind it: {held}, which it holds, is not "
            "reached.",
            outlet=supply.outlet,
            pump=supply.way.pump,
            pressure=behind,
            held=held,
        )
    )
    return Finding(
        f"outlets.{supply.outlet}.pump",
        Verdict.FINE,
        told,
        value=supply.rise.amount,
        limit=held,
        address=f"{at}.holds",
        source=MEETS,
    )


def _by_hand(supply: OutletSupply) -> Finding:
    at = f"pumps.{supply.way.pump}"
    strokes = planned(supply.plan, f"{at}.strokes", STROKES, 2)
    stroke = planned(supply.plan, f"{at}.stroke", VOLUME)
    whole = step(f"flow of the {supply.way.pump}'s strokes", stroke_flow, stroke=stroke, strokes=strokes)
    whole = whole.keyed("pump", supply.way.pump, "stroke_flow")
    stalls = supply.flow.likely < NEARLY * whole.likely
    rise, stall = supply.rise.amount, planned(supply.plan, f"{at}.stall", PRESSURE).amount
    told = (
        say(
            "The {outlet} takes more than hand or foot can press: the {pump} stalls at {stall} and gives {flow} "
            "instead of {whole}.",
            outlet=supply.outlet,
            pump=supply.way.pump,
            stall=stall,
            flow=supply.flow.amount,
            whole=whole.amount,
        )
        if stalls
        else say(
            "Worked at {strokes} the {pump} gives {flow} at the {outlet}, against {rise}; it stalls at {stall}.",
            strokes=strokes,
            pump=supply.way.pump,
            flow=supply.flow.amount,
            outlet=supply.outlet,
            rise=rise,
            stall=stall,
        )
    )
    return Finding(
        f"outlets.{supply.outlet}.pump",
        Verdict.WATCH if stalls else Verdict.FINE,
        told,
        value=rise,
        limit=stall,
        change=say("Take an outlet that gives more at that pressure, or a wider hose.") if stalls else None,
        address=f"{at}.strokes",
        source="mean of the strokes; a stroke pumps its volume at any pressure below the stall",
    )
