"""Heat and appliances whose source never works: no hour on the road, none at a socket."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import stated
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_ENERGY
from vanwater.system.batch import Batch
from vanwater.system.day import FEEDERS, Day, day_of

__all__ = ["feeder_findings"]


def feeder_findings(batch: Batch) -> Iterator[Finding]:
    """The findings on what hangs on the engine or on a socket alone.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    Finding
        Fails where the plan's day has no hour of it, not decided where the plan says no day.
    """
    plan = batch.plan
    for name, heater in () if plan.water.drained else plan.heaters.items():
        if heater.source in _STATE:
            yield _of(plan, name, heater.source, f"heaters.{name}.source")
        if heater.also is not None:
            yield _also(day_of(batch), name, heater.also)
    for name, own in plan.appliances.items():
        if own.on == "shore":
            yield _of(plan, name, own.on, f"appliances.{name}.on")
        if own.on == "inverter" and plan.inverter is None:
            yield _without_inverter(name)


def _without_inverter(name: str) -> Finding:
    return Finding(
        f"power.{name}.fed",
        Verdict.NOT_DECIDED,
        say("The {load} hangs on an inverter, and none is planned yet; its losses are not counted.", load=name),
        change=say("Add {table}, or hang it on the battery.", table="[inverter]"),
        address=f"appliances.{name}.on",
        source="the plan's own word",
    )


def _also(day: Day, name: str, source: str) -> Finding:
    """What a heater's second source gives a day."""
    own = [told for told in day.consumers if (told.kind, told.name) == ("also", name)]
    given = np.sum([day.energy(told, feeder) for told in own for feeder in FEEDERS], axis=0)
    heat = stated(
        f"what {source} gives the {name} a day",
        given,
        DAILY_ENERGY,
        "One charge of the store, and what is drawn while it works, as far as its power and its hours go.",
        source="heat balance",
    ).keyed("heater", name, "also_a_day", digits=2)
    idle = not heat.likely > 0.0
    words = (
        "The second source of the {heater}, {source}, has no hour of the day in which it works."
        if idle
        else "The second source of the {heater}, {source}, gives {heat}; the days count on it."
    )
    return Finding(
        f"power.{name}.also",
        Verdict.WATCH if idle else Verdict.FINE,
        say(words, heater=name, source=source) if idle else say(words, heater=name, source=source, heat=heat),
        change=say("Give {field} its hours.", field=f"day.{_STATE.get(source, 'parked')}") if idle else None,
        address=f"heaters.{name}.also",
        source="heat balance",
    )


_STATE = {"engine": "driving", "shore": "shore"}


def _of(plan: Plan, name: str, source: str, address: str) -> Finding:
    state, said = _STATE[source], bool(plan.own.get("day"))
    hours = getattr(plan.day, state) > 0.0
    works = "while the engine runs" if source == "engine" else "at a socket"
    where = "on the road" if source == "engine" else "at a socket"
    if hours:
        verdict, told = Verdict.FINE, f"The {{load}} works {works}, and the day has hours {where}."
    elif said:
        verdict, told = Verdict.FAILS, f"The {{load}} works only {works}, and no hour of the day is spent {where}."
    else:
        verdict = Verdict.NOT_DECIDED
        told = f"The {{load}} works only {works}; how long a day is spent {where} is not decided."
    return Finding(
        f"power.{name}.fed",
        verdict,
        say(told, load=name),
        change=None
        if verdict is Verdict.FINE
        else say("Give {field}.", field=f"day.{state}")
        if not said
        else say("Give it another source, or {field} its hours.", field=f"day.{state}"),
        address=address if said else f"day.{state}",
        source="the plan's own word",
    )
