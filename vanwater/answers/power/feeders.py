"""Heat and appliances whose source never works: no hour on the road, none at a socket."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.plan.model import Plan

__all__ = ["feeder_findings"]


def feeder_findings(plan: Plan) -> Iterator[Finding]:
    """The findings on what hangs on the engine or on a socket alone.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        Fails where the plan's day has no hour of it, not decided where the plan says no day.
    """
    for name, heater in plan.heaters.items():
        if heater.source in _STATE:
            yield _of(plan, name, heater.source, f"heaters.{name}.source")
    for name, own in plan.appliances.items():
        if own.on == "shore":
            yield _of(plan, name, own.on, f"appliances.{name}.on")


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
