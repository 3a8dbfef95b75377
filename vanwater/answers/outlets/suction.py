"""The suction side: lift to spare when the pump primes, and the head at its inlet above boiling."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import limit, step
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics import suction, water
from vanwater.physics.atmosphere import air_pressure
from vanwater.quantities import LENGTH, PRESSURE_DIFFERENCE, Array

__all__ = ["LEAST", "npsh", "priming", "suction_findings", "suction_table"]

LEAST = 3.0
"""Head at the inlet below which a small pump may rattle, m (common practice; makers of such pumps seldom state one)."""

COLD = "site.cold_water"
LITTLE = 0.3
"""Lift to spare that is little, m (common practice)."""


def npsh(supply: OutletSupply) -> Number:
    """Head above boiling at the pump's inlet under an outlet, the tank nearly empty.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number
        Net positive suction head available [m].
    """
    return supply.batch.once(f"npsh with {supply.outlet} open", lambda: _npsh(supply))


def priming(supply: OutletSupply) -> Number | None:
    """What is left of the pump's rated lift, with the tank nearly empty.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number or None
        Margin [m]; None where no lift is rated.
    """
    if supply.plan.pumps[supply.way.pump].priming_lift is None:
        return None
    return supply.batch.once(f"priming with {supply.outlet} open", lambda: _priming(supply))


def _npsh(supply: OutletSupply) -> Number:
    return step(
        f"NPSH available at the {supply.way.pump} with the {supply.outlet} open",
        suction.npsh_available,
        surface_pressure=_of_site(supply, "pressure of the air", air_pressure, altitude="site.altitude"),
        vapour_pressure=_of_site(supply, "vapour pressure of the cold water", water.vapour_pressure, temperature=COLD),
        density=_of_site(supply, "density of the cold water", water.density, temperature=COLD),
        surface_height=-_lift(supply),
        suction_loss=supply.suction_loss,
    ).keyed("outlet", supply.outlet, "npsh", pairs=supply.pairs)


def _priming(supply: OutletSupply) -> Number:
    return step(
        f"lift left to the {supply.way.pump} with the {supply.outlet} open",
        suction.priming_margin,
        rated_lift=supply.batch.number(f"pumps.{supply.way.pump}.priming_lift"),
        lift=_lift(supply),
        suction_loss=supply.suction_loss,
        density=_of_site(supply, "density of the cold water", water.density, temperature=COLD),
        altitude=supply.batch.number("site.altitude"),
    ).keyed("outlet", supply.outlet, "lift_to_spare", pairs=supply.pairs)


def _of_site(supply: OutletSupply, name: str, function: Callable[..., object], **addresses: str) -> Number:
    """A number of air or water that is the same for all outlets."""
    given: dict[str, Any] = {argument: supply.batch.number(address) for argument, address in addresses.items()}
    return supply.batch.once(name, lambda: step(name, function, **given))


def _lift(supply: OutletSupply) -> Array:
    """Height of the pump over the water in a nearly empty tank [m]."""
    tank = f"tanks.{supply.way.tank}"
    surface = supply.batch.number(f"{tank}.z", 0.0) + supply.batch.number(f"{tank}.pickup")
    return supply.batch.number(f"pumps.{supply.way.pump}.z", 0.0) - surface


def suction_findings(supply: OutletSupply) -> Iterator[Finding]:
    """The findings on a pump's suction side, for the outlet that draws most.

    Parameters
    ----------
    supply : OutletSupply
        The solved outlet that gives most behind that pump.

    Yields
    ------
    Finding
        How much of the rated lift is left; its head above boiling where that is little.
    """
    yield _primes(supply)
    head = npsh(supply)
    if head.likely >= LEAST:  # then the rated lift says more
        return
    least = limit("head at a pump's inlet", LEAST, LENGTH, "common practice")
    yield Finding(
        f"outlets.{supply.way.pump}.npsh",
        Verdict.FAILS if head.likely <= 0.0 else Verdict.WATCH,
        say(
            "Only {head} of head above boiling is left at the {pump}'s inlet with the {outlet} open: it rattles and "
            "gives less.",
            head=head.rounded(2),
            pump=supply.way.pump,
            outlet=supply.outlet,
        ),
        value=head.amount,
        limit=least.amount,
        change=say("Put the pump lower, or shorten and widen the suction hose."),
        address=f"pumps.{supply.way.pump}.z",
        source="net positive suction head, Crane TP-410; 3 m: common practice",
        bound="at least",
    )


def _primes(supply: OutletSupply) -> Finding:
    key, address = f"outlets.{supply.way.pump}.priming", f"pumps.{supply.way.pump}.priming_lift"
    left = priming(supply)
    if left is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Whether the {pump} primes is not decided.", pump=supply.way.pump),
            change=say("Say the lift that its maker rates it for."),
            address=address,
        )
    little = left.likely < LITTLE
    return Finding(
        key,
        Verdict.FAILS if left.likely < 0 else Verdict.WATCH if little else Verdict.FINE,
        say(
            "The {pump} draws with {left} of its rated lift to spare, the tank nearly empty and the {outlet} open.",
            pump=supply.way.pump,
            outlet=supply.outlet,
            left=left.rounded(2),
        ),
        value=left.amount,
        limit=limit("lift to spare of a pump that primes", 0.0, LENGTH, "rated priming lift").amount,
        change=say("Put the pump lower, or shorten and widen the suction hose.") if little else None,
        address=address,
        source="rated priming lift less what thin air takes (common practice)",
        bound="at least",
    )


def suction_table(outlets: Iterable[OutletSupply]) -> Table:
    """What each outlet asks of the suction side, the tank nearly empty.

    Parameters
    ----------
    outlets : iterable of OutletSupply
        The solved outlets.

    Returns
    -------
    Table
        Loss on the suction side, lift that is left and head above boiling; without rows where no pump draws.
    """
    return Table(
        "suction",
        say("The suction side with each outlet open, the tank nearly empty."),
        (
            Column("outlet"),
            Column("suction takes", PRESSURE_DIFFERENCE),
            Column("rated lift to spare", LENGTH),
            Column("NPSH available", LENGTH),
        ),
        tuple(
            (
                supply.outlet,
                supply.suction_loss.rounded(2),
                None if (left := priming(supply)) is None else left.rounded(2),
                npsh(supply).rounded(2),
            )
            for supply in outlets
            if supply.way.suction and supply.reaches
        ),
    )
