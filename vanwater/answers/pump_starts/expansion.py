"""Where the water goes that grows while it is heated."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.working import Step, step
from vanwater.physics import expansion
from vanwater.physics.atmosphere import air_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import PRESSURE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.compliance import accumulator_of, behind, cut_off, line_compliance
from vanwater.system.pump import rest_pressure

__all__ = ["expansion_finding", "expansion_step", "pressure_step"]


def expansion_step(plan: Plan, heater: str) -> Step:
    """Volume by which a heater's water grows from cold to the set point.

    Parameters
    ----------
    plan : Plan
        The plan.
    heater : str
        The heater.

    Returns
    -------
    Step
        Volume [m³].
    """
    known = plan.heaters[heater]
    return step(
        f"growth of the water in {heater}",
        expansion.expansion_volume,
        volume=known.volume,
        cold=plan.site.cold_water,
        hot=max(known.set_point, plan.site.cold_water),
    )


def _vessel(plan: Plan, heater: str) -> str:
    """The accumulator that the growing water can reach, or an empty text."""
    pump = next((name for name in plan.pumps if any(plan.runs[run].end == heater for run in behind(plan, name))), "")
    vessel = accumulator_of(plan, pump) if pump else ""
    if not vessel or plan.accumulators[vessel].precharge is None:
        return ""
    closed = cut_off(plan, heater)
    if not closed:
        return vessel
    inside = {plan.runs[closed].end} | {plan.runs[run].end for run in behind(plan, plan.runs[closed].end)}
    return vessel if plan.accumulators[vessel].at in inside else ""


def _open_tank(plan: Plan, heater: str) -> str:
    """The tank into which water can go back through a submersible pump, or an empty text."""
    feeding = (
        pump
        for name, pump in plan.pumps.items()
        if pump.kind == "submersible" and any(plan.runs[run].end == heater for run in behind(plan, name))
    )
    return next((pump.tank for pump in feeding if pump.tank is not None), "")


def pressure_step(plan: Plan, heater: str, grown: Step) -> Step:
    """Pressure after one heating with every tap shut, if no relief valve opens.

    Parameters
    ----------
    plan : Plan
        The plan.
    heater : str
        The heater.
    grown : Step
        From :func:`expansion_step`.

    Returns
    -------
    Step
        Gauge pressure [Pa], from the pump's cut-out.
    """
    vessel = _vessel(plan, heater)
    pump = next(iter(plan.pumps.values()), None)
    rest = rest_pressure(pump) if pump is not None else None
    start = 2e5 if rest is None else rest
    line = line_compliance(Batch(plan), behind(plan, heater)).likely
    known = plan.accumulators[vessel] if vessel else None
    return step(
        f"pressure in {heater} after heating, taps shut",
        expansion.pressure_after_expansion,
        expansion=grown,
        start=start,
        compliance=float(line[0]),
        volume=known.volume if known else 0.0,
        precharge=(known.precharge or 0.0) if known else 0.0,
        atmosphere=air_pressure(plan.site.altitude),
    )


def expansion_finding(plan: Plan, heater: str, grown: Step) -> Finding:
    """Whether the growing water finds room, by the position of check valve and accumulator.

    Parameters
    ----------
    plan : Plan
        The plan.
    heater : str
        The heater.
    grown : Step
        From :func:`expansion_step`.

    Returns
    -------
    Finding
        Fine with room; watch where the relief valve must drip; not decided without one.
    """
    after = pressure_step(plan, heater, grown)
    relief = plan.heaters[heater].relief
    pressure = float(np.ravel(after.value)[0])
    vessel, closed = _vessel(plan, heater), cut_off(plan, heater)
    assert isinstance(grown.result, Amount)
    words = Amount(grown.result.value, VOLUME, 2)
    key, address = f"accumulator.{heater}.expansion", f"heaters.{heater}.relief"
    if relief is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say(
                "Heating makes {grown} more water in the {heater}; its relief valve is not decided.",
                grown=words,
                heater=heater,
            ),
            change=say("Fit a relief valve that its maker allows, with a drain to the outside, and say its pressure."),
            address=address,
        )
    limit = Amount(relief, PRESSURE)
    if vessel and pressure <= relief:
        return Finding(
            key,
            Verdict.FINE,
            say(
                "Heating makes {grown} more water in the {heater}; the {vessel} takes it up, {pressure} with the taps "
                "shut.",
                grown=words,
                heater=heater,
                vessel=vessel,
                pressure=Amount(pressure, PRESSURE),
            ),
            value=Amount(pressure, PRESSURE),
            limit=limit,
            address=address,
            source="Boyle's law; density of water by IAPWS SR6-08",
        )
    open_to = "" if closed else _open_tank(plan, heater)
    if open_to:
        return Finding(
            key,
            Verdict.FINE,
            say("The {grown} more water that heating makes goes back into the {tank}.", grown=words, tank=open_to),
            address=address,
            source="a submersible pump has no valve of its own",
        )
    behind_valve = say(" behind the check valve in the {run}", run=closed) if closed else say(" behind the shut pump")
    return Finding(
        key,
        Verdict.WATCH,
        say(
            "Heating makes {grown} more water in the {heater}{where}, and nothing takes it up: its relief valve at "
            "{limit} will drip.",
            grown=words,
            heater=heater,
            where=behind_valve,
            limit=limit,
        ),
        change=say("Put an accumulator on the heater's side of the check valve, or lead the drip to the outside."),
        address=address,
        source="Boyle's law; density of water by IAPWS SR6-08",
    )
