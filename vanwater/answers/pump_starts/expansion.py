"""Where the water goes that grows while it is heated."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.water_number import inlet_number
from vanwater.answers.core.working import planned, step
from vanwater.physics import expansion
from vanwater.physics.atmosphere import air_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import PRESSURE
from vanwater.system.accumulators import behind, counting_first, cut_off, decided, fed_from
from vanwater.system.batch import Batch
from vanwater.system.compliance import line_compliance, precharge_here
from vanwater.system.pump import rest_pressure

__all__ = ["expansion_finding", "growth", "pressure_after"]

UNKNOWN_REST = 2e5
"""Pressure before heating where no pump says it [Pa]."""


def growth(batch: Batch, heater: str) -> Number:
    """Volume by which a heater's water grows from cold to the set point.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater.

    Returns
    -------
    Number
        Volume [m³].
    """
    cold = inlet_number(batch, heater)
    return step(
        f"growth of the water in {heater}",
        expansion.expansion_volume,
        volume=batch.number(f"heaters.{heater}.volume"),
        cold=cold,
        hot=np.maximum(batch.number(f"heaters.{heater}.set_point"), cold.values),
    ).keyed("heater", heater, "expansion")


def _vessels(plan: Plan, heater: str) -> tuple[str, ...]:
    """The accumulators that the growing water can reach, those whose pre-charge is decided."""
    reached = fed_from(plan, heater) - {*plan.mixers, *plan.outlets}
    known = counting_first(plan, decided(plan, plan.accumulators))
    return tuple(name for name in known if plan.accumulators[name].at in reached)


def _open_tank(plan: Plan, heater: str) -> str:
    """The tank into which water can go back by gravity or through a submersible pump, or an empty text."""
    feeding = (
        pump
        for name, pump in plan.pumps.items()
        if pump.kind == "submersible" and any(plan.runs[run].end == heater for run in behind(plan, name))
    )
    pumped = next((pump.tank for pump in feeding if pump.tank is not None), "")
    return pumped or next(
        (name for name in plan.tanks if not (plan.pumps or plan.mains) and _feeds(plan, name, heater)), ""
    )


def _feeds(plan: Plan, tank: str, heater: str) -> bool:
    """Whether a fresh tank feeds a heater."""
    return plan.tanks[tank].holds == "fresh" and any(plan.runs[run].end == heater for run in behind(plan, tank))


def pressure_after(batch: Batch, heater: str, grown: Number) -> Number:
    """Pressure after one heating with every tap shut, if no relief valve opens.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater.
    grown : Number
        From :func:`growth`.

    Returns
    -------
    Number
        Gauge pressure [Pa], from the pump's cut-out. Several accumulators count as one of all their gas: by Boyle's law
        they are one as long as none of their pre-charges lies above the pressure before.
    """
    plan = batch.plan
    vessels = _vessels(plan, heater)
    air = air_pressure(batch.number("site.altitude"))
    gases = [(batch.number(f"accumulators.{name}.volume"), precharge_here(batch, name) + air) for name in vessels]
    size = sum((gas for gas, _ in gases), np.zeros(len(batch)))
    filled = sum((gas * charge for gas, charge in gases), np.zeros(len(batch)))
    pump = next(iter(plan.pumps.values()), None)
    rest = rest_pressure(pump) if pump is not None else None
    return step(
        f"pressure in {heater} after heating, taps shut",
        expansion.pressure_after_expansion,
        expansion=grown,
        start=UNKNOWN_REST if rest is None else rest,
        compliance=line_compliance(batch, behind(plan, heater)).likely,
        volume=size,
        precharge=filled / size - air if vessels else 0.0,
        atmosphere=air,
    ).keyed("heater", heater, "pressure", "after heating")


def expansion_finding(batch: Batch, heater: str, grown: Number) -> Finding:
    """Whether the growing water finds room, by the position of check valve and accumulator.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater.
    grown : Number
        From :func:`growth`.

    Returns
    -------
    Finding
        Fine with room; watch where the relief valve must drip; not decided without one.
    """
    plan = batch.plan
    relief = plan.heaters[heater].relief
    vessels, closed = _vessels(plan, heater), cut_off(plan, heater)
    words = grown.rounded(2)
    key, address = f"pump_starts.{heater}.expansion", f"heaters.{heater}.relief"
    open_to = "" if closed else _open_tank(plan, heater)
    if open_to:
        return Finding(
            key,
            Verdict.FINE,
            say("The {grown} more water that heating makes goes back into the {tank}.", grown=words, tank=open_to),
            address=address,
            source="neither gravity nor a submersible pump has a valve of its own",
        )
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
    limit = planned(plan, address, PRESSURE).amount
    after = pressure_after(batch, heater, grown) if vessels else None
    if after is not None and after.likely <= relief:
        return Finding(
            key,
            Verdict.FINE,
            say(
                "Heating makes {grown} more water in the {heater}; the {vessels} {take} it up, {pressure} with the "
                "taps shut.",
                grown=words,
                heater=heater,
                vessels=vessels,
                take=say("take" if len(vessels) > 1 else "takes"),
                pressure=after.amount,
            ),
            value=after.amount,
            limit=limit,
            address=address,
            source="Boyle's law; density of water by IAPWS SR6-08",
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
