"""What is to be said of one outlet: its flow, its warmth, the pump's switch."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.working import planned
from vanwater.answers.outlets.burner import burner_finding
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.answers.outlets.pump import pump_findings
from vanwater.answers.outlets.thermostat import thermostat_findings
from vanwater.plan.pump import SWITCHED
from vanwater.quantities import FLOW, PRESSURE
from vanwater.system.pump import starts_from
from vanwater.system.thermostat import thermostatic
from vanwater.system.ways import Way

__all__ = ["gives", "mains_only", "outlet_findings", "way_not_decided"]


def way_not_decided(name: str, way: Way, gaps: tuple[str, ...]) -> Finding:
    """The finding on an outlet whose way cannot be followed, or lacks a number.

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
            say("The way to the {outlet} cannot be followed. {why}", outlet=name, why=way.broken[0]),
            change=say("Draw its runs so that the water has one way to it, or one hot and one cold."),
            address=f"outlets.{name}",
        )
    return Finding(
        f"outlets.{name}.way",
        Verdict.NOT_DECIDED,
        say("What the {outlet} gives is not decided yet.", outlet=name),
        change=say("Give {fields}.", fields=gaps),
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
        Flow, heater, warmth, pump switch.
    """
    yield _flow_finding(supply)
    yield from burner_finding(supply)
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
    if supply.runs_dry:
        return _dry(supply)
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
            say("The {gives}; the plan asks for no flow of its own.", gives=gives(supply)),
            change=say("Measure first: {what}.", what=first.name),
            address=f"{address}.wanted",
            source="common practice",
        )
    wanted = planned(supply.plan, f"{address}.wanted", FLOW)
    held = supply.lowest if supply.regulated else supply.flow
    verdict = judge(held.shown, wanted.amount, "at least")
    if supply.cycles and supply.swing is None and verdict is not Verdict.FAILS:
        return Finding(
            f"outlets.{supply.outlet}.flow",
            Verdict.NOT_DECIDED,
            say("The {gives}; {wanted} is wanted.", gives=gives(supply), wanted=wanted),
            change=say("Give the pressure at which its switch starts the pump."),
            address=f"pumps.{supply.way.pump}.cut_in",
        )
    change = best.words if best and verdict is not Verdict.FINE else say("Measure first: {what}.", what=first.name)
    return Finding(
        f"outlets.{supply.outlet}.flow",
        verdict,
        say("The {gives}; {wanted} is wanted.", gives=gives(supply), wanted=wanted),
        value=held.shown,
        limit=wanted.amount,
        change=change,
        gain=say("{flow} more", flow=best.flow) if best and verdict is not Verdict.FINE else None,
        address=f"{address}.wanted",
        source="the plan's own wish",
        bound="at least",
    )


def gives(supply: OutletSupply) -> Say:
    """What an outlet gives, as the words behind "The": steady, or its mean with its swing while the pump cycles."""
    given: dict[str, Given] = {"outlet": supply.outlet, "flow": supply.flow}
    if not supply.cycles:
        return say("{outlet} gives {flow}", **given)
    if supply.swing is None:
        return say("{outlet} gives {flow} at most, and less in the mean, since the pump cycles", **given)
    if not supply.swings:
        return say("{outlet} gives {flow} while the pump cycles, held by its regulator", **given)
    return say(
        "{outlet} gives {flow} in the mean, swinging from {least} to {most} while the pump cycles",
        least=supply.least.rounded(2),
        most=supply.most.rounded(2),
        **given,
    )


def _dry(supply: OutletSupply) -> Finding:
    at = f"pumps.{supply.way.pump}"
    stands = supply.discharge.amount
    return Finding(
        f"outlets.{supply.outlet}.dry",
        Verdict.FAILS,
        say(
            "The {outlet} runs dry: the {pump} stops at {stop}, and only below {start} its switch starts it again; the "
            "water no longer reaches the {outlet} below {stands} behind the pump.",
            outlet=supply.outlet,
            pump=supply.way.pump,
            stop=planned(supply.plan, f"{at}.cut_out", PRESSURE),
            start=planned(supply.plan, f"{at}.cut_in", PRESSURE),
            stands=stands,
        ),
        value=stands,
        limit=planned(supply.plan, f"{at}.cut_in", PRESSURE).amount,
        change=say("Set the switch higher, if the pump has the pressure, or put the outlet lower."),
        address=f"{at}.cut_in",
        source="column of water over the pump",
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
            change=say("Give the pressures at which its switch starts and stops it."),
            address=address,
        )
        return
    if not supply.reaches:  # said already, with its flow
        return
    behind = (supply.crossing if supply.cycles else supply.discharge).amount
    limit = planned(supply.plan, address, PRESSURE).amount
    given: dict[str, Given] = {"outlet": supply.outlet, "pressure": behind, "limit": limit}
    if supply.cycles and pump.cut_in is None:
        statement = say(
            "The pump cycles under the {outlet}: its switch at {limit} stops it.", outlet=supply.outlet, limit=limit
        )
    elif supply.cycles and supply.chatters:
        statement = say(
            "The pump chatters under the {outlet}: its switch at {limit} stops it, and the line behind it gives "
            "little. The flow {flow}.",
            outlet=supply.outlet,
            limit=limit,
            flow=_swinging(supply),
        )
    elif supply.cycles:
        statement = say(
            "The pump cycles under the {outlet}: its switch at {limit} stops it. {on} on, {off} off, the flow {flow}.",
            outlet=supply.outlet,
            limit=limit,
            on=supply.times[0].rounded(2),
            off=supply.times[1].rounded(2),
            flow=_swinging(supply),
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


def _swinging(supply: OutletSupply) -> Say:
    """What the flow does while the pump cycles, as the words behind "the flow"."""
    if not supply.swings:
        return say("stays at {flow} by its regulator", flow=supply.flow.rounded(2))
    return say(
        "swings between {low} and {high}, {mean} in the mean",
        low=supply.least.rounded(2),
        high=supply.most.rounded(2),
        mean=supply.flow.rounded(2),
    )
