"""The suction side of a pump that is full of water: what it takes, and the head at the inlet above boiling."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.water_number import cold_number
from vanwater.answers.core.working import stated, step
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.answers.outlets.priming import at_highest, highest_place, priming_finding, thinnest_air
from vanwater.physics import statics, suction, water
from vanwater.physics.atmosphere import air_pressure
from vanwater.plan.pump import BY_HAND, SWITCHED
from vanwater.plan.sold import sold
from vanwater.quantities import LENGTH, PRESSURE_DIFFERENCE, Array

__all__ = [
    "LEAST",
    "drawing",
    "npsh",
    "npsh_highest",
    "npsh_required",
    "npsh_to_spare",
    "suction_findings",
    "suction_numbers",
    "suction_table",
]

LEAST: Mapping[str, tuple[float, float, float]] = {
    **dict.fromkeys((*SWITCHED, "speed-controlled"), (2.0, 3.0, 4.0)),
    **dict.fromkeys(BY_HAND, (2.0, 3.0, 4.0)),
}
"""Head at the inlet below which a kind of pump may rattle where its maker states none: least, likely, most, m (common
practice, from memory)."""

SAVED = 0.9
"""Share of the suction side's loss that a hose of twice the bore saves at least (the fourth power of the bore)."""


def npsh(supply: OutletSupply) -> Number:
    """Head above boiling at the pump's inlet under an outlet, the tank nearly empty, at the usual place.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number
        Net positive suction head available [m].
    """
    return supply.batch.once(
        f"npsh with {supply.outlet} open", lambda: _npsh(supply, _air(supply)).keyed(*_key(supply), pairs=supply.pairs)
    )


def npsh_highest(supply: OutletSupply) -> Number:
    """The same at the highest place of the plan, where the air is thinnest.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number
        Net positive suction head available [m]; that of the usual place where the plan names no higher one.
    """
    if not highest_place(supply.plan):
        return npsh(supply)
    return supply.batch.once(
        f"npsh with {supply.outlet} open at the highest place",
        lambda: _npsh(supply, thinnest_air(supply)).keyed(*_key(supply), "highest", pairs=supply.pairs),
    )


def npsh_required(supply: OutletSupply) -> Number:
    """Head above boiling that the pump of an outlet needs at its inlet: its maker's, else as is usual for its kind.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number
        Net positive suction head required [m]; with a range where the plan does not say it.
    """
    pump = supply.way.pump
    said, (low, likely, high) = supply.plan.pumps[pump].npsh, LEAST[supply.plan.pumps[pump].kind]
    number = stated(
        f"head that the {pump} needs at its inlet",
        supply.batch.number(f"pumps.{pump}.npsh", likely),
        LENGTH,
        "As its maker states it, else as is usual for its kind.",
        source="the plan" if said is not None else "common practice, from memory",
    )
    if said is not None:
        return number.keyed("pump", pump, "npsh_required", exact="as planned", digits=2)
    return number.keyed("pump", pump, "npsh_required", bracket=(low, high), digits=2)


def npsh_to_spare(supply: OutletSupply) -> Number:
    """What is left of the head at a pump's inlet over what it needs, at the highest place of the plan.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump.

    Returns
    -------
    Number
        Head to spare [m]; the ranges of both heads combined by root-sum-square, each side for itself.
    """
    head, needed = npsh_highest(supply), npsh_required(supply)
    low, high = head.range or (head.likely, head.likely)
    least, most = needed.range or (needed.likely, needed.likely)
    spare = head.likely - needed.likely
    ends = (
        spare - math.hypot(head.likely - low, most - needed.likely),
        spare + math.hypot(high - head.likely, needed.likely - least),
    )
    return stated(
        f"head to spare at the {supply.way.pump}'s inlet with the {supply.outlet} open",
        head.values - needed.values,
        LENGTH,
        "Head above boiling at the inlet, less what the pump needs.",
        parts=(("head above boiling", head), ("needed", (-needed.values, LENGTH))),
        source="net positive suction head, Crane TP-410",
    ).keyed("outlet", supply.outlet, "npsh_to_spare", bracket=ends, digits=2)


def _key(supply: OutletSupply) -> tuple[str, str, str]:
    return "outlet", supply.outlet, "npsh"


def _npsh(supply: OutletSupply, air: Number) -> Number:
    return step(
        f"NPSH available at the {supply.way.pump} with the {supply.outlet} open",
        suction.npsh_available,
        surface_pressure=air,
        vapour_pressure=_of_water(supply, "vapour pressure of the cold water", water.vapour_pressure),
        density=_of_water(supply, "density of the cold water", water.density),
        surface_height=-_lift(supply),
        suction_loss=supply.suction_loss,
    )


def _air(supply: OutletSupply) -> Number:
    """Pressure of the air at the usual place, the same for all outlets."""
    name, altitude = "pressure of the air", supply.batch.number("site.altitude")
    return supply.batch.once(name, lambda: step(name, air_pressure, altitude=altitude))


def _of_water(supply: OutletSupply, name: str, function: Callable[..., object]) -> Number:
    """A number of the water that is the same for all outlets of a tank."""
    cold = cold_number(supply.batch, supply.way)
    return supply.batch.once(f"{name} from {supply.way.tank}", lambda: step(name, function, temperature=cold))


