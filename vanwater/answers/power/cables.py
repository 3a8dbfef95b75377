"""What each cable loses while what it feeds is on, and the next size that loses little."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.physics import cable, electric
from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.quantities import CURRENT, LENGTH, POWER, SECTION, SHARE, VOLTAGE, Array, Quantity
from vanwater.system.batch import Batch
from vanwater.system.converter import behind_converter
from vanwater.system.power import cable_copper, cable_ohms, volts_before

__all__ = ["CableDrop", "cable_drops", "cable_findings"]

LITTLE = limit("loss of a cable", 0.05, SHARE, "common practice")
"""What a cable may lose without a word."""

LAID = 0.03
"""What a new one is laid for (common practice; ABYC E-11 for what matters, from memory)."""

MUCH = 0.10
"""Share of the volts from which on a load suffers (common practice; ABYC E-11, from memory)."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class CableDrop:
    """What one cable loses.

    Parameters
    ----------
    name, to : str
        The cable, and what it feeds.
    length, section : Number
        Length one way, and cross-section of one conductor.
    current : Number
        Current while what it feeds is on.
    lost, share : Number
        Volts lost there and back, and which share of the battery's they are.
    volts : Number
        What is left at its end.
    """

    name: str
    to: str
    length: Number
    section: Number
    current: Number
    lost: Number
    share: Number
    volts: Number

    @property
    def numbers(self) -> tuple[Number, ...]:
        """What a table shows of it."""
        return (self.length, self.section, self.current, self.lost, self.share)


def cable_drops(batch: Batch) -> Iterator[CableDrop]:
    """What the cables lose whose loads are known.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    CableDrop
        None of a cable on whose end nothing of known power hangs, or while no battery is decided.
    """
    plan = batch.plan
    if plan.battery is None:
        return
    for name, laid in plan.cables.items():
        ohms, own, bank = cable_ohms(batch, name), ("cable", name), volts_before(batch, laid.to)
        words = "volts of the converter" if behind_converter(plan, laid.to) else "nominal volts of the bank"
        source = stated(words, bank, VOLTAGE, "Batteries in series add their volts.", source="the plan")
        current = _current(batch, laid.to, bank, ohms)
        if current is None or not np.isfinite(current.values).all():
            continue
        resistance = step(
            f"resistance of the {name}, there and back",
            cable.cable_resistance,
            length=batch.number(f"cables.{name}.length"),
            section=cable_copper(batch, name),
        )
        lost = step(f"volts lost in the {name}", cable.voltage_drop, current=current, resistance=resistance)
        share = stated(
            f"share of the volts lost in the {name}",
            lost.values / bank,
            SHARE,
            "Volts lost over the nominal ones.",
            facts=[(lost.name, lost), (source.name, source)],
            source="definition of a share",
        )
        left = stated(
            f"volts at the end of the {name}",
            bank - lost.values,
            VOLTAGE,
            "Nominal volts less those that are lost.",
            parts=[(source.name, source), (lost.name, (-lost.values, VOLTAGE))],
            source="Ohm's law",
        )
        yield CableDrop(
            name=name,
            to=laid.to,
            length=_along(batch, f"cables.{name}.length", LENGTH),
            section=stated(
                f"section of the {name}", laid.copper, SECTION, "Of one conductor.", source="the plan"
            ).keyed(*own, "section", exact="as planned"),
            current=current.keyed(*own, "current", digits=2),
            lost=lost.keyed(*own, "lost", digits=2),
            share=share.keyed(*own, "lost_share", digits=2),
            volts=left.keyed(*own, "volts"),
        )


def _current(batch: Batch, to: str, bank: Array, ohms: Array) -> Number | None:
    """Current of a pump as planned; of a heater, or of what hangs on the inverter, by its power at the volts left."""
    plan = batch.plan
    if to in plan.pumps:
        return _along(batch, f"pumps.{to}.current", CURRENT)
    if to == "inverter":
        power = _most_on_inverter(batch)
        if power is None:
            return None
        efficiency: Array = batch.number("inverter.efficiency") if plan.inverter is not None else np.ones(len(batch))
    else:
        power = stated(
            f"power of the {to}", batch.number(f"heaters.{to}.power"), POWER, "As planned.", source="the plan"
        )
        efficiency = np.ones(len(batch))
    drawn = power.values / efficiency
    if not np.all(np.isfinite(drawn)):
        return None
    left = cable.voltage_at_load(np.minimum(drawn, cable.most_power(bank, ohms)), bank, ohms)
    name = f"current to the {to}"
    return step(name, electric.battery_current, power=power, voltage=left, efficiency=efficiency)


def _along(batch: Batch, address: str, quantity: Quantity) -> Number:
    """A number of the plan along the rows."""
    return replace(planned(batch.plan, address, quantity), values=batch.number(address))


def _section(batch: Batch, name: str) -> Number:
    section = stated(
        f"section of the {name}", cable_copper(batch, name), SECTION, "Of one conductor.", source="the plan"
    )
    return section.keyed("cable", name, "section", exact="as planned")


