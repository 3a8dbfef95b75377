"""The head at the pump's inlet above boiling, beside its priming lift."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import Step, step
from vanwater.answers.outlets.findings import priming
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics import suction, water
from vanwater.physics.atmosphere import air_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH, PRESSURE_DIFFERENCE

__all__ = ["LEAST", "npsh", "npsh_finding", "suction_table"]

LEAST = 3.0
"""Head at the inlet below which a small pump may rattle, m (common practice; makers of such pumps seldom state one)."""


def npsh(plan: Plan, one: OutletSupply) -> Step:
    """Head above boiling at the pump's inlet under an outlet, the tank nearly empty.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Step
        Net positive suction head available [m].
    """
    pump, tank, site = plan.pumps[one.way.pump], plan.tanks[one.way.tank], plan.site
    return step(
        f"NPSH available at the {one.way.pump} with the {one.outlet} open",
        suction.npsh_available,
        surface_pressure=step("pressure of the air", air_pressure, altitude=site.altitude),
        vapour_pressure=step("vapour pressure of the cold water", water.vapour_pressure, temperature=site.cold_water),
        density=water.density(site.cold_water),
        surface_height=(tank.z or 0.0) + tank.pickup - (pump.z or 0.0),
        suction_loss=np.sum(one.solved.losses[0, : len(one.way.suction)]),
    )


def npsh_finding(plan: Plan, one: OutletSupply) -> Iterator[Finding]:
    """The finding on a pump whose inlet comes near boiling, for the outlet that draws most.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : OutletSupply
        The solved outlet that gives most behind that pump.

    Yields
    ------
    Finding
        None while there is head enough: then the rated priming lift says more.
    """
    head = float(np.ravel(npsh(plan, one).value)[0])
    if head >= LEAST:
        return
    yield Finding(
        f"supply.{one.way.pump}.npsh",
        Verdict.FAILS if head <= 0.0 else Verdict.WATCH,
        say(
            "Only {head} of head above boiling is left at the {pump}'s inlet with the {outlet} open: it rattles and "
            "gives less.",
            head=Amount(head, LENGTH, 2),
            pump=one.way.pump,
            outlet=one.outlet,
        ),
        value=Amount(head, LENGTH),
        limit=Amount(LEAST, LENGTH),
        change=say("Put the pump lower, or shorten and widen the suction hose."),
        address=f"pumps.{one.way.pump}.z",
        source="net positive suction head, Crane TP-410; 3 m: common practice",
        bound="at least",
    )


def suction_table(plan: Plan, outlets: Mapping[str, OutletSupply]) -> Table:
    """What each outlet asks of the suction side, the tank nearly empty.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlets : mapping of str to OutletSupply
        The solved outlets.

    Returns
    -------
    Table
        Loss on the suction side, lift that is left and head above boiling; without rows where no pump draws.
    """
    rows = []
    for name, one in outlets.items():
        if not one.way.suction or not one.reaches:
            continue
        rated = plan.pumps[one.way.pump].priming_lift
        left = None if rated is None else Amount(float(np.ravel(priming(plan, one).value)[0]), LENGTH, 2)
        loss = float(np.sum(one.solved.losses[0, : len(one.way.suction)]))
        head = Amount(float(np.ravel(npsh(plan, one).value)[0]), LENGTH, 2)
        rows.append((name, Amount(loss, PRESSURE_DIFFERENCE, 2), left, head))
    return Table(
        "suction",
        say("The suction side with each outlet open, the tank nearly empty."),
        (
            Column("outlet"),
            Column("suction takes", PRESSURE_DIFFERENCE),
            Column("rated lift to spare", LENGTH),
            Column("NPSH available", LENGTH),
        ),
        tuple(rows),
    )
