"""What is to be said of a thermostatic mixing valve: whether it holds its temperature, and how hot it may be set."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Given, say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics.scald import scald_time
from vanwater.quantities import FLOW, PRESSURE, TEMPERATURE, TEMPERATURE_DIFFERENCE
from vanwater.system.thermostat import MILD

__all__ = ["thermostat_findings"]

USUAL_FLOW = 4e-3 / 60
"""Least flow of the usual 1/2 in valves, m³/s: 4 L/min (common practice, from memory)."""

USUAL_EXCESS = 10.0
"""Excess of the hot water over the mix that the usual valves need, K (common practice, from memory)."""

HOUSE, MOST = 1e5, 5e5
"""Pressures for which valves of EN 1111 are made, Pa (from memory)."""

HOTTEST = 343.15
"""Beyond this no shorter burn time is told, K."""

AT_LEAST = say(" at the least while the pump cycles")

_BURNS = 317.15  # below 44 °C no burn time is published
_USUAL = "common practice, from memory"


def thermostat_findings(supply: OutletSupply) -> Iterator[Finding]:
    """The findings on the thermostatic valve before an outlet.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet behind such a valve.

    Yields
    ------
    Finding
        Its least flow and pressure, the excess of the hot water, what it is set to.
    """
    if supply.reaches:
        yield _least_flow(supply)
        yield _class(supply)
    yield _excess(supply)
    yield from _set(supply)


def _least_flow(supply: OutletSupply) -> Finding:
    valve = supply.way.mixer
    key, address = f"outlets.{supply.outlet}.least_flow", f"mixers.{valve}.least_flow"
    if supply.plan.mixers[valve].least_flow is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say(
                "Whether the {outlet} draws enough for the {valve} is not decided: it gives {flow}{least}, and such "
                "valves need about {usual} to hold their temperature.",
                outlet=supply.outlet,
                valve=valve,
                flow=supply.lowest,
                least=AT_LEAST if supply.cycles else say(""),
                usual=limit("flow that usual thermostatic valves need", USUAL_FLOW, FLOW, _USUAL),
            ),
            change=say("Give the least flow from the valve's data sheet."),
            address=address,
            source=_USUAL,
        )
    least = planned(supply.plan, address, FLOW).amount
    verdict = judge(supply.lowest.shown, least, "at least")
    low = verdict is not Verdict.FINE
    return Finding(
        key,
        verdict,
        say(
            "The {outlet} gives {flow}{low}; below {least} the {valve} does not hold its temperature.",
            outlet=supply.outlet,
            flow=supply.lowest,
            low=AT_LEAST if supply.cycles else say(""),
            valve=valve,
            least=least,
        ),
        value=supply.lowest.shown,
        limit=least,
        change=say("Take a valve for less flow, an outlet that gives more, or a tap set by hand.") if low else None,
        address=address,
        source="the valve's own least flow",
        bound="at least",
    )


def _class(supply: OutletSupply) -> Finding:
    """Whether a valve of the usual class for house pressure is at its place."""
    valve = supply.way.mixer
    before = _before(supply)
    return Finding(
        f"outlets.{supply.outlet}.valve_pressure",
        Verdict.FINE,
        say(
            "The {valve} works at {pressure}. Valves for house pressure (EN 1111) are made for {low} to {high}, valves "
            "for low pressure (EN 1287) also for less.",
            valve=valve,
            pressure=before.amount,
            low=limit("least pressure of valves for house pressure", HOUSE, PRESSURE, "EN 1111, from memory"),
            high=limit("most pressure of valves for house pressure", MOST, PRESSURE, "EN 1111, from memory"),
        ),
        change=say("Take one for low pressure.") if before.likely < HOUSE else None,
        address=f"mixers.{valve}",
        source="EN 1111 and EN 1287, from memory",
    )


def _before(supply: OutletSupply) -> Number:
    """Pressure at which a valve works: what stands before the outlet, and all behind the valve and in it."""
    valve, path = supply.way.mixer, supply.case.physics
    height, outlet = supply.batch.number(f"mixers.{valve}.z"), supply.batch.number(f"outlets.{supply.outlet}.z", 0.0)
    lift = np.where(np.isnan(height), 0.0, path.weight * (outlet - height))
    behind = [supply.losses[run] for run in supply.way.mixed]
    value = supply.pressure.values + np.sum([loss.values for loss in behind], axis=0) + lift + supply.valve_loss.values
    return stated(
        f"pressure before the {valve} with the {supply.outlet} open",
        value,
        PRESSURE,
        "What stands before the outlet, and what lies between.",
        parts=(
            ("before the outlet", (supply.pressure.values, PRESSURE)),
            *((run, (loss.values, PRESSURE)) for run, loss in zip(supply.way.mixed, behind, strict=True)),
            ("lift from the valve to the outlet", (lift, PRESSURE)),
            ("the valve itself", (supply.valve_loss.values, PRESSURE)),
        ),
        source="Bernoulli's equation with losses",
    ).keyed("mixer", valve, "pressure", supply.outlet, pairs=supply.pairs)


def _excess(supply: OutletSupply) -> Finding:
    valve = supply.way.mixer
    key = f"outlets.{supply.outlet}.hot_excess"
    excess = stated(
        f"excess of the hot water at the {valve}",
        supply.case.hot - supply.case.mixed,
        TEMPERATURE_DIFFERENCE,
        "The heater's water over what the valve is set for.",
        facts=(("hot", supply.hot), ("set for", supply.temperature)),
        source="difference",
    ).keyed("mixer", valve, "excess", supply.outlet, pairs=supply.pairs)
    own = supply.plan.mixers[valve].hot_excess is not None
    needed = (
        planned(supply.plan, f"mixers.{valve}.hot_excess", TEMPERATURE_DIFFERENCE)
        if own
        else limit("excess of the hot water that usual valves need", USUAL_EXCESS, TEMPERATURE_DIFFERENCE, _USUAL)
    )
    short = excess.likely < needed.likely
    given: dict[str, Given] = {
        "heater": supply.way.heater or "heater",
        "valve": valve,
        "excess": excess.amount,
        "needed": needed,
    }
    if not own and not short:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say(
                "The {heater} is {excess} hotter than the {valve} is set; such valves need about {needed} to hold it.",
                **given,
            ),
            change=say("Give the excess from the valve's data sheet."),
            address=f"mixers.{valve}.hot_excess",
            source=_USUAL,
        )
    return Finding(
        key,
        Verdict.FAILS if short else Verdict.FINE,
        say("The {heater} is {excess} hotter than the {valve} is set; it needs {needed} to hold it.", **given),
        value=excess.amount,
        limit=needed.amount,
        change=say("Raise the heater's set point, or set the valve cooler.") if short else None,
        address=f"heaters.{supply.way.heater}.set_point" if supply.way.heater else f"mixers.{valve}.set",
        source="the valve's own data" if own else _USUAL,
        bound="at least",
    )


def _set(supply: OutletSupply) -> Iterator[Finding]:
    valve, mixed, held = supply.way.mixer, supply.temperature.likely, supply.temperature.amount
    wish, own = f"outlets.{supply.outlet}.temperature", supply.plan.mixers[valve].set is not None
    key, address = f"outlets.{supply.outlet}.scald", f"mixers.{valve}.set" if own else wish
    wanted = planned(supply.plan, wish, TEMPERATURE)
    if own and wanted.likely > mixed:
        yield Finding(
            f"outlets.{supply.outlet}.set",
            Verdict.WATCH,
            say(
                "The {valve} is set to {held}; the {outlet} wants {wanted}.",
                valve=valve,
                held=held,
                outlet=supply.outlet,
                wanted=wanted,
            ),
            change=say("Set the valve as warm as is wanted, or want less."),
            address=address,
            source="the plan's own wish",
        )
    if mixed <= MILD:
        told = say("The {valve} holds {held}: nobody is scalded while it works.", valve=valve, held=held)
        change = say("Test it every half year: shut the cold side, the flow must stop.")
        yield Finding(key, Verdict.FINE, told, change=change, address=address, source=_GUIDANCE)
        return
    mild = limit("temperature of a shower's valve", MILD, TEMPERATURE, _GUIDANCE).amount
    told = say("The {valve} holds {held}, hotter than a shower's {mild}.", valve=valve, held=held, mild=mild)
    if mixed >= _BURNS:
        burns = step("time to a burn", scald_time, temperature=np.minimum(supply.temperature.values, HOTTEST))
        burns = burns.keyed("mixer", valve, "burn_time", supply.outlet, pairs=supply.pairs)
        told = say(
            "The {valve} holds {held}, hotter than a shower's {mild}: it burns skin to the third degree within about "
            "{time}; first injury comes at about half of it, a child's at about a quarter.",
            valve=valve,
            held=held,
            mild=mild,
            time=burns.rounded(1),
        )
    yield Finding(
        key,
        Verdict.WATCH,
        told,
        value=held,
        limit=mild,
        change=say("Set it to {mild} or less.", mild=mild),
        address=address,
        source=_GUIDANCE,
    )


_GUIDANCE = "guidance for showers in public buildings, from memory; Moritz and Henriques (1947)"