def _most_on_inverter(batch: Batch) -> Number | None:
    """The strongest load on the inverter: two large ones are not taken to run together."""
    plan = batch.plan
    loads = {
        name: batch.number(f"heaters.{name}.power")
        for name, heater in plan.heaters.items()
        if heater.source == "inverter"
    }
    loads |= {
        name: batch.number(f"appliances.{name}.power") for name, own in plan.appliances.items() if own.on == "inverter"
    }
    known = {name: power for name, power in loads.items() if np.isfinite(power).all()}
    if not known:
        return None
    return stated(
        "strongest load on the inverter",
        np.max(list(known.values()), axis=0),
        POWER,
        "The strongest of what hangs on it; two large loads are not run together.",
        facts=[(name, (power, POWER)) for name, power in known.items()],
        source="the plan",
    )


def cable_findings(plan: Plan, drops: Sequence[CableDrop]) -> Iterator[Finding]:
    """The findings on what cables lose.

    Parameters
    ----------
    plan : Plan
        The plan.
    drops : sequence of CableDrop
        What each loses.

    Yields
    ------
    Finding
        Watched beyond 5 % of the volts, fails beyond 10 %, or where the inverter switches off.
    """
    for drop in drops:
        yield _loss(plan, drop)
        if drop.to in plan.pumps:
            yield from _pump_volts(plan, drop)
        if drop.to == "inverter" and plan.inverter is not None and plan.inverter.cut_out is not None:
            yield _cut_out(plan, drop)


def _loss(plan: Plan, drop: CableDrop) -> Finding:
    fails = drop.share.likely > MUCH
    verdict = Verdict.FAILS if fails else Verdict.WATCH if drop.share.likely > LITTLE.likely else Verdict.FINE
    return Finding(
        f"power.{drop.name}.loss",
        verdict,
        say(
            "The {cable} loses {lost} of the converter's volts at {current}, {share}: {volts} are left at the {to}."
            if behind_converter(plan, drop.to)
            else "The {cable} loses {lost} of the battery's volts at {current}, {share}: {volts} are left at the {to}.",
            cable=drop.name,
            lost=drop.lost,
            current=drop.current,
            share=drop.share,
            volts=drop.volts,
            to=drop.to,
        ),
        value=drop.share.amount,
        limit=LITTLE.amount,
        change=None if verdict is Verdict.FINE else _thicker(plan, drop),
        address=f"cables.{drop.name}",
        source="Ohm's law; 5 % at most is common practice, 3 % where a cable is laid anew",
    )


NEAR = 0.2
"""Volts by which what is left may differ from what is planned at a pump, V."""


def _pump_volts(plan: Plan, drop: CableDrop) -> Iterator[Finding]:
    """That a pump's flows are told at volts that its cable does not leave."""
    told = planned(plan, f"pumps.{drop.to}.volts", VOLTAGE)
    if math.isnan(told.likely):
        return
    apart = abs(told.likely - drop.volts.likely) > NEAR
    yield Finding(
        f"power.{drop.name}.pump",
        Verdict.WATCH if apart else Verdict.FINE,
        say(
            "What the {pump} gives is told at {told}; the {cable} leaves {volts}.",
            pump=drop.to,
            told=told,
            cable=drop.name,
            volts=drop.volts,
        )
        if apart
        else say(
            "The {cable} leaves the {pump} the {told} at which its flow is told.",
            cable=drop.name,
            pump=drop.to,
            told=told,
        ),
        change=say("Write {volts} there, or lay a cable that leaves what is told.", volts=drop.volts)
        if apart
        else None,
        address=f"pumps.{drop.to}.volts",
        source="Ohm's law at the battery's nominal volts",
    )


def _thicker(plan: Plan, drop: CableDrop) -> Say:
    """The next size that is sold and loses little, or two of the largest."""
    wanted = drop.section.likely * drop.share.likely / LAID
    size = next((size for size, section in sold(plan.us).cables.items() if section >= wanted), "")
    if size:
        return say("Lay {size}, or bring it nearer to the battery; fuse it to suit.", size=size)
    most, section = list(sold(plan.us).cables.items())[-1]
    return say(
        "Lay {count} cables of {size} beside each other, or bring it nearer to the battery.",
        count=math.ceil(wanted / section),
        size=most,
    )


def _cut_out(plan: Plan, drop: CableDrop) -> Finding:
    least = planned(plan, "inverter.cut_out", VOLTAGE)
    off = drop.volts.likely < least.likely
    return Finding(
        f"power.{drop.name}.cut_out",
        Verdict.FAILS if off else Verdict.FINE,
        say(
            "At its strongest load the inverter gets {volts} and switches off below {least}.",
            volts=drop.volts,
            least=least,
        ),
        value=drop.volts.amount,
        limit=least.amount,
        change=_thicker(plan, drop) if off else None,
        address=f"cables.{drop.name}",
        source="Ohm's law; the inverter's own cut-out",
        bound="at least",
    )
