"""What is to be said of a heater: current, inverter, scald, hygiene, an empty heater, its relief valve."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.hot_water.heater import HeaterAnswer
from vanwater.answers.outlets.thermostat import MILD
from vanwater.physics import battery, scald
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, ENERGY, POWER, PRESSURE, SECONDS, SHARE, TEMPERATURE, VOLUME
from vanwater.system.pump import rest_pressure
from vanwater.system.thermostat import scalding_outlets

__all__ = ["heater_findings"]

SCALDS = 322.15
"""From here a hand burns within minutes, K: 49 °C (US CPSC publication 5098)."""

HEAT_THROUGH = 333.15
"""Temperature at which legionella die within minutes, K: 60 °C (rule for buildings, WHO)."""


def heater_findings(plan: Plan, one: HeaterAnswer) -> Iterator[Finding]:
    """The findings on one heater.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : HeaterAnswer
        What it gives.

    Yields
    ------
    Finding
        Worst and best in no order.
    """
    if plan.heaters[one.heater].power is None:
        yield Finding(
            f"hot_water.{one.heater}.power",
            Verdict.NOT_DECIDED,
            say("How long the {heater} takes is not decided.", heater=one.heater),
            change=say("Say the power of its element or burner."),
            address=f"heaters.{one.heater}.power",
        )
    yield from _enough(plan, one)
    if one.electric:
        yield from _current(plan, one)
        yield from _rating(plan, one)
        yield from _idle(plan, one)
    yield _scald(plan, one)
    yield _hygiene(plan, one)
    yield from _empty(plan, one)
    yield _relief(plan, one)


def _enough(plan: Plan, one: HeaterAnswer) -> Iterator[Finding]:
    if one.charge is None:
        return
    wanted = plan.uses[one.use].each_time
    verdict = Verdict.FAILS if wanted > one.charge.high else Verdict.WATCH if wanted > one.charge.low else Verdict.FINE
    yield Finding(
        f"hot_water.{one.heater}.enough",
        verdict,
        say(
            "One {use} takes {wanted} of mixed water; one charge makes {low} to {high}, by how far it mixes.",
            use=one.use,
            wanted=Amount(wanted, VOLUME),
            low=Amount(one.charge.low, VOLUME, 2),
            high=Amount(one.charge.high, VOLUME, 2),
        ),
        change=None if verdict is Verdict.FINE else say("Heat it hotter, or take a larger heater."),
        address=f"heaters.{one.heater}.volume",
        source="heat balance, fully mixed to plug flow",
    )


def _current(plan: Plan, one: HeaterAnswer) -> Iterator[Finding]:
    if "current" not in one.steps or plan.battery is None:
        return
    current = one.steps["current"].result
    assert isinstance(current, Amount)
    limit = plan.battery.max_current
    key, address = f"hot_water.{one.heater}.current", "battery.max_current"
    if limit is None:
        yield Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Heating draws {current} from the battery; what it may give is not decided.", current=current),
            change=say("Say the largest current that battery, fuse and cable stand for long."),
            address=address,
        )
        return
    verdict = Verdict.FAILS if current.value > limit else Verdict.WATCH if current.value > 0.9 * limit else Verdict.FINE
    yield Finding(
        key,
        verdict,
        say(
            "Heating draws {current} from the battery; it may give {limit}.",
            current=current,
            limit=Amount(limit, CURRENT),
        ),
        value=current,
        limit=Amount(limit, CURRENT),
        change=None
        if verdict is Verdict.FINE
        else say("Take a weaker element or a larger battery; fuse the cable to suit."),
        address=address,
        source="power over volts and efficiency; the battery's own limit",
    )


def _rating(plan: Plan, one: HeaterAnswer) -> Iterator[Finding]:
    known = plan.heaters[one.heater]
    if known.source != "inverter" or known.power is None:
        return
    key = f"hot_water.{one.heater}.inverter"
    if plan.inverter is None or plan.inverter.rating is None:
        yield Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Whether the inverter can feed the {heater} is not decided.", heater=one.heater),
            change=say("Say the inverter's power for long loads."),
            address="inverter.rating" if plan.inverter is not None else "inverter",
        )
        return
    power, limit = Amount(known.power, POWER), Amount(plan.inverter.rating, POWER)
    verdict = (
        Verdict.FAILS
        if power.value > limit.value
        else Verdict.WATCH
        if power.value > 0.8 * limit.value
        else Verdict.FINE
    )
    yield Finding(
        key,
        verdict,
        say(
            "The {heater} takes {power} of the inverter's {limit}; what else runs meanwhile must fit in the rest.",
            heater=one.heater,
            power=power,
            limit=limit,
        ),
        value=power,
        limit=limit,
        change=None
        if verdict is Verdict.FINE
        else say("Do not cook or charge from the inverter while it heats, or take a larger one."),
        address="inverter.rating",
        source="the inverter's own rating; 80 % of it for long is common practice",
    )


def _idle(plan: Plan, one: HeaterAnswer) -> Iterator[Finding]:
    inverter, cells = plan.inverter, plan.battery
    if inverter is None or cells is None or inverter.idle * inverter.hours_on <= 0:
        return
    idle = inverter.idle * inverter.hours_on
    share = float(battery.battery_share(idle, battery.usable_energy(cells.volts, cells.charge, cells.usable)))
    verdict = Verdict.WATCH if share > 0.05 else Verdict.FINE
    yield Finding(
        f"hot_water.{one.heater}.idle",
        verdict,
        say(
            "The inverter idles away {energy} a day, {share} of the battery.",
            energy=Amount(idle, ENERGY),
            share=Amount(share, SHARE, 2),
        ),
        change=say("Switch it off when nothing runs on it.") if verdict is Verdict.WATCH else None,
        address="inverter.hours_on",
        source="idle power times hours on",
    )


def _scald(plan: Plan, one: HeaterAnswer) -> Finding:
    hot = plan.heaters[one.heater].set_point
    key, address = f"hot_water.{one.heater}.scald", f"heaters.{one.heater}.set_point"
    if scalding_outlets(plan, one.heater, -np.inf) and not scalding_outlets(plan, one.heater, MILD):
        return Finding(
            key,
            Verdict.FINE,
            say(
                "Every outlet of the {heater} is behind a thermostatic valve that is set to {mild} or less.",
                heater=one.heater,
                mild=Amount(MILD, TEMPERATURE),
            ),
            change=say("Test the valves every half year: shut the cold side, the flow must stop."),
            address=address,
            source="common practice",
        )
    if hot < SCALDS:
        return Finding(
            key,
            Verdict.FINE,
            say("At {hot} the {heater} scalds nobody quickly.", hot=Amount(hot, TEMPERATURE), heater=one.heater),
            value=Amount(hot, TEMPERATURE),
            limit=Amount(SCALDS, TEMPERATURE),
            address=address,
            source="US CPSC publication 5098; Moritz and Henriques (1947)",
        )
    seconds = float(scald.scald_time(min(hot, 343.15)))
    return Finding(
        key,
        Verdict.WATCH,
        say(
            "At {hot} water straight from the {heater} burns skin within about {time}, a child's sooner.",
            hot=Amount(hot, TEMPERATURE),
            heater=one.heater,
            time=Amount(seconds, SECONDS, 1),
        ),
        change=say("Fit a thermostatic mixing valve set to 43 °C or less, or heat to less."),
        address=address,
        source="US CPSC publication 5098; Moritz and Henriques (1947)",
    )


def _hygiene(plan: Plan, one: HeaterAnswer) -> Finding:
    hot = plan.heaters[one.heater].set_point
    warm = hot < HEAT_THROUGH - 5.0
    return Finding(
        f"hot_water.{one.heater}.hygiene",
        Verdict.WATCH if warm else Verdict.FINE,
        say(
            "The {heater} keeps {hot}. Buildings must store at {rule}; a van's few litres are used up within a day, "
            "what stands for days is the risk.",
            heater=one.heater,
            hot=Amount(hot, TEMPERATURE),
            rule=Amount(HEAT_THROUGH, TEMPERATURE),
        ),
        change=say("After standing, heat it through to {rule} and flush.", rule=Amount(HEAT_THROUGH, TEMPERATURE))
        if warm
        else None,
        address=f"heaters.{one.heater}.set_point",
        source="storage rule of buildings (WHO, HSE L8), named for comparison; from memory",
    )


def _empty(plan: Plan, one: HeaterAnswer) -> Iterator[Finding]:
    if not one.electric and plan.heaters[one.heater].source != "shore":
        return
    cut_out = plan.heaters[one.heater].empty_cut_out
    verdict = {None: Verdict.NOT_DECIDED, False: Verdict.FAILS, True: Verdict.FINE}[cut_out]
    told = {
        None: "What keeps the element of the {heater} off while it is empty is not decided.",
        False: "Nothing keeps the element of the {heater} off while it is empty: it burns out, and can set fire.",
        True: "The element of the {heater} stays off while it is empty.",
    }[cut_out]
    yield Finding(
        f"hot_water.{one.heater}.empty",
        verdict,
        say(told, heater=one.heater),
        change=None
        if cut_out
        else say("Fit a dry-run cut-out, or wire it through a switch that is on only after filling."),
        address=f"heaters.{one.heater}.empty_cut_out",
        source="common practice",
    )


def _relief(plan: Plan, one: HeaterAnswer) -> Finding:
    relief = plan.heaters[one.heater].relief
    key, address = f"hot_water.{one.heater}.relief", f"heaters.{one.heater}.relief"
    if relief is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("The relief valve of the {heater} is not decided.", heater=one.heater),
            change=say("Fit one that its maker allows, with a drain to the outside."),
            address=address,
        )
    cut_out = max((rest_pressure(pump) or 0.0 for pump in plan.pumps.values()), default=0.0)
    verdict = Verdict.FAILS if relief <= cut_out else Verdict.FINE
    return Finding(
        key,
        verdict,
        say(
            "The relief valve of the {heater} opens at {relief}; the pump stops at {cut_out}.",
            heater=one.heater,
            relief=Amount(relief, PRESSURE),
            cut_out=Amount(cut_out, PRESSURE),
        )
        if cut_out
        else say(
            "The relief valve of the {heater} opens at {relief}.", heater=one.heater, relief=Amount(relief, PRESSURE)
        ),
        value=Amount(relief, PRESSURE),
        limit=Amount(cut_out, PRESSURE),
        change=say("Take a relief valve above the pump's cut-out and below what the heater stands.")
        if verdict is Verdict.FAILS
        else None,
        address=address,
        source="common practice",
        bound="at least",
    )
