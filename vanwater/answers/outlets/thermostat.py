"""What is to be said of a thermostatic mixing valve: whether it holds its temperature, and how hot it may be set."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.statement import Amount, Given, say
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics.scald import scald_time
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, SECONDS, TEMPERATURE, TEMPERATURE_DIFFERENCE
from vanwater.system.thermostat import MILD

__all__ = ["thermostat_findings"]

USUAL_FLOW = 4e-3 / 60
"""Least flow of the usual 1/2 in valves, m³/s: 4 L/min (common practice, from memory)."""

USUAL_EXCESS = 10.0
"""Excess of the hot water over the mix that the usual valves need, K (common practice, from memory)."""

_BURNS = 317.15  # below 44 °C no burn time is published


def thermostat_findings(plan: Plan, one: OutletSupply) -> Iterator[Finding]:
    """The findings on the thermostatic valve before an outlet.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        A solved outlet behind such a valve.

    Yields
    ------
    Finding
        Its least flow and pressure, the excess of the hot water, what it is set to.
    """
    if one.reaches:
        yield _least_flow(plan, one)
        yield _class(plan, one)
    yield _excess(plan, one)
    yield from _set(plan, one)


def _least_flow(plan: Plan, one: OutletSupply) -> Finding:
    valve = one.way.mixer
    key, address = f"supply.{one.outlet}.least_flow", f"mixers.{valve}.least_flow"
    least = plan.mixers[valve].least_flow
    if least is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say(
                "Whether the {outlet} draws enough for the {valve} is not decided: it gives {flow}, and such valves "
                "need about {usual} to hold their temperature.",
                outlet=one.outlet,
                valve=valve,
                flow=one.flow,
                usual=Amount(USUAL_FLOW, FLOW),
            ),
            change=say("Say the least flow from the valve's data sheet."),
            address=address,
            source="common practice, from memory",
        )
    limit = Amount(least, FLOW)
    verdict = judge(one.flow, limit, "at least")
    low = verdict is not Verdict.FINE
    return Finding(
        key,
        verdict,
        say(
            "The {outlet} gives {flow}; below {least} the {valve} does not hold its temperature.",
            outlet=one.outlet,
            flow=one.flow,
            valve=valve,
            least=limit,
        ),
        value=one.flow,
        limit=limit,
        change=say("Take a valve for less flow, an outlet that gives more, or a tap set by hand.") if low else None,
        address=address,
        source="the valve's own least flow",
        bound="at least",
    )


def _class(plan: Plan, one: OutletSupply) -> Finding:
    """Whether a valve of the usual class for house pressure is at its place."""
    valve, physics = one.way.mixer, one.case.physics
    height = plan.mixers[valve].z
    rise = (
        0.0 if height is None else float(np.ravel(physics.weight)[0]) * ((plan.outlets[one.outlet].z or 0.0) - height)
    )
    behind = float(
        one.solved.outlet_pressure[0] + np.sum(one.solved.losses[0, len(one.way.runs) - len(one.way.mixed) :])
    )
    before = Amount(behind + rise + float(one.solved.valve_loss[0]), PRESSURE)
    return Finding(
        f"supply.{one.outlet}.valve_pressure",
        Verdict.FINE,
        say(
            "The {valve} works at {pressure}. Valves for house pressure (EN 1111) are made for {low} to {high}, valves "
            "for low pressure (EN 1287) also for less.",
            valve=valve,
            pressure=before,
            low=Amount(1e5, PRESSURE),
            high=Amount(5e5, PRESSURE),
        ),
        change=say("Take one for low pressure.") if before.value < 1e5 else None,
        address=f"mixers.{valve}",
        source="EN 1111 and EN 1287, from memory",
    )


def _excess(plan: Plan, one: OutletSupply) -> Finding:
    valve = one.way.mixer
    key = f"supply.{one.outlet}.hot_excess"
    excess = Amount(float(one.case.hot[0] - one.case.mixed[0]), TEMPERATURE_DIFFERENCE)
    needed = plan.mixers[valve].hot_excess
    limit = Amount(USUAL_EXCESS if needed is None else needed, TEMPERATURE_DIFFERENCE)
    given: dict[str, Given] = {"heater": one.way.heater or "heater", "valve": valve, "excess": excess, "needed": limit}
    if needed is None and excess.value >= limit.value:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say(
                "The {heater} is {excess} hotter than the {valve} is set; such valves need about {needed} to hold it.",
                **given,
            ),
            change=say("Say the excess from the valve's data sheet."),
            address=f"mixers.{valve}.hot_excess",
            source="common practice, from memory",
        )
    short = excess.value < limit.value
    return Finding(
        key,
        Verdict.FAILS if short else Verdict.FINE,
        say("The {heater} is {excess} hotter than the {valve} is set; it needs {needed} to hold it.", **given),
        value=excess,
        limit=limit,
        change=say("Raise the heater's set point, or set the valve cooler.") if short else None,
        address=f"heaters.{one.way.heater}.set_point" if one.way.heater else f"mixers.{valve}.set",
        source="common practice, from memory" if needed is None else "the valve's own data",
        bound="at least",
    )


def _set(plan: Plan, one: OutletSupply) -> Iterator[Finding]:
    valve, mixed = one.way.mixer, float(one.case.mixed[0])
    address = f"mixers.{valve}.set" if plan.mixers[valve].set is not None else f"outlets.{one.outlet}.temperature"
    key, held = f"supply.{one.outlet}.scald", Amount(mixed, TEMPERATURE)
    wanted = plan.outlets[one.outlet].temperature
    if plan.mixers[valve].set is not None and wanted is not None and wanted > mixed:
        yield Finding(
            f"supply.{one.outlet}.set",
            Verdict.WATCH,
            say(
                "The {valve} is set to {held}; the {outlet} wants {wanted}.",
                valve=valve,
                held=held,
                outlet=one.outlet,
                wanted=Amount(wanted, TEMPERATURE),
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
    told = say("The {valve} holds {held}, hotter than a shower's {mild}.", valve=valve, held=held, mild=_MILD)
    if mixed >= _BURNS:
        told = say(
            "The {valve} holds {held}, hotter than a shower's {mild}: it burns skin within about {time}, a child's "
            "sooner.",
            valve=valve,
            held=held,
            mild=_MILD,
            time=Amount(float(scald_time(min(mixed, 343.15))), SECONDS, 1),
        )
    yield Finding(
        key,
        Verdict.WATCH,
        told,
        value=held,
        limit=_MILD,
        change=say("Set it to {mild} or less.", mild=_MILD),
        address=address,
        source=_GUIDANCE,
    )


_MILD = Amount(MILD, TEMPERATURE)
_GUIDANCE = "guidance for showers in public buildings, from memory; Moritz and Henriques (1947)"
