"""What is to be said of one outlet: its flow, its warmth, the pump's switch."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Given, say
from vanwater.answers.core.working import by, planned
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.answers.outlets.pump import pump_findings
from vanwater.answers.outlets.thermostat import thermostat_findings
from vanwater.physics.pulse import pulse
from vanwater.plan.pump import SWITCHED
from vanwater.quantities import FLOW, PRESSURE, SECONDS, Quantity
from vanwater.system.batch import Batch
from vanwater.system.compliance import accumulator_of, elastic_storage, pump_line, switch
from vanwater.system.pump import starts_from
from vanwater.system.thermostat import thermostatic
from vanwater.system.ways import Way

__all__ = ["mains_only", "outlet_findings", "way_not_decided"]


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
            f"outlets.{name}.way",
            Verdict.NOT_DECIDED,
            say("The way to the {outlet} is not complete. {why}", outlet=name, why=way.broken[0]),
            change=say("Add the runs from the tank to it."),
            address=f"outlets.{name}",
        )
    return Finding(
        f"outlets.{name}.way",
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
        f"outlets.{outlet}.way",
        Verdict.WATCH,
        say("Off-grid nothing feeds the {outlet}: it gives water on the mains only.", outlet=outlet),
        change=say("Add the runs from the tank to it, unless that is meant."),
        address=f"outlets.{outlet}",
        source="the plan's runs",
    )


def outlet_findings(supply: OutletSupply) -> Iterator[Finding]:
    """The findings on an outlet that was solved.

    Parameters
    ----------
    supply : OutletSupply
        What it gives.

    Yields
    ------
    Finding
        Flow, warmth, pump switch.
    """
    yield _flow_finding(supply)
    if thermostatic(supply.plan, supply.way.mixer):
        yield from thermostat_findings(supply)
    elif supply.way.mixer:
        yield from _warm_finding(supply)
    if supply.way.pump:
        switched = supply.plan.pumps[supply.way.pump].kind in SWITCHED
        yield from _switch_finding(supply) if switched else pump_findings(supply)


def _flow_finding(supply: OutletSupply) -> Finding:
    address = f"outlets.{supply.outlet}"
    best = supply.gains[0] if supply.gains else None
    first = supply.flow.influences[0]
    if not supply.reaches:
        return Finding(
            f"outlets.{supply.outlet}.dry",
            Verdict.FAILS,
            say("No water reaches the {outlet}.", outlet=supply.outlet),
            change=say("Take a pump with more pressure, or put the outlet lower.")
            if not supply.way.pump or starts_from(supply.plan, supply.way.pump, supply.outlet) is not False
            else say("Take a tap with a micro-switch."),
            address=address,
            source="Bernoulli's equation",
        )
    if supply.plan.outlets[supply.outlet].wanted is None:
        return Finding(
            f"outlets.{supply.outlet}.flow",
            Verdict.FINE,
            say("The {outlet} gives {flow}; no flow is wanted by the plan.", outlet=supply.outlet, flow=supply.flow),
            change=say("Measure first: {what}.", what=first.name),
            address=f"{address}.wanted",
            source="common practice",
        )
    wanted = planned(supply.plan, f"{address}.wanted", FLOW)
    verdict = judge(supply.flow.shown, wanted.amount, "at least")
    change = best.words if best and verdict is not Verdict.FINE else say("Measure first: {what}.", what=first.name)
    return Finding(
        f"outlets.{supply.outlet}.flow",
        verdict,
        say("The {outlet} gives {flow}; {wanted} is wanted.", outlet=supply.outlet, flow=supply.flow, wanted=wanted),
        value=supply.flow.shown,
        limit=wanted.amount,
        change=change,
        gain=say("{flow} more", flow=best.flow) if best and verdict is not Verdict.FINE else None,
        address=f"{address}.wanted",
        source="the plan's own wish",
        bound="at least",
    )


def _warm_finding(supply: OutletSupply) -> Iterator[Finding]:
    short = supply.temperature.likely > supply.hot.likely
    yield Finding(
        f"outlets.{supply.outlet}.warm",
        Verdict.FAILS if short else Verdict.FINE,
        say(
            "The {heater} makes {hot}; the {outlet} wants {mixed}.",
            heater=supply.way.heater or "heater",
            hot=supply.hot.amount,
            outlet=supply.outlet,
            mixed=supply.temperature.amount,
        ),
        value=supply.hot.amount,
        limit=supply.temperature.amount,
        change=say("Raise the heater's set point, or want less.") if short else None,
        address=f"heaters.{supply.way.heater}.set_point",
        source="mixing of two flows",
        bound="at least",
    )


def _switch_finding(supply: OutletSupply) -> Iterator[Finding]:
    pump = supply.plan.pumps[supply.way.pump]
    address = f"pumps.{supply.way.pump}.cut_out"
    if pump.cut_out is None:
        yield Finding(
            f"outlets.{supply.outlet}.switch",
            Verdict.NOT_DECIDED,
            say("Whether the pump runs steadily under the {outlet} is not decided.", outlet=supply.outlet),
            change=say("Say the pressures at which its switch starts and stops it."),
            address=address,
        )
        return
    behind, limit = supply.discharge.amount, planned(supply.plan, address, PRESSURE).amount
    given: dict[str, Given] = {"outlet": supply.outlet, "pressure": behind, "limit": limit}
    if supply.cycles and pump.cut_in is None:
        statement = say(
            "The pump cycles under the {outlet}: its switch at {limit} stops it.", outlet=supply.outlet, limit=limit
        )
    elif supply.cycles:
        statement = say(
            "The pump cycles under the {outlet}: its switch at {limit} stops it. {on} on, {off} off, the flow swings "
            "between {low} and {high}, {mean} in the mean.",
            outlet=supply.outlet,
            limit=limit,
            **{name: number.rounded(2) for name, number in _swing(supply).items()},
        )
    elif pump.by_pass is not None and supply.discharge.likely > pump.by_pass:
        statement = say(
            "The pump runs on under the {outlet}: {pressure} behind it, its by-pass open from {opens} on; its switch "
            "stops it at {limit}.",
            opens=planned(supply.plan, f"pumps.{supply.way.pump}.by_pass", PRESSURE),
            **given,
        )
    else:
        statement = say(
            "The pump runs steadily under the {outlet}: {pressure} behind it, its switch stops it at {limit}.", **given
        )
    yield Finding(
        f"outlets.{supply.outlet}.switch",
        Verdict.WATCH if supply.cycles else Verdict.FINE,
        statement,
        value=behind,
        limit=limit,
        change=say("Open the outlet further, take one that gives more, or a pump with a speed control.")
        if supply.cycles
        else None,
        address=address,
        source="pump curve against the way's losses",
    )


def _swing(supply: OutletSupply) -> dict[str, Number]:
    """The pump's cycle under an open outlet: times on and off, lowest, highest and mean flow.

    With the accumulator if there is one, else with what the hoses give. Way and outlet together are taken as one
    constant, fitted to the steady solve.
    """
    batch, physics, pump = Batch(supply.plan), supply.case.physics, supply.way.pump
    lift = float(np.ravel(physics.lift(physics.pump_height, physics.outlet_height))[0])
    vessel = accumulator_of(supply.plan, pump)
    if vessel and supply.plan.accumulators[vessel].precharge is None:
        vessel = ""
    line = pump_line(batch, pump).likely
    given = {
        "outlet": supply.flow.likely / np.sqrt(max(supply.discharge.likely + lift, 1.0)),
        "lift": -lift,
        "switch": switch(batch, pump),
        "storage": elastic_storage(batch, vessel, np.zeros(1) if vessel else line),
    }
    cycle = pulse(**given)

    def of(name: str, take: str, quantity: Quantity, *key: str) -> Number:
        return by(name, getattr(cycle, take), quantity, pulse, take=take, **given).keyed(*key)

    under, at = f"with the {supply.outlet} open", ("outlet", supply.outlet)
    return {
        "on": of(f"the {pump} runs {under}", "on", SECONDS, "pump", pump, "on", supply.outlet),
        "off": of(f"the {pump} rests {under}", "off", SECONDS, "pump", pump, "off", supply.outlet),
        "low": of(f"least flow at the {supply.outlet} while the {pump} cycles", "flow_low", FLOW, *at, "flow", "least"),
        "high": of(f"most flow at the {supply.outlet} while the {pump} cycles", "flow_high", FLOW, *at, "flow", "most"),
        "mean": of(f"mean flow at the {supply.outlet} while the {pump} cycles", "mean", FLOW, *at, "flow", "mean"),
    }
