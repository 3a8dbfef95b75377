"""What is to be said of one outlet: its flow, its warmth, the pump's switch, the suction side."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.statement import Amount, Given, say
from vanwater.answers.core.working import Step, step
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.answers.outlets.pump import pump_findings
from vanwater.answers.outlets.thermostat import thermostat_findings
from vanwater.physics import suction, water
from vanwater.physics.pulse import Pulse, pulse
from vanwater.plan.model import Plan
from vanwater.plan.pump import SWITCHED
from vanwater.quantities import FLOW, LENGTH, PRESSURE, SECONDS, TEMPERATURE
from vanwater.system.batch import Batch
from vanwater.system.compliance import accumulator_of, elastic_storage, pump_line, switch
from vanwater.system.pump import starts_from
from vanwater.system.thermostat import thermostatic
from vanwater.system.ways import Way

__all__ = ["mains_only", "outlet_findings", "priming", "pulse_under", "suction_finding", "way_not_decided"]


def way_not_decided(name: str, way: Way, gaps: tuple[str, ...]) -> Finding:
    """The finding on an outlet whose way is not complete.

    Parameters
    ----------
    name : str
        The outlet.
    way : Way
        As far as it goes.
    gaps : tuple of str
        Addresses that are not decided.

    Returns
    -------
    Finding
        Not decided.
    """
    if way.broken:
        return Finding(
            f"supply.{name}.way",
            Verdict.NOT_DECIDED,
            say("The way to the {outlet} is not complete. {why}", outlet=name, why=way.broken[0]),
            change=say("Add the runs from the tank to it."),
            address=f"outlets.{name}",
        )
    return Finding(
        f"supply.{name}.way",
        Verdict.NOT_DECIDED,
        say("What the {outlet} gives is not decided yet.", outlet=name),
        change=say("Say {fields}.", fields=gaps),
        address=gaps[0],
    )


def mains_only(outlet: str) -> Finding:
    """The finding on an outlet that no tank feeds.

    Parameters
    ----------
    outlet : str
        Name of the outlet.

    Returns
    -------
    Finding
        To watch.
    """
    return Finding(
        f"supply.{outlet}.way",
        Verdict.WATCH,
        say("Off-grid nothing feeds the {outlet}: it gives water on the mains only.", outlet=outlet),
        change=say("Add the runs from the tank to it, unless that is meant."),
        address=f"outlets.{outlet}",
        source="the plan's runs",
    )


def outlet_findings(plan: Plan, one: OutletSupply) -> Iterator[Finding]:
    """The findings on an outlet that was solved.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        What it gives.

    Yields
    ------
    Finding
        Flow, warmth, pump switch.
    """
    yield _flow_finding(plan, one)
    if thermostatic(plan, one.way.mixer):
        yield from thermostat_findings(plan, one)
    elif one.way.mixer:
        yield from _warm_finding(one)
    if one.way.pump:
        switched = plan.pumps[one.way.pump].kind in SWITCHED
        yield from _switch_finding(plan, one) if switched else pump_findings(plan, one)


def _flow_finding(plan: Plan, one: OutletSupply) -> Finding:
    address = f"outlets.{one.outlet}"
    best = one.gains[0] if one.gains else None
    wanted = plan.outlets[one.outlet].wanted
    first = one.influences[0]
    if not one.reaches:
        return Finding(
            f"supply.{one.outlet}.flow",
            Verdict.FAILS,
            say("No water reaches the {outlet}.", outlet=one.outlet),
            change=say("Take a pump with more pressure, or put the outlet lower.")
            if not one.way.pump or starts_from(plan, one.way.pump, one.outlet) is not False
            else say("Take a tap with a micro-switch."),
            address=address,
            source="Bernoulli's equation",
        )
    if wanted is None:
        return Finding(
            f"supply.{one.outlet}.flow",
            Verdict.FINE,
            say("The {outlet} gives {flow}; no flow is wanted by the plan.", outlet=one.outlet, flow=one.flow),
            change=say("Measure first: {what}.", what=first.name),
            address=f"{address}.wanted",
            source="common practice",
        )
    limit = Amount(wanted, FLOW)
    verdict = judge(one.flow, limit, "at least")
    change = best.words if best and verdict is not Verdict.FINE else say("Measure first: {what}.", what=first.name)
    return Finding(
        f"supply.{one.outlet}.flow",
        verdict,
        say("The {outlet} gives {flow}; {wanted} is wanted.", outlet=one.outlet, flow=one.flow, wanted=limit),
        value=one.flow,
        limit=limit,
        change=change,
        gain=say("{flow} more", flow=Amount(best.flow, FLOW, 2)) if best and verdict is not Verdict.FINE else None,
        address=f"{address}.wanted",
        source="the plan's own wish",
        bound="at least",
    )


def _warm_finding(one: OutletSupply) -> Iterator[Finding]:
    hot, mixed = float(one.case.hot[0]), float(one.case.mixed[0])
    verdict = Verdict.FAILS if mixed > hot else Verdict.FINE
    yield Finding(
        f"supply.{one.outlet}.warm",
        verdict,
        say(
            "The {heater} makes {hot}; the {outlet} wants {mixed}.",
            heater=one.way.heater or "heater",
            hot=Amount(hot, TEMPERATURE),
            outlet=one.outlet,
            mixed=Amount(mixed, TEMPERATURE),
        ),
        value=Amount(hot, TEMPERATURE),
        limit=Amount(mixed, TEMPERATURE),
        change=say("Raise the heater's set point, or want less.") if verdict is Verdict.FAILS else None,
        address=f"heaters.{one.way.heater}.set_point",
        source="mixing of two flows",
        bound="at least",
    )


def _switch_finding(plan: Plan, one: OutletSupply) -> Iterator[Finding]:
    pump = plan.pumps[one.way.pump]
    address = f"pumps.{one.way.pump}.cut_out"
    if pump.cut_out is None:
        yield Finding(
            f"supply.{one.outlet}.switch",
            Verdict.NOT_DECIDED,
            say("Whether the pump runs steadily under the {outlet} is not decided.", outlet=one.outlet),
            change=say("Say the pressures at which its switch starts and stops it."),
            address=address,
        )
        return
    behind, limit = Amount(one.discharge, PRESSURE), Amount(pump.cut_out, PRESSURE)
    given: dict[str, Given] = {"outlet": one.outlet, "pressure": behind, "limit": limit}
    if one.cycles and pump.cut_in is None:
        statement = say(
            "The pump cycles under the {outlet}: its switch at {limit} stops it.", outlet=one.outlet, limit=limit
        )
    elif one.cycles:
        swing = pulse_under(plan, one)
        statement = say(
            "The pump cycles under the {outlet}: its switch at {limit} stops it. {on} on, {off} off, the flow swings "
            "between {low} and {high}, {mean} in the mean.",
            outlet=one.outlet,
            limit=limit,
            on=Amount(float(swing.on[0]), SECONDS, 2),
            off=Amount(float(swing.off[0]), SECONDS, 2),
            low=Amount(float(swing.flow_low[0]), FLOW, 2),
            high=Amount(float(swing.flow_high[0]), FLOW, 2),
            mean=Amount(float(swing.mean[0]), FLOW, 2),
        )
    elif pump.by_pass is not None and one.discharge > pump.by_pass:
        statement = say(
            "The pump runs on under the {outlet}: {pressure} behind it, its by-pass open from {opens} on; its switch "
            "stops it at {limit}.",
            opens=Amount(pump.by_pass, PRESSURE),
            **given,
        )
    else:
        statement = say(
            "The pump runs steadily under the {outlet}: {pressure} behind it, its switch stops it at {limit}.", **given
        )
    yield Finding(
        f"supply.{one.outlet}.switch",
        Verdict.WATCH if one.cycles else Verdict.FINE,
        statement,
        value=behind,
        limit=limit,
        change=say("Open the outlet further, take one that gives more, or a pump with a speed control.")
        if one.cycles
        else None,
        address=address,
        source="pump curve against the way's losses",
    )


def pulse_under(plan: Plan, one: OutletSupply) -> Pulse:
    """The pump's cycle under an open outlet: times, and the band of pressure and flow.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        A solved outlet behind a pump whose switch is decided.

    Returns
    -------
    Pulse
        One row, with the accumulator if there is one, else with what the hoses give.

    Notes
    -----
    Way and outlet together are taken as one constant, fitted to the steady solve.
    """
    batch = Batch(plan)
    physics = one.case.physics
    lift = float(np.ravel(physics.lift(physics.pump_height, physics.outlet_height))[0])
    constant = float(one.solved.flow[0]) / np.sqrt(max(one.discharge + lift, 1.0))
    vessel = accumulator_of(plan, one.way.pump)
    if vessel and plan.accumulators[vessel].precharge is None:
        vessel = ""
    line = pump_line(batch, one.way.pump).likely
    give = elastic_storage(batch, vessel, np.zeros(1) if vessel else line)
    return pulse(constant, -lift, switch(batch, one.way.pump), give)


def suction_finding(plan: Plan, one: OutletSupply) -> Finding:
    """The finding on a pump's lift, for the outlet that draws most.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        The solved outlet that gives most behind that pump.

    Returns
    -------
    Finding
        How much of the rated lift is left.
    """
    pump = plan.pumps[one.way.pump]
    address = f"pumps.{one.way.pump}.priming_lift"
    if pump.priming_lift is None:
        return Finding(
            f"supply.{one.way.pump}.priming",
            Verdict.NOT_DECIDED,
            say("Whether the {pump} primes is not decided.", pump=one.way.pump),
            change=say("Say the lift that its maker rates it for."),
            address=address,
        )
    margin = priming(plan, one)
    left = float(margin.value.ravel()[0])
    return Finding(
        f"supply.{one.way.pump}.priming",
        Verdict.FAILS if left < 0 else Verdict.WATCH if left < 0.3 else Verdict.FINE,
        say(
            "The {pump} draws with {left} of its rated lift to spare, the tank nearly empty and the {outlet} open.",
            pump=one.way.pump,
            outlet=one.outlet,
            left=Amount(left, LENGTH, 2),
        ),
        value=Amount(left, LENGTH),
        limit=Amount(0.0, LENGTH),
        change=say("Put the pump lower, or shorten and widen the suction hose.") if left < 0.3 else None,
        address=address,
        source="rated priming lift less what thin air takes (common practice)",
        bound="at least",
    )


def priming(plan: Plan, one: OutletSupply) -> Step:
    """What is left of the pump's rated lift, with the tank nearly empty.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Step
        Margin [m].
    """
    pump = plan.pumps[one.way.pump]
    tank = plan.tanks[one.way.tank]
    loss = np.sum(one.solved.losses[0, : len(one.way.suction)])
    assert pump.priming_lift is not None
    return step(
        f"lift left to the {one.way.pump}",
        suction.priming_margin,
        rated_lift=pump.priming_lift,
        lift=(pump.z or 0.0) - (tank.z or 0.0) - tank.pickup,
        suction_loss=loss,
        density=water.density(plan.site.cold_water),
        altitude=plan.site.altitude,
    )
