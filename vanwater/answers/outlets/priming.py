"""Whether a dry pump pulls the water up: what it has to lift, what it can lift where the air is thinnest."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.water_number import cold_number
from vanwater.answers.core.working import planned, stated, step
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics import suction, water
from vanwater.physics.atmosphere import air_pressure
from vanwater.plan.model import Plan
from vanwater.plan.sold import sold
from vanwater.quantities import ALTITUDE, LENGTH
from vanwater.system.suction import DIP_TUBE, SuctionLine, suction_line, undecided_height

__all__ = ["Priming", "at_highest", "highest_place", "priming", "priming_finding", "priming_table", "thinnest_air"]

FLOODED = 0.3
"""Water over pump and suction line with which it runs to the pump by itself, m (common practice)."""

LITTLE = 0.3
"""Lift to spare that is little, m: a worn pump, a strainer that lets air in (common practice)."""

SPRING_OPENS = 5e3
"""Pressure that opens a spring check valve or a foot valve, Pa: up to 0.05 bar (common practice, from memory)."""

MOST_RATED = 2.7
"""Dry lift of the strongest small pumps, m (common practice, from memory)."""

_TOUCH = 1e-6


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Priming:
    """How a dry pump meets its suction line, the tank nearly empty, at the highest place of the plan.

    Parameters
    ----------
    line : SuctionLine
        The line from the tank to the pump.
    lift : Number
        Height of the highest point of pump and line over the lowest usable water; below zero under it [m].
    dry, spare : Number or None
        What it can lift, and what that leaves [m]; None where no lift is rated.
    """

    line: SuctionLine
    lift: Number
    dry: Number | None
    spare: Number | None

    @property
    def flooded(self) -> bool:
        """Whether water runs to the pump by itself."""
        return bool(self.lift.likely <= _TOUCH - FLOODED and not self.line.valves[0] and not self.line.hump[0])


def highest_place(plan: Plan) -> bool:
    """Whether the van goes to a place that is higher than the usual one."""
    return plan.site.highest is not None and plan.site.highest > plan.site.altitude


def at_highest(plan: Plan) -> Say:
    """Where the air is thinnest, as the end of a sentence; empty at sea level."""
    address = "site.highest" if highest_place(plan) else "site.altitude"
    altitude = planned(plan, address, ALTITUDE)
    return say(" at {altitude}", altitude=altitude.amount) if altitude.likely > 0 else say("")


def thinnest_air(supply: OutletSupply) -> Number:
    """Pressure of the air at the highest place of the plan."""
    altitude = np.fmax(supply.batch.number("site.altitude"), supply.batch.number("site.highest"))
    name = "pressure of the air at the highest place"
    return supply.batch.once(name, lambda: step(name, air_pressure, altitude=altitude))


def priming(supply: OutletSupply) -> Priming | None:
    """How the pump before an outlet meets its suction line while it is dry.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump that draws through a suction line.

    Returns
    -------
    Priming or None
        None where a height is not decided.
    """
    if undecided_height(supply.plan, supply.way):
        return None
    return supply.batch.once(f"priming of {supply.way.pump}", lambda: _priming(supply))


def _priming(supply: OutletSupply) -> Priming:
    line, pump = suction_line(supply.batch, supply.way), supply.way.pump
    keyed = partial(Number.keyed, pairs=supply.pairs)
    lift = stated(
        f"highest point before the {pump} over the lowest usable water",
        line.top - line.water,
        LENGTH,
        "The highest point of pump and suction line over the lowest usable water; behind it the water falls by itself.",
        parts=(
            (f"highest point, the {line.highest}", (line.top, LENGTH)),
            ("lowest usable water", (-line.water, LENGTH)),
        ),
        source="geometry",
        note="The van level: of a pump it is not said where it stands along and across the van, so that the slope "
        "cannot be counted. It is 2 cm a metre and degree.",
    )
    dry = spare = None
    if supply.plan.pumps[pump].priming_lift is not None:
        dry = keyed(_dry(supply, line), "pump", pump, "dry_lift", digits=2)
        spare = stated(
            f"lift to spare of the {pump}",
            dry.values - lift.values,
            LENGTH,
            "What it can lift less what it has to lift.",
            parts=(("can lift", (dry.values, LENGTH)), ("has to lift", (-lift.values, LENGTH))),
            source="geometry",
        )
        spare = keyed(spare, "pump", pump, "lift_to_spare", digits=2)
    return Priming(
        line=line,
        lift=keyed(lift, "pump", pump, "suction_lift", digits=2),
        dry=dry,
        spare=spare,
    )


def _dry(supply: OutletSupply, line: SuctionLine, valves: bool = True) -> Number:
    """What the pump can lift, with or without the check valves in its suction line."""
    return step(
        f"what the {line.pump} can lift while it is dry",
        suction.dry_lift,
        rated_lift=supply.batch.number(f"pumps.{line.pump}.priming_lift"),
        surface_pressure=thinnest_air(supply),
        density=_density(supply),
        line_opening=SPRING_OPENS * line.valves * valves,
    )


def _density(supply: OutletSupply) -> Number:
    name, cold = "density of the cold water", cold_number(supply.batch, supply.way)
    return supply.batch.once(f"{name} from {supply.way.tank}", lambda: step(name, water.density, temperature=cold))


def priming_finding(supply: OutletSupply) -> Finding:
    """The finding on whether a dry pump pulls the water up.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a pump that draws through a suction line.

    Returns
    -------
    Finding
        Fine where water runs to it by itself or it lifts with enough to spare.
    """
    pump = supply.way.pump
    key, address = f"outlets.{pump}.priming", f"pumps.{pump}.priming_lift"
    dry = priming(supply)
    undecided = say("Whether the {pump} pulls the water up is not decided.", pump=pump)
    if dry is None:
        missing = undecided_height(supply.plan, supply.way)
        change = say("Give {field}, how high its suction line leads.", field=missing)
        return Finding(key, Verdict.NOT_DECIDED, undecided, change=change, address=missing)
    if dry.dry is None and not dry.flooded:
        change = say("Give the dry lift that its maker rates it for: it has to lift {lift}.", lift=dry.lift.rounded(2))
        return Finding(key, Verdict.NOT_DECIDED, undecided, change=change, address=address)
    if dry.flooded:
        return Finding(
            key,
            Verdict.FINE,
            say(
                "Water runs to the {pump} by itself: nearly empty, the {tank} still stands {over} above pump and line.",
                pump=pump,
                tank=dry.line.tank,
                over=dry.lift.negated,
            ),
            address=f"pumps.{pump}.z",
            source="communicating vessels; 0.3 m: common practice",
        )
    return _lifting(supply, dry, key, address)


def _lifting(supply: OutletSupply, dry: Priming, key: str, address: str) -> Finding:
    assert dry.dry is not None and dry.spare is not None
    enough, up = _enough(dry.dry.likely, dry.lift.likely), dry.lift.likely > _TOUCH
    given: dict[str, Given] = {"pump": dry.line.pump, "place": at_highest(supply.plan)}
    lifted: dict[str, Given] = {"lift": dry.lift.rounded(2), "top": _over_what(dry.line)}
    can: dict[str, Given] = lifted | {"dry": dry.dry.rounded(2)}
    short = dry.spare.negated
    if enough and not up:
        verdict, statement = (
            Verdict.FINE,
            say(
                "The {pump} hardly has to pull: nearly empty, the {tank} stands {over} above pump and line.",
                pump=dry.line.pump,
                tank=dry.line.tank,
                over=dry.lift.negated,
            ),
        )
    elif enough:
        told = "The {pump} pulls the water up with a tap open: it has to lift {lift}{top} and can lift {dry}{place}."
        verdict, statement = Verdict.FINE, say(told, **given, **can)
    elif dry.spare.likely >= 0.0:
        told = "The {pump} only just pulls the water up: it has to lift {lift}{top} and can lift {dry}{place}."
        verdict, statement = Verdict.WATCH, say(told, **given, **can)
    elif up:
        told = "The {pump} cannot pull the water up{place}: it has to lift {lift}{top}, {short} too much."
        verdict, statement = Verdict.FAILS, say(told, **given, **lifted, short=short)
    else:
        told = "The {pump} cannot pull its suction line free of air{place}: {short} of lift are missing."
        verdict, statement = Verdict.FAILS, say(told, **given, short=short)
    return Finding(
        key,
        verdict,
        statement,
        value=dry.dry.amount,
        limit=dry.lift.amount,
        change=None if enough else _cure(supply, dry),
        address=address,
        source="rated dry lift by the pressure of the air (ISO 2533) less what opens the valves",
        bound="at least",
    )


def _over_what(line: SuctionLine) -> Say:
    """The point that it has to lift over, where that is not the pump."""
    return say("") if line.highest == line.pump else say(" over the {top}", top=line.highest)


def _enough(dry: float, lift: float) -> bool:
    """Whether a lift leaves enough to spare: a little, or as much again where there is little to lift."""
    return dry - lift >= min(LITTLE, max(lift, 0.0)) - _TOUCH


def _most(dry: float) -> float:
    """The most that leaves enough to spare of what a pump can lift [m]."""
    return dry if dry < 0.0 else max(0.5 * dry, dry - LITTLE)


def _cure(supply: OutletSupply, dry: Priming) -> Say:
    """What makes the pump pull the water up with enough to spare; only what does."""
    line, can = dry.line, dry.dry
    assert can is not None
    if line.valves[0] and _enough(_dry(supply, line, valves=False).likely, dry.lift.likely):
        return say("Take the check valve out of the {run}, or put it behind the pump.", run=line.checked[0])
    water, most = float(line.water[0]), _most(can.likely)
    heights = {name: float(height[0]) - water for name, height in line.heights.items()}
    over_the_top = heights.pop(DIP_TUBE, most) > most + _TOUCH
    lift = max(heights.values())
    lower = _lower(line.pump, lift - most, supply.batch.plan.us)
    what = tuple(name for name, height in heights.items() if height > most + _TOUCH)
    given: dict[str, Given] = {"what": what, "lower": lower.rounded(2)}
    if over_the_top:
        bottom = "Draw from the bottom of the {tank} instead of over its top"
        if not what:
            return say(f"{bottom}.", tank=line.tank)
        return say(f"{bottom}, and put the {{what}} {{lower}} lower.", tank=line.tank, **given)
    rated = _rated(supply, dry)
    if rated.likely > MOST_RATED:
        return say("Put the {what} {lower} lower.", **given)
    told = "Put the {what} {lower} lower, or take a pump rated to lift {rated} or more."
    return say(told, rated=rated.rounded(2), **given)


def _lower(pump: str, least: float, us: bool) -> Number:
    """How much lower pump and line have to lie."""
    step = sold(us).height
    return stated(
        f"how much lower the {pump} and its suction line have to lie",
        math.ceil(least / step - _TOUCH) * step,
        LENGTH,
        "What is missing and a little to spare, rounded up.",
        facts=(("least", (least, LENGTH)),),
        source="geometry; to spare: common practice",
    ).keyed("pump", pump, "lower_by")


def _rated(supply: OutletSupply, dry: Priming) -> Number:
    """The dry lift at sea level with which a pump would do."""
    number = step(
        f"rated dry lift with which a pump lifts the water where the {dry.line.pump} stands",
        suction.rated_lift_needed,
        lift=dry.lift.values + np.clip(dry.lift.values, 0.0, LITTLE),
        surface_pressure=thinnest_air(supply),
        density=_density(supply),
        line_opening=SPRING_OPENS * dry.line.valves,
    )
    return number.keyed("pump", dry.line.pump, "rated_lift_needed", pairs=supply.pairs)


def priming_table(drawing: tuple[OutletSupply, ...]) -> Table:
    """What each pump has to lift while it is dry, and what it can.

    Parameters
    ----------
    drawing : tuple of OutletSupply
        An outlet behind each pump that draws through a suction line.

    Returns
    -------
    Table
        Without rows where no pump draws, or no height is decided.
    """
    known = [(supply.way.pump, dry) for supply in drawing if (dry := priming(supply)) is not None]
    return Table(
        "priming",
        say("Each pump while it is dry, the tank nearly empty, at the highest place."),
        (Column("pump"), Column("highest point over the water", LENGTH), Column("can lift", LENGTH)),
        tuple((pump, dry.lift.rounded(2), None if dry.dry is None else dry.dry.rounded(2)) for pump, dry in known),
    )
