"""What is to be said of a heater: current, inverter, scald, hygiene, an empty heater, its relief valve."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.answers.hot_water.heater import HeaterAnswer, battery_share
from vanwater.physics import scald
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.water import vapour_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import (
    ALTITUDE,
    CURRENT,
    DAILY_VOLUME,
    DURATION,
    ENERGY,
    POWER,
    PRESSURE,
    STAY,
    TEMPERATURE,
    VOLUME,
)
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import hot_water_a_day
from vanwater.system.pump import rest_pressure
from vanwater.system.thermostat import MILD, scalding_outlets, unmixed_outlets

__all__ = ["heater_findings"]

_BURNS = "US CPSC publication 5098; Moritz and Henriques (1947)"
_SCALDS = limit("water that burns a hand within minutes", 322.15, TEMPERATURE, _BURNS)
_QUICK = 10.0
"""Time to a burn within which nobody pulls a hand away, s (common practice)."""
_HOTTEST = 343.15
"""Beyond this no shorter burn time is told, K."""
_GROWTH = "WHO (2007), Legionella and the prevention of legionellosis: they grow from 25 to 50 °C; from memory"
_BREEDS = (298.15, 323.15)
_HEAT_THROUGH = limit("water at which legionella die within minutes", 333.15, TEMPERATURE, _GROWTH)
_STALE = limit("time that warm water may stay", 3 * 86400.0, STAY, "common practice", digits=2)
_SWING = 5.0
"""What a thermostat may overshoot, K (common practice)."""
_MILD = limit("temperature of a shower's valve", MILD, TEMPERATURE, "common practice")


def heater_findings(batch: Batch, heater: HeaterAnswer) -> Iterator[Finding]:
    """The findings on one heater.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : HeaterAnswer
        What it gives.

    Yields
    ------
    Finding
        Worst and best in no order.
    """
    plan, name = batch.plan, heater.name
    if heater.recovery is None:
        yield Finding(
            f"hot_water.{name}.power",
            Verdict.NOT_DECIDED,
            say("How long the {heater} takes is not decided.", heater=name),
            change=say("Say the power of its element or burner."),
            address=f"heaters.{name}.power",
        )
    yield from _enough(heater)
    if heater.on_battery:
        yield from _current(plan, heater)
        yield from _rating(plan, name)
        yield from _idle(batch, name)
    yield _scald(plan, name)
    yield from _boils(plan, name)
    yield _hygiene(batch, name)
    if heater.on_battery or plan.heaters[name].source == "shore":
        yield _empty(plan, name)
    yield _relief(plan, name)


def _enough(heater: HeaterAnswer) -> Iterator[Finding]:
    if heater.served is None:
        return
    wanted, low, high = heater.served.wanted, *heater.served.charge.values()
    verdict = _loaded(wanted, high.likely, low.likely)
    yield Finding(
        f"hot_water.{heater.name}.enough",
        verdict,
        say(
            "One {use} takes {wanted} of mixed water; one charge makes {low} to {high}, by how far it mixes.",
            use=heater.served.name,
            wanted=wanted,
            low=low.rounded(2),
            high=high.rounded(2),
        ),
        change=None if verdict is Verdict.FINE else say("Heat it hotter, or take a larger heater."),
        address=f"heaters.{heater.name}.volume",
        source="heat balance, fully mixed to plug flow",
    )


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
            change=say("Say the largest current that battery, fuse and cable stand for long."),
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
            change=say("Say the inverter's power for long loads."),
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


def _idle(batch: Batch, name: str) -> Iterator[Finding]:
    inverter = batch.plan.inverter
    if inverter is None or batch.plan.battery is None or inverter.idle * inverter.hours_on <= 0:
        return
    energy = stated(
        "what the inverter idles away a day",
        batch.number("inverter.idle") * batch.number("inverter.hours_on"),
        ENERGY,
        "Its idle power times the hours that it is on in a day.",
        facts=[
            (field, planned(batch.plan, f"inverter.{field}", quantity))
            for field, quantity in (("idle", POWER), ("hours_on", DURATION))
        ],
        source="definition of energy",
    ).keyed("inverter", "idle_a_day")
    share = battery_share(batch, "share of the battery that it idles away a day", energy)
    verdict = Verdict.WATCH if share.likely > 0.05 else Verdict.FINE
    yield Finding(
        f"hot_water.{name}.idle",
        verdict,
        say(
            "The inverter idles away {energy} a day, {share} of the battery.",
            energy=energy,
            share=share.keyed("inverter", "idle_share", digits=2),
        ),
        change=say("Switch it off when nothing runs on it.") if verdict is Verdict.WATCH else None,
        address="inverter.hours_on",
        source="idle power times hours on",
    )


def _scald(plan: Plan, name: str) -> Finding:
    key, address = f"hot_water.{name}.scald", f"heaters.{name}.set_point"
    hot = planned(plan, address, TEMPERATURE)
    if scalding_outlets(plan, name, -math.inf) and not scalding_outlets(plan, name, MILD):
        return Finding(
            key,
            Verdict.FINE,
            say(
                "Every outlet of the {heater} is behind a thermostatic valve that is set to {mild} or less.",
                heater=name,
                mild=_MILD,
            ),
            change=say("Test the valves every half year: shut the cold side, the flow must stop."),
            address=address,
            source="common practice",
        )
    if hot.likely < _SCALDS.likely:
        return Finding(
            key,
            Verdict.FINE,
            say(
                "At {hot} water of the {heater} burns skin only after minutes, a child's at about a quarter of them.",
                hot=hot,
                heater=name,
            ),
            value=hot.amount,
            limit=_SCALDS.amount,
            address=address,
            source=_BURNS,
        )
    time = step("time to a burn", scald.scald_time, temperature=np.minimum(hot.values, _HOTTEST))
    direct = unmixed_outlets(plan, name)
    where = (
        "At {hot} the water of the {heater} comes out of the {outlets} as it is, no mixer before it"
        if direct
        else "At {hot} no thermostatic valve holds the water of the {heater} mild"
    )
    within = "less than a second" if hot.likely > _HOTTEST else "about {time}"
    told = say(
        f"{where}: it burns skin to the third degree within {within}; first injury comes at about half of it, a "
        "child's at about a quarter.",
        hot=hot,
        heater=name,
        **({"outlets": direct} if direct else {}),
        **({} if hot.likely > _HOTTEST else {"time": time.keyed("heater", name, "burn_time", digits=1)}),
    )
    return Finding(
        key,
        Verdict.FAILS if direct and time.likely <= _QUICK else Verdict.WATCH,
        told,
        value=hot.amount,
        limit=_SCALDS.amount,
        change=say("Fit a thermostatic mixing valve set to {mild} or less, or heat to less.", mild=_MILD),
        address=address,
        source=f"{_BURNS}; first injury and children from memory",
    )


def _boils(plan: Plan, name: str) -> Iterator[Finding]:
    """Water that boils at the highest place of the plan once a tap lets its pressure go."""
    if plan.site.highest is None:
        return
    hot = planned(plan, f"heaters.{name}.set_point", TEMPERATURE)
    highest = planned(plan, "site.highest", ALTITUDE)
    air = float(air_pressure(highest.likely))
    boils = float(vapour_pressure(hot.likely)) >= air
    if float(vapour_pressure(hot.likely + _SWING)) < air:
        return
    yield Finding(
        f"hot_water.{name}.boils",
        Verdict.FAILS if boils else Verdict.WATCH,
        say(
            "The {heater} makes {hot}, and at {height} water boils below that: steam and scalding water spit out of an "
            "open tap."
            if boils
            else "The {heater} makes {hot}, so near boiling at {height} that its thermostat's swing makes steam at an "
            "open tap.",
            height=highest,
            hot=hot,
            heater=name,
        ),
        change=say("Set it to {rule} or less before the van goes so high.", rule=_HEAT_THROUGH),
        address=f"heaters.{name}.set_point",
        source="IAPWS-95 vapour pressure; ISO 2533 standard atmosphere",
    )


def _hygiene(batch: Batch, name: str) -> Finding:
    """Whether water stands warm for days where legionella grow."""
    key, address = f"hot_water.{name}.hygiene", f"heaters.{name}.set_point"
    hot = planned(batch.plan, address, TEMPERATURE)
    drawn = stated(
        f"hot water drawn from the {name} a day",
        hot_water_a_day(batch, name),
        DAILY_VOLUME,
        "Its share in the mixed water of all uses, and what runs off before it.",
        source="heat balance of mixing",
    ).keyed("heater", name, "drawn_a_day")
    if not drawn.likely > 0.0:
        stays = say("no use draws from it, so it stands")
    else:
        held = planned(batch.plan, f"heaters.{name}.volume", VOLUME)
        stays = say(
            "it is drawn through in {time}",
            time=stated(
                f"time that water stays in the {name}",
                batch.number(f"heaters.{name}.volume") / drawn.values,
                STAY,
                "What it holds over what is drawn a day.",
                facts=[("holds", held), ("drawn a day", drawn)],
                source="conservation of volume",
            ).keyed("heater", name, "stays", digits=2),
        )
    stale = drawn.likely * _STALE.likely < batch.plan.heaters[name].volume
    warm = stale and _BREEDS[0] <= hot.likely < _BREEDS[1]
    return Finding(
        key,
        Verdict.WATCH if warm else Verdict.FINE,
        say(
            "The {heater} keeps {hot}, at which legionella grow, and {stays}; more than {most} is long."
            if warm
            else "The {heater} keeps {hot}, and {stays}; what stands warm for more than {most} is the risk.",
            heater=name,
            hot=hot,
            stays=stays,
            most=_STALE,
        ),
        change=say("After standing, heat it through to {rule} and flush every outlet.", rule=_HEAT_THROUGH),
        address=address,
        source=_GROWTH,
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
            change=say("Fit one that its maker allows, its drip led outside, and say its pressure."),
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
