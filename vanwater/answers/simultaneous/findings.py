"""What is to be said of outlets that are open together: flow, warmth, pump, speed, and what the flow hangs on."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.statement import Amount, Given, Say, say
from vanwater.answers.simultaneous.pump import PumpPoint
from vanwater.answers.simultaneous.sets import OpenSet
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, FLOW, PRESSURE, SHARE, SPEED, TEMPERATURE, TEMPERATURE_DIFFERENCE
from vanwater.system.taps import LeftTap

__all__ = ["set_findings"]

MUCH = 0.4
"""Share of its flow that an outlet may lose to another before it is told (common practice)."""
FELT = 2.0
"""Change of temperature that is felt under a shower, K (common practice)."""
FAST = 3.0
"""Speed from which hoses and fittings are heard, m/s (common practice)."""
NETWORK = "balance of the whole network"


def set_findings(plan: Plan, sets: tuple[OpenSet, ...]) -> Iterator[Finding]:
    """The findings on outlets that share the pump.

    Parameters
    ----------
    plan : Plan
        The plan.
    sets : tuple of OpenSet
        The sets.

    Yields
    ------
    Finding
        For each set: outlets with a wish or that lose much, taps that must be turned, the pump, a run in which the
        water runs fast, and what the weakest outlet's flow hangs on.
    """
    for one in sets:
        for outlet in one.outlets:
            yield from _flow(plan, one, outlet)
        for tap in one.temperature.values():
            if one.flow[tap.outlet].likely > 0:
                yield from _warm(one, tap)
        for point in one.pumps.values():
            yield from _pump(one, point)
        yield from _speed(one)
        if one.flow[one.weakest].likely > 0:
            yield _hangs(one)


def _others(one: OpenSet, outlet: str) -> tuple[str, ...]:
    return tuple(other for other in one.outlets if other != outlet)


def _flow(plan: Plan, one: OpenSet, outlet: str) -> Iterator[Finding]:
    flow, alone = one.flow[outlet], one.alone[outlet].flow
    if not one.alone[outlet].reaches:
        return  # told where it is open alone
    lost = 1.0 - flow.likely / alone.likely if alone.likely > 0 else 0.0
    wanted = plan.outlets[outlet].wanted
    verdict = judge(flow, Amount(wanted, FLOW), "at least") if wanted is not None else Verdict.FINE
    if wanted is None and lost > MUCH:
        verdict = Verdict.WATCH
    if verdict is Verdict.FINE and lost <= MUCH:
        return
    change, gain = (None, None) if verdict is Verdict.FINE else _best(one, outlet)
    yield Finding(
        f"simultaneous.{one.name}.{outlet}",
        verdict,
        say(
            "With the {others} open too, the {outlet} gives {flow}, {lost} less than alone.",
            others=_others(one, outlet),
            outlet=outlet,
            flow=flow,
            lost=Amount(lost, SHARE, 2),
        ),
        value=flow if wanted is not None else None,
        limit=Amount(wanted, FLOW) if wanted is not None else None,
        change=change,
        gain=gain,
        address=f"together.{one.name}.outlets",
        source=NETWORK,
        bound="at least",
    )


def _best(one: OpenSet, outlet: str) -> tuple[Say, Say | None]:
    gains = one.remedies_for(outlet)
    if gains:
        return gains[0].words, say("{flow} more", flow=Amount(gains[0].flow, FLOW, 2))
    return say("Take a pump that gives more at that pressure, or outlets that take less."), None


def _warm(one: OpenSet, tap: LeftTap) -> Iterator[Finding]:
    moved = tap.comes - tap.wanted
    if abs(moved) < FELT:
        return
    hotter = moved > 0
    given: dict[str, Given] = {
        "outlet": tap.outlet,
        "wanted": Amount(tap.wanted, TEMPERATURE),
        "comes": Amount(tap.comes, TEMPERATURE, 2),
        "others": _others(one, tap.outlet),
    }
    statement = (
        say("The {outlet}, set for {wanted} alone, runs hotter than {comes} with the {others} open too.", **given)
        if tap.beyond and hotter
        else say("The {outlet}, set for {wanted} alone, runs colder than {comes} with the {others} open too.", **given)
        if tap.beyond
        else say("The {outlet}, set for {wanted} alone, runs at {comes} with the {others} open too.", **given)
    )
    yield Finding(
        f"simultaneous.{one.name}.{tap.outlet}.warm",
        Verdict.WATCH,
        statement,
        value=Amount(abs(moved), TEMPERATURE_DIFFERENCE, 2),
        limit=Amount(FELT, TEMPERATURE_DIFFERENCE, 2),
        change=say("Turn its tap colder then, mind the scald, or take a thermostatic mixing valve.")
        if hotter
        else say("Turn its tap hotter then, and back before the others shut, or take a thermostatic mixing valve."),
        address=f"mixers.{tap.tap}" if tap.tap in one.rows.plan.mixers else f"outlets.{tap.outlet}",
        source=f"{NETWORK}; a change that is felt by common practice",
    )


def _pump(one: OpenSet, point: PumpPoint) -> Iterator[Finding]:
    if point.cut_out is None or point.cycles is None:
        return
    given: dict[str, Given] = {
        "pump": point.pump,
        "opened": one.outlets,
        "flow": point.flow.amount,
        "pressure": Amount(point.discharge, PRESSURE, 2),
    }
    if point.cycles:
        statement = say(
            "The {pump} cycles under {opened} together: its switch at {limit} stops it.",
            pump=point.pump,
            opened=one.outlets,
            limit=Amount(point.cut_out, PRESSURE, 2),
        )
    elif point.current is not None:
        statement = say(
            "Under {opened} together the {pump} runs steadily: {flow} at {pressure}, {current}.",
            current=Amount(point.current.likely, CURRENT, 2),
            **given,
        )
    else:
        statement = say("Under {opened} together the {pump} runs steadily: {flow} at {pressure}.", **given)
    yield Finding(
        f"simultaneous.{one.name}.pump.{point.pump}",
        Verdict.WATCH if point.cycles else Verdict.FINE,
        statement,
        value=Amount(point.discharge, PRESSURE, 2),
        limit=Amount(point.cut_out, PRESSURE, 2),
        change=say("Take outlets that give more, or a pump with a speed control.") if point.cycles else None,
        address=f"pumps.{point.pump}.cut_out",
        source=NETWORK,
    )


def _speed(one: OpenSet) -> Iterator[Finding]:
    fastest = max(one.speed.values(), key=lambda found: found.speed)
    if fastest.speed <= FAST:
        return
    yield Finding(
        f"simultaneous.{one.name}.speed",
        Verdict.WATCH,
        say(
            "With {opened} open the water runs at {speed} in the {run}.",
            opened=one.outlets,
            speed=Amount(fastest.speed, SPEED, 2),
            run=fastest.run,
        ),
        value=Amount(fastest.speed, SPEED, 2),
        limit=Amount(FAST, SPEED, 2),
        change=say("Take a larger bore for the {run}.", run=fastest.run),
        address=f"runs.{fastest.run}",
        source="common practice: faster water is heard",
    )


def _hangs(one: OpenSet) -> Finding:
    most = one.hangs_on[0]
    return Finding(
        f"simultaneous.{one.name}.hangs",
        Verdict.FINE,
        say(
            "With {opened} open the {outlet} hangs most on {what}: {low} to {high} between its ends.",
            opened=one.outlets,
            outlet=one.weakest,
            what=most.name,
            low=Amount(min(most.low, most.high), FLOW, 2),
            high=Amount(max(most.low, most.high), FLOW, 2),
        ),
        change=say("Measure first: {what}.", what=most.name),
        address=f"together.{one.name}.outlets",
        source="the unsure inputs one at a time, each at its ends",
    )
