"""What the battery gives and gets back in a day, state by state; whether cables, inverter and socket carry it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import limit, stated
from vanwater.answers.power.balance import IN_WORDS, Balance, balance_of
from vanwater.answers.power.battery import battery_findings, idle_finding
from vanwater.answers.power.by_sun import by_sun_findings
from vanwater.answers.power.cables import CableDrop, cable_drops, cable_findings
from vanwater.answers.power.clashes import clash_findings
from vanwater.answers.power.converter import converter_findings
from vanwater.answers.power.feeders import feeder_findings
from vanwater.answers.power.fuel import Burnt, burnt, fuel_findings
from vanwater.answers.stay.answer import stay
from vanwater.plan.electricity import gauge_name
from vanwater.plan.model import Plan
from vanwater.quantities import (
    CHARGE,
    CURRENT,
    DAILY_ENERGY,
    DAY,
    ENERGY,
    LENGTH,
    MASS,
    SECTION,
    SHARE,
    STAY,
    TEMPERATURE,
    VOLTAGE,
)
from vanwater.system.batch import Batch
from vanwater.system.charging import ABOVE_NOMINAL, CHARGER, STORED
from vanwater.system.power import CABLE

__all__ = ["Power", "power"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Power(Answer):
    """The answer on power.

    Parameters
    ----------
    balance : Balance or None
        What the battery gives and gets in a day; None while it is not decided.
    cables : tuple of CableDrop
        What each cable loses.
    nights : float
        Time without a charge that the plan wants [s].
    """

    balance: Balance | None
    cables: tuple[CableDrop, ...]
    nights: float


def power(plan: Plan) -> Power:
    """What the battery gives and gets in a day, and whether what carries it does.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Power
        Not decided while the battery or what lives on it is not.
    """
    balance, batch = balance_of(plan), Batch(plan)
    drops = tuple(cable_drops(batch))
    days = stay(plan)
    fuels = tuple(burnt(days.batch, days.pairs))
    findings = (
        *fuel_findings(plan, fuels),
        *battery_findings(batch),
        *(idle_finding(balance) if balance is not None else ()),
        *(by_sun_findings(balance) if balance is not None else ()),
        *feeder_findings(batch),
        *clash_findings(plan),
        *cable_findings(plan, drops),
        *converter_findings(batch),
    )
    return Power(
        verdict=_verdict(balance),
        decided=balance is not None,
        findings=worst_first(findings),
        make_tables=partial(_tables, plan, balance, drops, fuels),
        make_numbers=lambda: (
            *((balance.days, balance.loads_charge) if balance is not None else ()),
            *(drop.section for drop in drops),
        ),
        assumptions=tuple(_assumptions(plan)) if balance is not None else (),
        balance=balance,
        cables=drops,
        nights=plan.frost.nights * DAY,
    )


def _verdict(balance: Balance | None) -> Say:
    if balance is None:
        return say("What the battery gives in a day is not decided.")
    if balance.put_back is None:
        return say(
            "The loads take {loads} from the battery's {usable}, and nothing is put back.",
            loads=balance.loads.amount,
            usable=balance.usable,
        )
    strongest = balance.put[0].label
    alone = len(balance.put) == 1
    most = (
        ""
        if alone
        else "most of it "
        if balance.put[0].a_day.likely > 0.5 * balance.put_back.likely
        else "first of all "
    )
    return say(
        f"The loads take {{loads}} from the battery's {{usable}}; {{put}} can be put back, {most}from {{source}}. "
        "Without any charge it lasts {days}.",
        loads=balance.loads.amount,
        usable=balance.usable,
        put=balance.put_back.amount,
        source=_SOURCES.get(strongest, strongest),
        days=balance.uncharged,
    )


_SOURCES = {
    "charging": "what is stated as a whole",
    "sun": "the sun",
    "alternator": "the alternator",
    "socket": "the socket",
}


def _tables(
    plan: Plan, balance: Balance | None, drops: tuple[CableDrop, ...], fuels: tuple[Burnt, ...]
) -> Iterator[Table]:
    if balance is not None:
        states = balance.states
        yield Table(
            "balance",
            say("What the battery gives and can get back in a day, by the states of the van."),
            (
                Column("consumer or source"),
                *(Column(IN_WORDS[state], ENERGY) for state in states if len(states) > 1),
                Column("a day", DAILY_ENERGY),
                Column("charge a day", CHARGE),
            ),
            tuple(_rows(balance, states)),
            say("A source stands with a plus."),
        )
        yield Table(
            "hours",
            say("The hours of a day by the states of the van."),
            (Column("state"), Column("hours")),
            tuple((IN_WORDS[state], balance.hours[state].amount) for state in states) if len(states) > 1 else (),
        )
    yield Table(
        "fuel",
        say("What heaters burn in a day."),
        (
            Column("heater"),
            Column("fuel"),
            Column("heat a day", DAILY_ENERGY),
            Column("fuel a day", MASS),
            Column("carried", MASS),
            Column("lasts", STAY),
        ),
        tuple(
            (
                told.name,
                told.what,
                told.heat.amount,
                told.fuel.amount,
                told.carried.amount if told.carried is not None else None,
                told.days.shown if told.days is not None else None,
            )
            for told in fuels
        ),
    )
    yield _cables(plan, drops)


def _cables(plan: Plan, drops: tuple[CableDrop, ...]) -> Table:
    """Sizes as the plan says them: by sections, by gauges, or both columns where it says both."""
    said = {drop.name: plan.cables[drop.name].awg for drop in drops}
    gauges = {name: "" if gauge is None else gauge_name(gauge) for name, gauge in said.items()}
    gauged, measured = any(gauges.values()), not all(gauges.values())
    return Table(
        "cables",
        say("What each cable loses while it feeds its load, what it may carry, and its fuse."),
        (
            Column("cable"),
            Column("to"),
            Column("one way", LENGTH),
            *([Column("gauge")] if gauged else []),
            *([Column("section", SECTION)] if measured else []),
            Column("current", CURRENT),
            Column("loses", VOLTAGE),
            Column("of the volts", SHARE),
            Column("insulation", TEMPERATURE),
            Column("may carry", CURRENT),
            Column("fuse", CURRENT),
        ),
        tuple(
            (
                drop.name,
                drop.to,
                drop.length.amount,
                *([gauges[drop.name]] if gauged else []),
                *([drop.section.amount] if measured else []),
                drop.current.amount,
                drop.lost.amount,
                drop.share.amount,
                drop.guard.insulation.amount,
                drop.guard.ampacity.amount,
                drop.guard.fuse.amount if drop.guard.fuse is not None else None,
            )
            for drop in drops
        ),
    )


def _rows(balance: Balance, states: tuple[str, ...]) -> Iterator[tuple[Cell, ...]]:
    for told in (*balance.taken, *balance.put):
        by_state = [told.by_state[state].amount for state in states] if len(states) > 1 else []
        label = f"+ {told.label}" if told.source else told.label
        yield (label, *by_state, told.a_day.amount, balance.amp_hours(told).amount)


def _assumptions(plan: Plan) -> Iterator[Assumption]:
    yield Assumption(
        "spread",
        say(
            f"Water is drawn{' and the inverter stands by' if plan.inverter is not None else ''} while somebody is "
            "there, parked or at a socket; what has no hours of its own runs all day."
        ),
        "Read the battery monitor in each state.",
        "common practice",
    )
    battery = plan.battery
    assert battery is not None
    if battery.chemistry is None and (plan.sun or plan.alternator or plan.shore):
        yield Assumption(
            "stored",
            say(
                "Of what is charged {share} can be drawn again.",
                share=limit("charge drawn again", STORED, SHARE, "common practice"),
            ),
            "Give chemistry in [battery].",
            "common practice: lead 80 to 85 %, lithium iron phosphate 95 %",
        )
    if plan.alternator is not None and plan.alternator.volts is None:
        yield Assumption(
            "charging volts",
            say(
                "The battery is charged at {volts}.",
                volts=stated(
                    "charging volts",
                    ABOVE_NOMINAL * battery.bank_volts,
                    VOLTAGE,
                    "A ninth above the nominal volts of the bank.",
                    source="common practice",
                ).keyed("battery", "charging_volts", exact="common practice"),
            ),
            "Read the charger's display on the road.",
            "common practice",
        )
    if plan.shore is not None:
        yield Assumption(
            "charger",
            say(
                "A charger brings {share} of the socket's power to the battery.",
                share=limit("charger", CHARGER, SHARE, "common practice"),
            ),
            "Read its data sheet.",
            "common practice: 85 to 92 %",
        )
    if any(heater.source == "battery" for heater in plan.heaters.values()):
        yield Assumption(
            "cable",
            say(
                "A cable of which nothing is said lets {share} through.",
                share=limit("cable", CABLE, SHARE, "common practice"),
            ),
            "Give it in [cables].",
            "common practice",
        )
