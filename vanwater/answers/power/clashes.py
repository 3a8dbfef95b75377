"""Loads that clash: too much on one inverter, on one socket, at one start."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned, stated
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, POWER, VOLTAGE

__all__ = ["clash_findings"]

_SOCKET = (("limit", CURRENT), ("volts", VOLTAGE))


def clash_findings(plan: Plan) -> Iterator[Finding]:
    """The findings on loads that clash.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        Fails where one alone is too much, watched where two together are.
    """
    inverter, shore = plan.inverter, plan.shore
    if inverter is not None and inverter.rating is not None:
        most = planned(plan, "inverter.rating", POWER)
        loads = _loads(plan, "inverter")
        alone = {name: load for name, load in loads.items() if name in plan.appliances}
        yield from _held("inverter", "the inverter", loads, alone, most, "inverter.rating")
        yield from _starts(plan, most)
    if shore is not None:
        most = stated(
            "power of the socket",
            shore.limit * shore.volts,
            POWER,
            "What its breaker allows times its volts.",
            facts=[(field, planned(plan, f"shore.{field}", quantity)) for field, quantity in _SOCKET],
            source="definition of power",
        ).keyed("shore", "power", exact="as planned")
        loads = {**_loads(plan, "shore"), **_loads(plan, "inverter")}
        yield from _held("shore", "the socket", loads, loads, most, "shore.limit")


def _loads(plan: Plan, on: str) -> dict[str, Number]:
    """Power of each heater and appliance that hangs on something, the strongest first."""
    working = {} if plan.water.drained else plan.heaters
    heaters = {name: f"heaters.{name}.power" for name, heater in working.items() if heater.source == on}
    others = {name: f"appliances.{name}.power" for name, own in plan.appliances.items() if own.on == on}
    every = {name: planned(plan, address, POWER) for name, address in (heaters | others).items()}
    known = {name: load for name, load in every.items() if load.likely > 0.0}
    return dict(sorted(known.items(), key=lambda item: -item[1].likely))


def _held(
    key: str, called: str, loads: Mapping[str, Number], alone: Mapping[str, Number], most: Number, address: str
) -> Iterator[Finding]:
    over = [name for name, load in alone.items() if load.likely > most.likely]
    for name in over:
        yield Finding(
            f"power.{key}.{name}",
            Verdict.FAILS,
            say(
                "The {load} takes {power}, more than {what} gives for long.", load=name, power=loads[name], what=called
            ),
            value=loads[name].amount,
            limit=most.amount,
            change=_way_out(key),
            address=address,
            source="rated powers",
        )
    fitting = [name for name in loads if loads[name].likely <= most.likely]
    pairs = [(a, b) for a, b in combinations(fitting, 2) if loads[a].likely + loads[b].likely > most.likely]
    if pairs:
        first, second = pairs[0]
        both = stated(
            f"power of {first} and {second} together",
            loads[first].likely + loads[second].likely,
            POWER,
            "Both add up.",
            parts=[(first, loads[first]), (second, loads[second])],
            source="sum",
        ).keyed("power", key, first, second, exact="as planned")
        yield Finding(
            f"power.{key}.together",
            Verdict.WATCH,
            say(
                "The {first} and the {second} together take {power}; {what} gives {most}.",
                first=first,
                second=second,
                power=both,
                what=called,
                most=most,
            ),
            value=both.amount,
            limit=most.amount,
            change=say("Run one after the other, or let a relay put one off while the other runs."),
            address=address,
            source="rated powers",
        )
    elif len(fitting) > 1 and not over:
        yield Finding(
            f"power.{key}.together",
            Verdict.FINE,
            say("Any two of what hangs on {what} may run together within its {most}.", what=called, most=most),
            address=address,
            source="rated powers",
        )


def _way_out(key: str) -> Say:
    if key == "shore":
        return say("Take one that draws less, or do without it where the breaker is so small.")
    return say("Take one that draws less, or a larger inverter with the cable and fuse to suit.")


def _starts(plan: Plan, most: Number) -> Iterator[Finding]:
    surge = planned(plan, "inverter.surge", POWER)
    for name, own in plan.appliances.items():
        if own.on != "inverter" or own.start is None:
            continue
        start = planned(plan, f"appliances.{name}.start", POWER)
        limit = surge if surge.likely > 0.0 else most
        over = start.likely > limit.likely
        undecided = over and not surge.likely > 0.0
        told = (
            "The {load} takes {start} as it starts; what the inverter gives for a moment is not decided."
            if undecided
            else "The {load} takes {start} as it starts; the inverter gives {most}."
        )
        yield Finding(
            f"power.{name}.start",
            Verdict.NOT_DECIDED if undecided else Verdict.FAILS if over else Verdict.FINE,
            say(told, load=name, start=start, most=limit) if not undecided else say(told, load=name, start=start),
            value=None if undecided else start.amount,
            limit=None if undecided else limit.amount,
            change=say("Give {field}, from its data sheet.", field="inverter.surge")
            if undecided
            else say("Take a larger inverter, or a load that starts softly.")
            if over
            else None,
            address="inverter.surge",
            source="data sheets of both",
        )
