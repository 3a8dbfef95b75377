"""What each cable loses while what it feeds is on, and what guards it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.answers.power.cable_loads import along, current_of
from vanwater.answers.power.fuses import Guard, guard_findings, guard_of
from vanwater.answers.power.thicker import thicker
from vanwater.physics import cable
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH, SECTION, SHARE, VOLTAGE
from vanwater.system.batch import Batch
from vanwater.system.converter import behind_converter
from vanwater.system.power import cable_copper, cable_ohms, volts_before

__all__ = ["CableDrop", "cable_drops", "cable_findings"]

LITTLE = limit("loss of a cable", 0.05, SHARE, "common practice")
"""What a cable may lose without a word."""

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
    guard : Guard
        What it may carry, and its fuse.
    """

    name: str
    to: str
    length: Number
    section: Number
    current: Number
    lost: Number
    share: Number
    volts: Number
    guard: Guard


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
        current = current_of(batch, laid.to, bank, ohms)
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
            length=along(batch, f"cables.{name}.length", LENGTH),
            section=_section(batch, name),
            current=current.keyed(*own, "current", digits=2),
            lost=lost.keyed(*own, "lost", digits=2),
            share=share.keyed(*own, "lost_share", digits=2),
            volts=left.keyed(*own, "volts"),
            guard=guard_of(batch, name, current.keyed(*own, "current", digits=2)),
        )


def _section(batch: Batch, name: str) -> Number:
    section = stated(
        f"section of the {name}", cable_copper(batch, name), SECTION, "Of one conductor.", source="the plan"
    )
    return section.keyed("cable", name, "section", exact="as planned")


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
        Watched beyond 5 % of the volts, fails beyond 10 %, where the inverter switches off, or where no fuse guards it.
    """
    for drop in drops:
        yield _loss(plan, drop)
        yield from guard_findings(plan, drop.to, drop.guard)
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
        change=None if verdict is Verdict.FINE else thicker(plan, drop.name),
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
        change=thicker(plan, drop.name) if off else None,
        address=f"cables.{drop.name}",
        source="Ohm's law; the inverter's own cut-out",
        bound="at least",
    )
