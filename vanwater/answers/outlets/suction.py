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


def npsh(one: OutletSupply) -> Number:
    """Head above boiling at the pump's inlet under an outlet, the tank nearly empty.

    Parameters
    ----------
    one : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number
        Net positive suction head available [m].
    """
    return one.batch.once(f"npsh with {one.outlet} open", lambda: _npsh(one))


def priming(one: OutletSupply) -> Number | None:
    """What is left of the pump's rated lift, with the tank nearly empty.

    Parameters
    ----------
    one : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number or None
        Margin [m]; None where no lift is rated.
    """
    if one.plan.pumps[one.way.pump].priming_lift is None:
        return None
    return one.batch.once(f"priming with {one.outlet} open", lambda: _priming(one))


def _npsh(one: OutletSupply) -> Number:
    return step(
        f"NPSH available at the {one.way.pump} with the {one.outlet} open",
        suction.npsh_available,
        surface_pressure=_of_site(one, "pressure of the air", air_pressure, altitude="site.altitude"),
        vapour_pressure=_of_site(one, "vapour pressure of the cold water", water.vapour_pressure, temperature=COLD),
        density=_of_site(one, "density of the cold water", water.density, temperature=COLD),
        surface_height=-_lift(one),
        suction_loss=one.suction_loss,
    ).keyed("outlet", one.outlet, "npsh", pairs=one.pairs)


def _priming(one: OutletSupply) -> Number:
    return step(
        f"lift left to the {one.way.pump} with the {one.outlet} open",
        suction.priming_margin,
        rated_lift=one.batch.number(f"pumps.{one.way.pump}.priming_lift"),
        lift=_lift(one),
        suction_loss=one.suction_loss,
        density=_of_site(one, "density of the cold water", water.density, temperature=COLD),
        altitude=one.batch.number("site.altitude"),
    ).keyed("outlet", one.outlet, "lift_to_spare", pairs=one.pairs)


def _of_site(one: OutletSupply, name: str, function: Callable[..., object], **addresses: str) -> Number:
    """A number of air or water that is the same for all outlets."""
    given: dict[str, Any] = {argument: one.batch.number(address) for argument, address in addresses.items()}
    return one.batch.once(name, lambda: step(name, function, **given))


def _lift(one: OutletSupply) -> Array:
    """Height of the pump over the water in a nearly empty tank [m]."""
    tank = f"tanks.{one.way.tank}"
    surface = one.batch.number(f"{tank}.z", 0.0) + one.batch.number(f"{tank}.pickup")
    return one.batch.number(f"pumps.{one.way.pump}.z", 0.0) - surface


def suction_findings(one: OutletSupply) -> Iterator[Finding]:
    """The findings on a pump's suction side, for the outlet that draws most.

    Parameters
    ----------
    one : OutletSupply
        The solved outlet that gives most behind that pump.

    Yields
    ------
    Finding
        How much of the rated lift is left; its head above boiling where that is little.
    """
    yield _primes(one)
    head = npsh(one)
    if head.likely >= LEAST:  # then the rated lift says more
        return
    least = limit("head at a pump's inlet", LEAST, LENGTH, "common practice")
    yield Finding(
        f"outlets.{one.way.pump}.npsh",
        Verdict.FAILS if head.likely <= 0.0 else Verdict.WATCH,
        say(
            "Only {head} of head above boiling is left at the {pump}'s inlet with the {outlet} open: it rattles and "
            "gives less.",
            head=head.rounded(2),
            pump=one.way.pump,
            outlet=one.outlet,
        ),
        value=head.amount,
        limit=least.amount,
        change=say("Put the pump lower, or shorten and widen the suction hose."),
        address=f"pumps.{one.way.pump}.z",
        source="net positive suction head, Crane TP-410; 3 m: common practice",
        bound="at least",
    )


def _primes(one: OutletSupply) -> Finding:
    key, address = f"outlets.{one.way.pump}.priming", f"pumps.{one.way.pump}.priming_lift"
    left = priming(one)
    if left is None:
        return Finding(
            key,
            Verdict.NOT_DECIDED,
            say("Whether the {pump} primes is not decided.", pump=one.way.pump),
            change=say("Say the lift that its maker rates it for."),
            address=address,
        )
    little = left.likely < LITTLE
    return Finding(
        key,
        Verdict.FAILS if left.likely < 0 else Verdict.WATCH if little else Verdict.FINE,
        say(
            "The {pump} draws with {left} of its rated lift to spare, the tank nearly empty and the {outlet} open.",
            pump=one.way.pump,
            outlet=one.outlet,
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
                one.outlet,
                one.suction_loss.rounded(2),
                None if (left := priming(one)) is None else left.rounded(2),
                npsh(one).rounded(2),
            )
            for one in outlets
            if one.way.suction and one.reaches
        ),
    )
