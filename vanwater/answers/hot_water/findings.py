"""What is to be said of a heater: current, inverter, scald, hygiene, an empty heater, its relief valve."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned, stated
from vanwater.answers.hot_water.as_it_flows import flowing_findings
from vanwater.answers.hot_water.charge import charge_findings
from vanwater.answers.hot_water.day import day_findings
from vanwater.answers.hot_water.heater import HeaterAnswer
from vanwater.answers.hot_water.hygiene import hygiene
from vanwater.answers.hot_water.scald import scald_findings
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, POWER, PRESSURE
from vanwater.system.batch import Batch
from vanwater.system.pump import rest_pressure

__all__ = ["heater_findings"]


def heater_findings(batch: Batch, heater: HeaterAnswer, pairs: Sequence[UnsureRows] = ()) -> Iterator[Finding]:
    """The findings on one heater.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : HeaterAnswer
        What it gives.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Yields
    ------
    Finding
        Worst and best in no order.
    """
    plan, name = batch.plan, heater.name
    if plan.heaters[name].power is None:
        yield Finding(
            f"hot_water.{name}.power",
            Verdict.NOT_DECIDED,
            say("How long the {heater} takes is not decided.", heater=name),
            change=say("Give the power of its element or burner."),
            address=f"heaters.{name}.power",
        )
    if heater.served is not None and heater.charge is not None:
        yield from charge_findings(batch, name, heater.served.name, heater.served.wanted, heater.charge)
    if heater.flowing is not None:
        yield from flowing_findings(plan, name, heater.flowing)
    if heater.day is not None:
        yield from day_findings(plan, name, heater.day)
    if heater.on_battery:
        yield from _current(plan, heater)
        yield from _rating(plan, name)
    yield from scald_findings(plan, name)
    yield hygiene(batch, name, pairs)
    if {plan.heaters[name].source, plan.heaters[name].also} & {"inverter", "battery", "shore"}:
        yield _empty(plan, name)
    yield _relief(plan, name)


def _loaded(value: Number, most: float, safe: float) -> Verdict:
    """Beyond the most it fails, beyond what is safe for long it is watched."""
    return Verdict.FAILS if value.likely > most else Verdict.WATCH if value.likely > safe else Verdict.FINE


def _current(plan: Plan, heater: HeaterAnswer) -> Iterator[Finding]:
    current = heater.current
    if current is None:
        return
    key, address = f"hot_water.{heater.name}.current", "battery.max_current"
    most = planned(plan, address, CURRENT)
    if math.isnan(most.likely):
        yield Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Heating draws {current} from the battery; what it may give is not decided.", current=current),
            change=say("Give {field}, the most that battery, fuse and cable stand for long.", field=address),
            address=address,
        )
        return
    verdict = _loaded(current, most.likely, 0.9 * most.likely)
    yield Finding(
        key,
        verdict,
        say("Heating draws {current} from the battery; it may give {limit}.", current=current, limit=most),
        value=current.amount,
        limit=most.amount,
        change=None
        if verdict is Verdict.FINE
        else say("Take a weaker element or a larger battery; fuse the cable to suit."),
        address=address,
        source="power over volts and efficiency; the battery's own limit",
    )


def _rating(plan: Plan, name: str) -> Iterator[Finding]:
    power = planned(plan, f"heaters.{name}.power", POWER)
    if plan.heaters[name].source != "inverter" or math.isnan(power.likely):
        return
    key = f"hot_water.{name}.inverter"
    if plan.inverter is None or plan.inverter.rating is None:
        yield Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Whether the inverter can feed the {heater} is not decided.", heater=name),
            change=say("Give {field}, its power for long loads.", field="inverter.rating"),
            address="inverter.rating" if plan.inverter is not None else "inverter",
        )
        return
    most = planned(plan, "inverter.rating", POWER)
    verdict = _loaded(power, most.likely, 0.8 * most.likely)
    yield Finding(
        key,
        verdict,
        say(
            "The {heater} takes {power} of the inverter's {limit}; what else runs meanwhile must fit in the rest.",
            heater=name,
            power=power,
            limit=most,
        ),
        value=power.amount,
        limit=most.amount,
        change=None
        if verdict is Verdict.FINE
        else say("Do not cook or charge from the inverter while it heats, or take a larger one."),
        address="inverter.rating",
        source="the inverter's own rating; 80 % of it for long is common practice",
    )


def _empty(plan: Plan, name: str) -> Finding:
    cut_out = plan.heaters[name].empty_cut_out
    verdict, words = {
        None: (
            Verdict.NOT_DECIDED,
            "What keeps the element of the {heater} off while it is empty is not decided.",
        ),
        False: (
            Verdict.FAILS,
            "Nothing keeps the element of the {heater} off while it is empty: it burns out, and can set fire.",
        ),
        True: (Verdict.FINE, "The element of the {heater} stays off while it is empty."),
    }[cut_out]
    return Finding(
        f"hot_water.{name}.empty",
        verdict,
        say(words, heater=name),
        change=None
        if cut_out
        else say("Fit a dry-run cut-out, or wire it through a switch that is on only after filling."),
        address=f"heaters.{name}.empty_cut_out",
        source="common practice",
    )


def _relief(plan: Plan, name: str) -> Finding:
    key, address = f"hot_water.{name}.relief", f"heaters.{name}.relief"
    if plan.heaters[name].relief is None:
        return Finding(
            key,
            Verdict.WATCH,
            say(
                "No relief valve is planned for the {heater}: heated while nothing can leave it, it can burst.",
                heater=name,
            ),
            change=say("Fit one that its maker allows, its drip led outside, and give its pressure."),
            address=address,
            source="common practice; safety groups of EN 1487 and EN 1488, from memory",
        )
    relief, rest = planned(plan, address, PRESSURE), _rest(plan)
    fails = relief.likely <= rest.likely
    return Finding(
        key,
        Verdict.FAILS if fails else Verdict.FINE,
        say(
            "The relief valve of the {heater} opens at {relief}; the pump stops at {cut_out}.",
            heater=name,
            relief=relief,
            cut_out=rest,
        )
        if rest.likely
        else say("The relief valve of the {heater} opens at {relief}.", heater=name, relief=relief),
        value=relief.amount,
        limit=rest.amount,
        change=say("Take a relief valve above the pump's cut-out and below what the heater stands.") if fails else None,
        address=address,
        source="common practice",
        bound="at least",
    )


def _rest(plan: Plan) -> Number:
    """The highest pressure that a pump leaves in the line while every tap is shut."""
    each = {name: rest_pressure(pump) or 0.0 for name, pump in plan.pumps.items()}
    return stated(
        "pressure while every tap is shut",
        max(each.values(), default=0.0),
        PRESSURE,
        "The highest cut-out of the pumps, or what their speed control holds; nothing behind the others.",
        facts=[(name, (pressure, PRESSURE)) for name, pressure in each.items()],
        source="the plan",
    ).keyed("pumps", "rest_pressure", exact="as planned")