def _lift(supply: OutletSupply) -> Array:
    """Height of the pump over the water in a nearly empty tank [m]."""
    tank = f"tanks.{supply.way.tank}"
    surface = supply.batch.number(f"{tank}.z", 0.0) + supply.batch.number(f"{tank}.pickup")
    return supply.batch.number(f"pumps.{supply.way.pump}.z", 0.0) - surface


def drawing(outlets: Mapping[str, OutletSupply]) -> tuple[OutletSupply, ...]:
    """The outlet that draws most behind each pump with a suction line.

    Parameters
    ----------
    outlets : mapping of str to OutletSupply
        The solved outlets.

    Returns
    -------
    tuple of OutletSupply
        One a pump.
    """
    most: dict[str, OutletSupply] = {}
    for supply in outlets.values():
        pump = supply.way.pump
        if supply.way.suction and pump and (pump not in most or supply.flow.likely > most[pump].flow.likely):
            most[pump] = supply
    return tuple(most.values())


def suction_findings(supply: OutletSupply) -> Iterator[Finding]:
    """The findings on a pump's suction side, for the outlet that draws most.

    Parameters
    ----------
    supply : OutletSupply
        The solved outlet that gives most behind that pump.

    Yields
    ------
    Finding
        Whether it pulls the water up while it is dry; its head above boiling where that is little.
    """
    yield priming_finding(supply)
    head, needed, spare = npsh_highest(supply), npsh_required(supply), npsh_to_spare(supply)
    short = -(spare.range or (spare.likely,))[0]
    if short <= 0.0:
        return
    boils = head.likely <= 0.0
    given: dict[str, Given] = {
        "pump": supply.way.pump,
        "outlet": supply.outlet,
        "place": at_highest(supply.plan),
    }
    if spare.likely >= 0.0:
        told = (
            "The head above boiling at the {pump}'s inlet with the {outlet} open{place} is {head}, and it needs "
            "{needed}: it may rattle and give less."
        )
        given |= {"head": head.shown, "needed": needed.shown}
    elif boils:
        told = "The water boils at the {pump}'s inlet with the {outlet} open{place}: it stutters and gives less."
    else:
        told = (
            "Only {head} of head above boiling is left at the {pump}'s inlet with the {outlet} open{place}: it rattles "
            "and gives less."
        )
        given["head"] = head.rounded(2)
    yield Finding(
        f"outlets.{supply.way.pump}.npsh",
        Verdict.FAILS if boils else Verdict.WATCH,
        say(told, **given),
        value=head.shown,
        limit=needed.amount,
        change=_more_head(supply, short),
        address=f"pumps.{supply.way.pump}.z",
        source=f"net positive suction head, Crane TP-410; head that it needs: {needed.source}",
        bound="at least",
    )


def _more_head(supply: OutletSupply, short: float) -> Say:
    """What brings the head that is short; only what does."""
    most = (supply.suction_loss.range or (0.0, supply.suction_loss.likely))[1]
    lost = float(statics.column_height(most, water.density(supply.case.cold[0])))
    if short <= SAVED * lost:
        return say("Lay a wider and shorter suction hose, without elbows.")
    pump, step = supply.way.pump, sold(supply.batch.plan.us).height
    lower = stated(
        f"how much lower the {pump} has to stand for its head",
        math.ceil(short / step) * step,
        LENGTH,
        "As much more head as it stands lower; rounded up.",
        facts=(("short", (short, LENGTH)), ("suction side", (supply.suction_loss.likely, PRESSURE_DIFFERENCE))),
        source="net positive suction head, Crane TP-410",
    ).keyed("pump", pump, "lower_by", "npsh")
    return say("Put the {pump} {lower} lower.", pump=pump, lower=lower.rounded(2))


def suction_numbers(supply: OutletSupply) -> Iterator[Number]:
    """The numbers of an outlet's suction side.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet.

    Yields
    ------
    Number
        Head above boiling, at the usual place and at a higher one that the plan names.
    """
    yield npsh(supply)
    if highest_place(supply.plan):
        yield npsh_highest(supply)


def suction_table(outlets: Iterable[OutletSupply]) -> Table:
    """What each outlet asks of the suction side, the tank nearly empty.

    Parameters
    ----------
    outlets : iterable of OutletSupply
        The solved outlets.

    Returns
    -------
    Table
        Loss on the suction side and head above boiling; without rows where no pump draws.
    """
    drawn = [supply for supply in outlets if supply.way.suction and supply.reaches]
    higher = any(highest_place(supply.plan) for supply in drawn)
    return Table(
        "suction",
        say("The suction side with each outlet open, the tank nearly empty."),
        (
            Column("outlet"),
            Column("suction takes", PRESSURE_DIFFERENCE),
            Column("NPSH available", LENGTH),
            *((Column("at the highest place", LENGTH),) if higher else ()),
        ),
        tuple(
            (
                supply.outlet,
                supply.suction_loss.rounded(2),
                *(number.rounded(2) for number in suction_numbers(supply)),
            )
            for supply in drawn
        ),
    )
