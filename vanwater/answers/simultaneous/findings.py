"""What is to be said of outlets that are open together: flow, warmth, pump, speed, and what the flow hangs on."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number, difference_of
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.working import limit, planned
from vanwater.answers.outlets.cycling import FELT as FELT_SWING
from vanwater.answers.simultaneous.pump import PumpPoint
from vanwater.answers.simultaneous.sets import OpenSet
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, SPEED, TEMPERATURE

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
    for opened in sets:
        for outlet in opened.outlets:
            yield from _flow(plan, opened, outlet)
        for outlet in opened.temperature:
            if opened.flow[outlet].likely > 0:
                yield from _warm(opened, outlet)
        for point in opened.pumps.values():
            yield from _pump(opened, point)
        yield from _speed(opened)
        if opened.flow[opened.weakest].likely > 0:
            yield _hangs(opened)


def _flow(plan: Plan, opened: OpenSet, outlet: str) -> Iterator[Finding]:
    if not opened.alone[outlet].reaches:
        return  # told where it is open alone
    flow, lost = opened.flow[outlet], opened.lost[outlet]
    wanted = None if plan.outlets[outlet].wanted is None else planned(plan, f"outlets.{outlet}.wanted", FLOW)
    held = opened.lowest(outlet) if opened.alone[outlet].regulated else flow
    verdict = judge(held.shown, wanted.amount, "at least") if wanted is not None else Verdict.FINE
    at_most = opened.cycles(outlet) and not opened.swings(outlet)
    if at_most and wanted is not None and verdict is not Verdict.FAILS:
        yield _undecided(opened, outlet, wanted)
        return
    if wanted is None and lost.likely > MUCH:
        verdict = Verdict.WATCH
    if verdict is Verdict.FINE and lost.likely <= MUCH:
        return
    change, gain = (None, None) if verdict is Verdict.FINE else _best(opened, outlet)
    yield Finding(
        f"simultaneous.{opened.name}.{outlet}",
        verdict,
        say(
            "With the {others} open too, the {outlet} gives {flow}, {lost} less than alone.",
            others=opened.others(outlet),
            outlet=outlet,
            flow=_flowing(opened, outlet),
            lost=lost.rounded(2),
        ),
        value=held.shown if wanted is not None else None,
        limit=wanted.amount if wanted is not None else None,
        change=change,
        gain=gain,
        address=f"together.{opened.name}.outlets",
        source=NETWORK,
        bound="at least",
    )


def _undecided(opened: OpenSet, outlet: str, wanted: Number) -> Finding:
    """The finding on an outlet whose mean hangs on a cut-in that the plan does not say."""
    pump = opened.alone[outlet].way.pump
    return Finding(
        f"simultaneous.{opened.name}.{outlet}",
        Verdict.NOT_DECIDED,
        say(
            "With the {others} open too, the {outlet} gives {flow}; {wanted} is wanted.",
            others=opened.others(outlet),
            outlet=outlet,
            flow=_flowing(opened, outlet),
            wanted=wanted,
        ),
        change=say("Say the pressure at which its switch starts the pump."),
        address=f"pumps.{pump}.cut_in",
    )


def _flowing(opened: OpenSet, outlet: str) -> Say:
    """What an outlet gives, as the words behind "gives": steady, or its mean with its swing while the pump cycles."""
    flow = opened.flow[outlet]
    if not opened.cycles(outlet):
        return say("{flow}", flow=flow)
    if not opened.swings(outlet):
        return say("{flow} at most, as the pump cycles", flow=flow)
    least, most = opened.least[outlet], opened.most[outlet]
    if most.likely <= FELT_SWING * least.likely:
        return say("{flow} while the pump cycles", flow=flow)
    return say(
        "{flow} in the mean, swinging from {least} to {most} while the pump cycles",
        flow=flow,
        least=least.rounded(2),
        most=most.rounded(2),
    )


def _best(opened: OpenSet, outlet: str) -> tuple[Say, Say | None]:
    gains = opened.gains[outlet]
    if gains:
        return gains[0].words, gains[0].gain
    return say("Take a pump that gives more at that pressure, or outlets that take less."), None


def _warm(opened: OpenSet, outlet: str) -> Iterator[Finding]:
    tap, shift = opened.rows.taps[outlet], opened.shift(outlet)
    if shift.likely < FELT:
        return
    hotter = tap.comes > tap.wanted
    runs = "runs {how} than {comes}" if tap.beyond else "runs at {comes}"
    given: dict[str, Given] = {"how": "hotter" if hotter else "colder"} if tap.beyond else {}
    yield Finding(
        f"simultaneous.{opened.name}.{outlet}.warm",
        Verdict.WATCH,
        say(
            f"The {{outlet}}, set for {{wanted}} alone, {runs} with the {{others}} open too.",
            outlet=outlet,
            wanted=opened.alone[outlet].temperature.amount,
            comes=opened.temperature[outlet].amount,
            others=opened.others(outlet),
            **given,
        ),
        value=shift.amount,
        limit=limit(
            "change of temperature that is felt", FELT, difference_of(TEMPERATURE), "common practice", digits=2
        ).amount,
        change=say("Turn its tap colder then, mind the scald, or take a thermostatic mixing valve.")
        if hotter
        else say("Turn its tap hotter then, and back before the others shut, or take a thermostatic mixing valve."),
        address=f"mixers.{tap.tap}" if tap.tap in opened.rows.plan.mixers else f"outlets.{outlet}",
        source=f"{NETWORK}; a change that is felt by common practice",
    )


def _pump(opened: OpenSet, point: PumpPoint) -> Iterator[Finding]:
    if point.cut_out is None:
        return
    given: dict[str, Given] = {
        "pump": point.pump,
        "opened": opened.outlets,
        "flow": point.flow.amount,
        "pressure": point.discharge.rounded(2),
    }
    if point.cycles:
        statement = _cycling(opened, point)
    elif point.current is not None:
        statement = say(
            "Under {opened} together the {pump} runs steadily: {flow} at {pressure}, {current}.",
            current=point.current.amount,
            **given,
        )
    else:
        statement = say("Under {opened} together the {pump} runs steadily: {flow} at {pressure}.", **given)
    yield Finding(
        f"simultaneous.{opened.name}.pump.{point.pump}",
        Verdict.WATCH if point.cycles else Verdict.FINE,
        statement,
        value=(point.crossing if point.cycles else point.discharge).rounded(2),
        limit=point.cut_out.amount,
        change=say("Take outlets that give more, or a pump with a speed control.") if point.cycles else None,
        address=f"pumps.{point.pump}.cut_out",
        source=NETWORK,
    )


def _cycling(opened: OpenSet, point: PumpPoint) -> Say:
    """What its switch makes of a pump that cycles."""
    assert point.cut_out is not None
    given: dict[str, Given] = {"pump": point.pump, "opened": opened.outlets, "limit": point.cut_out.amount}
    if point.times is None:
        return say("The {pump} cycles under {opened} together: its switch at {limit} stops it.", **given)
    if point.chatters:
        return say(
            "The {pump} chatters under {opened} together: its switch at {limit} stops it, and the line behind it gives "
            "little.",
            **given,
        )
    on, off = (time.rounded(2) for time in point.times)
    return say(
        "The {pump} cycles under {opened} together: its switch at {limit} stops it. {on} on, {off} off.",
        on=on,
        off=off,
        **given,
    )


def _speed(opened: OpenSet) -> Iterator[Finding]:
    fastest = max(opened.speed.values(), key=lambda each: each.speed.likely)
    if fastest.speed.likely <= FAST:
        return
    yield Finding(
        f"simultaneous.{opened.name}.speed",
        Verdict.WATCH,
        say(
            "With {opened} open the water runs at {speed} in the {run}.",
            opened=opened.outlets,
            speed=fastest.speed.rounded(2),
            run=fastest.run,
        ),
        value=fastest.speed.rounded(2),
        limit=limit("speed from which water is heard", FAST, SPEED, "common practice", digits=2).amount,
        change=say("Take a larger bore for the {run}.", run=fastest.run),
        address=f"runs.{fastest.run}",
        source="common practice: faster water is heard",
    )


def _hangs(opened: OpenSet) -> Finding:
    most = opened.measure_first.label
    low, high = opened.ends
    return Finding(
        f"simultaneous.{opened.name}.hangs",
        Verdict.FINE,
        say(
            "With {opened} open the {outlet} depends most on {what}: {low} to {high} between its ends.",
            opened=opened.outlets,
            outlet=opened.weakest,
            what=most,
            low=low,
            high=high,
        ),
        change=say("Measure first: {what}.", what=most),
        address=f"together.{opened.name}.outlets",
        source="the unsure inputs one at a time, each at its ends",
    )
