"""A heater that heats as the water flows: how many litres a minute it warms, held against what its outlets want."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.answers.outlets.burner import USUAL_LEAST
from vanwater.physics import instant
from vanwater.plan.model import Plan
from vanwater.quantities import DURATION, FLOW, TEMPERATURE, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import HotWaterUse, heater_numbers, hot_water_uses
from vanwater.system.stores import moved, outlet_of

__all__ = ["AsItFlows", "Warmed", "as_it_flows", "flowing_findings"]

_TRICKLE = 1e-7
"""Flow below which any power boils it, m³/s."""

_USUAL = limit("flow at which a burner lights", USUAL_LEAST, FLOW, "common practice, from memory")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Warmed:
    """What the heater warms for one use.

    Parameters
    ----------
    use : str
        The use.
    temperature, most : Number
        Its temperature, and the mixed water that the heater warms to it without end.
    wanted : Number or None
        The flow that is wanted; None where the plan does not say one.
    """

    use: str
    temperature: Number
    most: Number
    wanted: Number | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AsItFlows:
    """What a heater warms that heats as the water flows.

    Parameters
    ----------
    uses : tuple of Warmed
        Its warm uses, in the order of the plan; none while its power is not decided.
    least, hottest : Number
        Flow below which it does not heat, and how hot its water comes at that flow.
    """

    uses: tuple[Warmed, ...]
    least: Number
    hottest: Number


def as_it_flows(batch: Batch, name: str) -> AsItFlows | None:
    """What a heater warms as the water flows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        A heater without a store.

    Returns
    -------
    AsItFlows or None
        None while its power is not decided.
    """
    heater, numbers = batch.plan.heaters[name], heater_numbers(batch, name)
    if heater.power is None:
        return None
    own = ("heater", name)
    least = _USUAL if heater.least_flow is None else planned(batch.plan, f"heaters.{name}.least_flow", FLOW)
    flow = batch.number(f"heaters.{name}.least_flow", USUAL_LEAST)
    rise = instant.instant_rise(numbers.power, np.maximum(flow, _TRICKLE))
    hottest = stated(
        f"water of the {name} at its least flow",
        np.minimum(numbers.cold + rise, numbers.hot),
        TEMPERATURE,
        "Cold water warmed by all its power, at most to what it is set to.",
        facts=[("least flow", least), ("cold water", (numbers.cold, TEMPERATURE))],
        source="heat balance",
    ).keyed(*own, "hottest")
    uses = []
    for use in hot_water_uses(batch, name):
        temperature = stated(
            f"temperature of one {use.name}",
            use.mixed,
            TEMPERATURE,
            "As the use wants it, at most what the heater keeps.",
            source="the plan",
        ).keyed("use", use.name, "temperature", name)
        most = step(
            f"water that the {name} warms for the {use.name}",
            instant.instant_flow,
            power=numbers.power,
            cold=numbers.cold,
            warm=temperature,
        ).keyed(*own, "warms", use.name, digits=2)
        uses.append(Warmed(use=use.name, temperature=temperature, most=most, wanted=_wanted(batch, use)))
    return AsItFlows(uses=tuple(uses), least=least, hottest=hottest)


def _wanted(batch: Batch, use: HotWaterUse) -> Number | None:
    """The flow that a use says, else the one wanted at its outlet."""
    plan, outlet = batch.plan, outlet_of(batch.plan, use.name)
    if plan.uses[use.name].flow is not None:
        return planned(plan, f"uses.{use.name}.flow", FLOW)
    if outlet in plan.outlets and plan.outlets[outlet].wanted is not None:
        return planned(plan, f"outlets.{outlet}.wanted", FLOW)
    return None


def flowing_findings(plan: Plan, name: str, flowing: AsItFlows) -> Iterator[Finding]:
    """The findings on what a heater warms as the water flows: for each use, and for outlets open together.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        The heater.
    flowing : AsItFlows
        What it warms.

    Yields
    ------
    Finding
        Fails where not even its least flow comes warm; watched where less comes warm than is wanted.
    """
    for warmed in flowing.uses:
        lights = warmed.most.likely >= flowing.least.likely
        short = warmed.wanted is not None and warmed.most.likely < warmed.wanted.likely
        verdict = Verdict.FAILS if not lights else Verdict.WATCH if short else Verdict.FINE
        yield Finding(
            f"hot_water.{name}.warms.{warmed.use}",
            verdict,
            say(
                "The {heater} heats as the water flows: it warms {most} to {temperature}{wish}. At its least flow of "
                "{least} the water comes at {hottest}.",
                heater=name,
                most=warmed.most,
                temperature=warmed.temperature,
                wish=say("; the {use} wants {wanted}", use=warmed.use, wanted=warmed.wanted)
                if warmed.wanted is not None
                else say(" for the {use}", use=warmed.use),
                least=flowing.least,
                hottest=flowing.hottest,
            ),
            change=None
            if verdict is Verdict.FINE
            else say("Take a stronger heater or one with a store.")
            if not lights
            else say("Draw less at a time, or take a stronger heater."),
            address=f"heaters.{name}.power",
            source="heat balance",
        )
    yield from _starts(plan, name)
    yield from _at_once(plan, name, flowing)


def _starts(plan: Plan, name: str) -> Iterator[Finding]:
    """What runs off cold while the burner starts: at the use that waits for it most often."""
    batch = Batch(plan)
    moves = {use.name: moved(batch)[use.name] for use in hot_water_uses(batch, name)}
    told = {use: move for use, move in moves.items() if move.starting[0] > 0.0}
    if not told:
        return
    use = max(told, key=lambda name: float(told[name].events[0] * told[name].persons[0]))
    start = planned(plan, f"heaters.{name}.start_up", DURATION)
    off = stated(
        f"run off at one {use} while the burner starts",
        told[use].starting,
        VOLUME,
        "The flow of the use for the time of the start.",
        facts=[("start", start)],
        source="volume is flow times time",
    ).keyed("use", use, "start_run_off", exact="as planned", digits=2)
    yield Finding(
        f"hot_water.{name}.start",
        Verdict.FINE,
        say(
            "The burner of the {heater} gives heat {start} after the tap opens: {off} run off cold at each {use} "
            "before that, and the days count them.",
            heater=name,
            start=start,
            off=off,
            use=use,
        ),
        address=f"heaters.{name}.start_up",
        source="volume is flow times time",
    )


def _at_once(plan: Plan, name: str, flowing: AsItFlows) -> Iterator[Finding]:
    """Outlets that are open together share what it warms."""
    by_outlet: dict[str, Warmed] = {}
    for warmed in flowing.uses:
        by_outlet.setdefault(outlet_of(plan, warmed.use), warmed)
    for together, opened in plan.together.items():
        parts: Mapping[str, tuple[Array, Array]] = {
            outlet: (warmed.wanted.values, warmed.most.values)
            for outlet, warmed in by_outlet.items()
            if outlet in opened.outlets and warmed.wanted is not None
        }
        if len(parts) < 2:
            continue
        need = sum(float(wanted.flat[0]) / float(most.flat[0]) for wanted, most in parts.values())
        yield Finding(
            f"hot_water.{name}.at_once.{together}",
            Verdict.WATCH if need > 1.0 else Verdict.FINE,
            say(
                "{outlets} at once ask for more than the {heater} can warm: each comes colder."
                if need > 1.0
                else "The {heater} warms what {outlets} want at once.",
                outlets=tuple(parts),
                heater=name,
            ),
            change=say("Draw one after the other, or take a stronger heater.") if need > 1.0 else None,
            address=f"heaters.{name}.power",
            source="heat balance",
        )
