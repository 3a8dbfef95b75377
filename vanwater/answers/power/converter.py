"""Loads that are made for other volts than the battery has: behind a converter, or without one."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import planned, stated
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, POWER, VOLTAGE
from vanwater.system.batch import Batch
from vanwater.system.charging import nominal_volts
from vanwater.system.converter import behind_converter, load_volts, unlike

__all__ = ["converter_findings"]

_SOURCE = "rated volts and powers"


def converter_findings(batch: Batch) -> Iterator[Finding]:
    """The findings on loads of other volts.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    Finding
        Not decided where no converter is said, fails where one gives less than they take together.
    """
    plan = batch.plan
    for name in (*plan.pumps, *plan.heaters):
        if unlike(plan, name) and not behind_converter(plan, name):
            yield _without(batch, name)
    behind = [name for name in (*plan.pumps, *plan.heaters) if behind_converter(plan, name)]
    if behind and plan.converter is not None:
        yield _held(plan, behind)


def _without(batch: Batch, name: str) -> Finding:
    plan, made_for = batch.plan, load_volts(batch.plan, name)
    volts = stated(f"volts of the {name}", float(made_for or 0.0), VOLTAGE, "As the plan says.", source="the plan")
    bank = stated("volts of the bank", nominal_volts(batch), VOLTAGE, "Batteries in series add.", source="the plan")
    return Finding(
        f"power.{name}.unlike",
        Verdict.NOT_DECIDED,
        say(
            "The {load} is told at {volts} and the battery has {bank}: what makes the one of the other is not said, "
            "and its loss is not counted.",
            load=name,
            volts=volts.keyed("load", name, "volts", exact="as planned"),
            bank=bank.keyed("battery", "bank_volts", exact="as planned"),
        ),
        change=say("Add {table} with its volts, or take a load that is made for the battery's.", table="[converter]"),
        address=f"pumps.{name}.volts" if name in plan.pumps else f"heaters.{name}.volts",
        source=_SOURCE,
    )


def _held(plan: Plan, behind: list[str]) -> Finding:
    """Whether the converter gives what hangs on it."""
    loads = {name: _power(plan, name) for name in behind}
    total = stated(
        "power behind the converter",
        np.sum([load.values for load in loads.values()], axis=0),
        POWER,
        "What hangs on it adds up.",
        parts=list(loads.items()),
        source="sum",
    ).keyed("converter", "load", exact="as planned", digits=2)
    most = planned(plan, "converter.rating", POWER)
    key, address = "power.converter.load", "converter.rating"
    if not np.isfinite(total.likely) or not most.likely > 0.0:
        unsaid = next((name for name, load in loads.items() if not np.isfinite(load.likely)), "")
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Whether the converter feeds {loads} is not decided.", loads=tuple(behind)),
            change=say("Give {field}.", field=_field(plan, unsaid) if unsaid else address),
            address=address,
        )
    over = total.likely > most.likely
    return Finding(
        key,
        Verdict.FAILS if over else Verdict.FINE,
        say(
            "Behind the converter {loads} take {total} together; it gives {most} for long.",
            loads=tuple(behind),
            total=total,
            most=most,
        ),
        value=total.amount,
        limit=most.amount,
        change=say("Take a larger converter; a pump takes several times as much as it starts.") if over else None,
        address=address,
        source=_SOURCE,
    )


def _field(plan: Plan, name: str) -> str:
    return f"pumps.{name}.current" if name in plan.pumps else f"heaters.{name}.power"


def _power(plan: Plan, name: str) -> Number:
    if name not in plan.pumps:
        return planned(plan, f"heaters.{name}.power", POWER)
    volts, current = load_volts(plan, name), planned(plan, f"pumps.{name}.current", CURRENT)
    return stated(
        f"power of the {name}",
        current.values * (volts or 0.0),
        POWER,
        "Its volts times its current.",
        facts=[(current.name, current)],
        source="definition of power",
    ).keyed("pump", name, "power", exact="as planned", digits=2)
