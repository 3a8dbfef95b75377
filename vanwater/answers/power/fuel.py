"""Fuel of heaters that burn: what a day takes, how long what is carried lasts, gas in frost and in thin air."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.physics import fuel
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.energy import BURNERS
from vanwater.plan.model import Plan
from vanwater.quantities import ALTITUDE, DAILY_ENERGY, ENERGY, LATENT_HEAT, MASS, POWER, STAY, TEMPERATURE, Array
from vanwater.system.batch import Batch
from vanwater.system.day import FEEDERS, day_of

__all__ = ["Burnt", "burnt", "fuel_findings"]

HEATING_VALUES = {"propane": fuel.PROPANE, "butane": fuel.BUTANE, "diesel": fuel.DIESEL}
NO_GAS = limit("butane gives no gas", FREEZING_POINT - 0.5, TEMPERATURE, "boiling point of n-butane at sea level")


@dataclass(frozen=True, slots=True, eq=False)
class Burnt:
    """What a heater burns.

    Parameters
    ----------
    name : str
        The heater.
    what : str
        "propane", "butane" or "diesel"; propane where it is not said which gas.
    heat, fuel : Number
        Heat that it gives a day, and the fuel for it.
    carried, days : Number or None
        What is carried for it, and how long that lasts; None while it is not decided.
    """

    name: str
    what: str
    heat: Number
    fuel: Number
    carried: Number | None
    days: Number | None


def burnt(batch: Batch, pairs: Sequence[UnsureRows]) -> Iterator[Burnt]:
    """What the heaters burn that give heat in a day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Yields
    ------
    Burnt
        None of a heater that no use draws from and that loses nothing.
    """
    day, place = day_of(batch), FEEDERS.index("fuel")
    for name, heater in batch.plan.heaters.items():
        if heater.source not in BURNERS:
            continue
        parts = [
            (consumer.label, np.sum(day.share * consumer.power[:, place], axis=0))
            for consumer in day.consumers
            if consumer.name == name and consumer.kind in ("hot water", "standing")
        ]
        total: Array = np.sum([power for _, power in parts], axis=0) if parts else np.zeros(len(batch))
        if not np.all(np.isfinite(total)) or not total[0] > 0.0:
            continue
        heat = stated(
            f"heat of the {name} a day",
            total,
            DAILY_ENERGY,
            "Its hot water and what it loses while it is on.",
            parts=[(label, (power, DAILY_ENERGY)) for label, power in parts],
            source="sum of both",
        ).keyed("heater", name, "heat_a_day", pairs=pairs, digits=2)
        what = "diesel" if heater.source == "diesel" else heater.gas or "propane"
        a_day = stated(f"heat of the {name} in one day", total * 86400.0, ENERGY, "The same in a day.", source="day")
        taken = step(
            f"{what} for the {name} a day",
            fuel.fuel_mass,
            heat=a_day,
            efficiency=batch.number(f"heaters.{name}.efficiency"),
            heating_value=limit(f"heating value of {what}", HEATING_VALUES[what], LATENT_HEAT, "heats of formation"),
        ).keyed("heater", name, "fuel_a_day", pairs=pairs, digits=2)
        carried = planned(batch.plan, f"heaters.{name}.fuel", MASS) if heater.fuel is not None else None
        yield Burnt(name, what, heat, taken, carried, _days(batch, name, taken, pairs) if carried else None)


def _days(batch: Batch, name: str, taken: Number, pairs: Sequence[UnsureRows]) -> Number:
    carried = batch.number(f"heaters.{name}.fuel")
    with np.errstate(over="ignore", divide="ignore"):  # next to nothing is burnt: unlimited
        lasts = carried / taken.values * 86400.0
    return stated(
        f"days of the fuel of the {name}",
        lasts,
        STAY,
        "What is carried over what a day takes.",
        facts=[("carried", (carried, MASS)), (taken.name, taken)],
        source="quotient of steady daily means",
    ).keyed("heater", name, "fuel_days", pairs=pairs, rates=taken.values / carried / 86400.0)


def fuel_findings(plan: Plan, each: Sequence[Burnt]) -> Iterator[Finding]:
    """The findings on fuel.

    Parameters
    ----------
    plan : Plan
        The plan.
    each : sequence of Burnt
        What the heaters burn.

    Yields
    ------
    Finding
        Days of fuel against the days wanted, butane in frost, gas that heats as the water flows in thin air.
    """
    wanted = plan.household.days_wanted
    for one in each:
        if one.days is None:
            yield Finding(
                f"power.{one.name}.fuel",
                Verdict.NOT_DECIDED,
                say(
                    "How long the {what} for the {heater} lasts is not decided; it takes {fuel} a day.",
                    what=one.what,
                    heater=one.name,
                    fuel=one.fuel.amount,
                ),
                change=say("Give {field}, what is carried for it.", field=f"heaters.{one.name}.fuel"),
                address=f"heaters.{one.name}.fuel",
                source="energy balance",
            )
        elif wanted is not None:
            most = limit("days wanted", wanted, STAY, "the plan", digits=2)
            verdict = judge(one.days.shown, most.amount, "at least")
            yield Finding(
                f"power.{one.name}.fuel",
                verdict,
                say(
                    "The {carried} of {what} for the {heater} last {days}; it takes {fuel} a day.",
                    carried=one.carried or 0,
                    what=one.what,
                    heater=one.name,
                    days=one.days,
                    fuel=one.fuel.amount,
                ),
                value=one.days.shown,
                limit=most.amount,
                change=None if verdict is Verdict.FINE else say("Carry more, or exchange the bottle on the way."),
                address=f"heaters.{one.name}.fuel",
                source="energy balance",
                bound="at least",
            )
        if one.what == "butane":
            yield _butane(plan, one.name)
    for name, heater in () if plan.water.drained else plan.heaters.items():
        if heater.source == "gas" and heater.as_it_flows and heater.power is not None and plan.site.highest is not None:
            yield _thin_air(plan, name)


def _butane(plan: Plan, name: str) -> Finding:
    field = "frost.design_cold" if plan.frost.design_cold is not None else "site.coldest"
    coldest = planned(plan, field, TEMPERATURE)
    cold = coldest.likely < NO_GAS.likely
    return Finding(
        f"power.{name}.butane",
        Verdict.FAILS if cold else Verdict.FINE,
        say(
            "Butane gives no gas below {limit}; the bottle may stand at {coldest}, and the {heater} stays cold.",
            limit=NO_GAS,
            coldest=coldest,
            heater=name,
        )
        if cold
        else say("The bottle of butane stands at {coldest} at the coldest.", coldest=coldest),
        value=coldest.amount,
        limit=NO_GAS.amount,
        change=say("Burn propane in the cold, with the regulator that suits it.") if cold else None,
        address=f"heaters.{name}.gas",
        source=NO_GAS.source,
        bound="at least",
    )


def _thin_air(plan: Plan, name: str) -> Finding:
    highest = planned(plan, "site.highest", ALTITUDE)
    power = planned(plan, f"heaters.{name}.power", POWER)
    left = step(f"power of the {name} at the highest place", fuel.burner_power, power=power, altitude=highest).keyed(
        "heater", name, "power_at_highest", exact="as planned", digits=2
    )
    weak = left.likely < 0.9 * power.likely
    return Finding(
        f"power.{name}.thin_air",
        Verdict.WATCH if weak else Verdict.FINE,
        say(
            "At {highest} the {heater} gives {left} of its {power}, unless a fan sets its air.",
            highest=highest,
            heater=name,
            left=left,
            power=power,
        ),
        change=say("Count on cooler or slower water there.") if weak else None,
        address="site.highest",
        source="common practice; NFPA 54, from memory",
    )
