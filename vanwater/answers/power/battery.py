"""What the battery's cells stand: charging in frost, an empty one in the cold, a high current."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.answers.power.balance import Balance, Taken
from vanwater.physics import battery as cells_of
from vanwater.physics import electric
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.chemistry import Chemistry, chemistries
from vanwater.plan.day import FULL_DAY
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_ENERGY, DAY, HOURS, SHARE, TEMPERATURE, Array
from vanwater.system.batch import Batch
from vanwater.system.charging import bank_temperature
from vanwater.system.hours import hours_of
from vanwater.system.power import bank_of, electric_path

__all__ = ["battery_findings", "idle_finding"]

LITHIUM_CELL = 3.2
"""Nominal volts of a lithium iron phosphate cell: batteries of such cells are named by a multiple of it, V."""
LITHIUM_USABLE = 0.7
"""Share from which on lead batteries are not used (common practice)."""
WEAK = limit("battery at its strongest load", 0.8, SHARE, "common practice")
FREEZING = limit("freezing of water", FREEZING_POINT, TEMPERATURE, "freezing point at the pressure of the atmosphere")


def battery_findings(batch: Batch) -> Iterator[Finding]:
    """The findings on a battery's cells.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    Finding
        None of a battery that is not decided.
    """
    plan = batch.plan
    if plan.battery is None:
        return
    yield from _charged_in_frost(batch)
    if plan.battery.chemistry is not None:
        cells = chemistries()[plan.battery.chemistry]
        yield from _at_current(batch, cells)
        yield from _frozen(batch, cells)


def _coldest(batch: Batch) -> Number:
    """The coldest that the battery gets in any state that has hours."""
    spent = hours_of(batch)[:, 0] > 0.0
    temperature: Array = bank_temperature(batch)[spent].min(axis=0)
    return stated(
        "coldest of the battery",
        temperature,
        TEMPERATURE,
        "Where it stands, at the mean cold; as cold as outside while the heating is off.",
        facts=[("where it stands", str(batch.plan.battery.beside) if batch.plan.battery else "")],
        source="the plan",
    ).keyed("battery", "coldest", exact="as planned")


def _charges(plan: Plan) -> bool:
    assert plan.battery is not None
    said, hours = bool(plan.own.get("day")), plan.day
    road, socket = (spent > 0.0 or not said for spent in (hours.driving, hours.shore))
    return plan.battery.charging > 0.0 or bool(plan.sun or (plan.alternator and road) or (plan.shore and socket))


def _charged_in_frost(batch: Batch) -> Iterator[Finding]:
    """Lithium that is charged below freezing: by its cells where they are said, else by its volts and usable share."""
    plan, battery = batch.plan, batch.plan.battery
    assert battery is not None
    coldest = _coldest(batch)
    if not _charges(plan) or coldest.likely >= FREEZING_POINT or battery.heated is not None:
        return
    number = battery.volts / LITHIUM_CELL
    said = battery.chemistry is not None
    lithium = (
        not chemistries()[battery.chemistry].charged_in_frost
        if battery.chemistry
        else abs(number - round(number)) < 1e-6
    )
    if not lithium and (said or battery.usable < LITHIUM_USABLE):
        return
    yield Finding(
        "power.battery.charging",
        Verdict.FAILS if lithium else Verdict.WATCH,
        say(
            "The battery stands at {coldest}: charged below {freezing}, lithium cells are plated with metal, fail and "
            "can short inside. Nothing is counted as put back there."
            if said
            else "The battery stands at {coldest}: charged below {freezing}, lithium cells are plated with metal, fail "
            "and can short inside."
            if lithium
            else "The battery stands at {coldest}: if its cells are lithium, charging them below {freezing} makes them "
            "fail, and they can short inside.",
            coldest=coldest,
            freezing=FREEZING,
        ),
        value=coldest.amount,
        limit=FREEZING.amount,
        change=say("Part it from panels and chargers at half to two thirds of its charge, or take it where it is warm.")
        if plan.water.drained
        else say("Take a battery that heats itself and bars charging in the cold, or put it where it stays warm."),
        address="battery.beside",
        source="data sheets of lithium cells, from memory; common practice",
        bound="at least",
    )


def _at_current(batch: Batch, cells: Chemistry) -> Iterator[Finding]:
    """How much of its charge the battery gives at the current of the strongest heater."""
    plan, bank = batch.plan, bank_of(batch)
    assert bank is not None
    working = {} if plan.water.drained else plan.heaters
    hanging = {name: heater for name, heater in working.items() if heater.source in ("inverter", "battery")}
    currents = {}
    for name, heater in hanging.items():
        if heater.power is not None:
            drawn = batch.number(f"heaters.{name}.power")
            currents[name] = step(
                "current from the battery while it heats",
                electric.battery_current,
                power=drawn,
                voltage=bank.volts,
                efficiency=electric_path(batch, "inverter" if heater.source == "inverter" else name, drawn),
            ).keyed("heater", name, "current")
    if not currents:
        return
    name = max(currents, key=lambda load: currents[load].likely)
    current = currents[name]
    share = step(
        "share of its charge that the battery gives at that current",
        cells_of.capacity_at_current,
        charge=bank.charge,
        current=current,
        rated=np.full(len(batch), cells.rated_hours),
        exponent=np.full(len(batch), cells.peukert),
    ).keyed("battery", "share_at_current", exact="as its cells give it", digits=2)
    weak = share.likely < WEAK.likely
    yield Finding(
        "power.battery.rate",
        Verdict.WATCH if weak else Verdict.FINE,
        say(
            "While the {heater} draws {current}, the battery gives {share} of the charge on its label.",
            heater=name,
            current=current,
            share=share,
        ),
        value=share.amount,
        limit=WEAK.amount,
        change=say("Take more battery, a weaker element, or lithium iron phosphate cells.") if weak else None,
        address="battery.charge",
        source=f"Peukert's law; {cells.source}",
        bound="at least",
    )


def _frozen(batch: Batch, cells: Chemistry) -> Iterator[Finding]:
    if cells.freezes_empty is None or batch.plan.battery is None:
        return
    coldest = _coldest(batch)
    design = planned(batch.plan, "frost.design_cold", TEMPERATURE)
    if batch.plan.battery.beside == "outside" and design.likely < coldest.likely:
        coldest = design
    freezes = limit("an empty lead battery freezes", cells.freezes_empty, TEMPERATURE, cells.source)
    if coldest.likely > cells.freezes_empty:
        return
    yield Finding(
        "power.battery.frozen",
        Verdict.WATCH,
        say(
            "An empty battery of these cells freezes and bursts at {freezes}; it may stand at {coldest}.",
            freezes=freezes,
            coldest=coldest,
        ),
        value=coldest.amount,
        limit=freezes.amount,
        change=say("Keep it charged above half, or put it where it stays warmer."),
        address="battery.beside",
        source=cells.source,
        bound="at least",
    )


MUCH = 0.05
"""Share of the battery a day that idling may take without a word (common practice)."""


def idle_finding(balance: Balance) -> Iterator[Finding]:
    """The finding on an inverter that idles.

    Parameters
    ----------
    balance : Balance
        What the battery gives in a day.

    Yields
    ------
    Finding
        Watched beyond 5 % of the battery; none where it does not idle, has no hours, or the battery gives nothing.
    """
    idle = next((told for told in balance.taken if told.key == ("load", "idle")), None)
    if idle is None or not np.all(balance.usable.values > 0.0):  # of nothing it is no share
        return
    share = stated(
        "share of the battery that the inverter takes by idling",
        idle.a_day.values * DAY / balance.usable.values,
        SHARE,
        "What it takes a day over what may be taken of the full battery.",
        facts=[(idle.a_day.name, idle.a_day), (balance.usable.name, balance.usable)],
        source="definition of a share",
    ).keyed("inverter", "idle_share", digits=2)
    much, plan = share.likely > MUCH, balance.batch.plan
    assert plan.inverter is not None
    how = {"by hand": "", "always": "Always on, ", "search": "Looking for a load, "}[plan.inverter.switched]
    told = f"{how}{'the' if how else 'The'} inverter takes {{energy}} from the battery by idling, {{share}} of it."
    spared = _by_hand(balance, idle) if plan.inverter.switched == "always" else None
    yield Finding(
        "power.inverter.idle",
        Verdict.WATCH if much else Verdict.FINE,
        say(told, energy=idle.a_day, share=share),
        change=None
        if not much
        else say("Switch it on by hand while something runs on it, or let it look for a load.")
        if spared is not None
        else say("Switch it off when nothing runs on it."),
        gain=say("by hand it takes {spared} less", spared=spared) if much and spared is not None else None,
        address="inverter.hours_on" if spared is None else "inverter.switched",
        source="idle power times hours on",
    )


def _by_hand(balance: Balance, idle: Taken) -> Number:
    """What an inverter that is always on would take less, were it on while something runs on it alone."""
    batch = balance.batch
    plan, hours = batch.plan, np.zeros(len(batch))
    for name, own in plan.appliances.items():
        hours = hours + (batch.number(f"appliances.{name}.hours") if own.on == "inverter" else 0.0)
    for name, heater in {} if plan.water.drained else plan.heaters.items():
        hours = hours + (batch.number(f"heaters.{name}.hours_on") if heater.source == "inverter" else 0.0)
    needed = np.minimum(hours, FULL_DAY)
    return stated(
        "what the inverter takes less if it is switched on by hand",
        idle.a_day.values * (1.0 - needed / FULL_DAY),
        DAILY_ENERGY,
        "Its idling in the hours in which nothing runs on it: what hangs on it runs one after the other.",
        facts=[(idle.a_day.name, idle.a_day), ("hours of its loads", (needed, HOURS))],
        source="idle power times hours",
    ).keyed("inverter", "spared_by_hand", digits=2)
