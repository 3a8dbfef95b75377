"""What keeps the water from freezing: heat by face, pads, the piece that freezes first with pads or heating off."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import TypeAlias

import numpy as np

from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.unsure import assumed
from vanwater.answers.frost.battery import PadsADay
from vanwater.answers.frost.cold import STATES, Cold, cold_of, lasting, pads_off
from vanwater.answers.frost.cold_rows import IN_WORDS
from vanwater.answers.frost.drained import drained_assumptions, drained_findings, drained_verdict, left_in_lines
from vanwater.answers.frost.findings import frost_findings
from vanwater.answers.frost.gaps import assumptions, gap_findings, no_frost
from vanwater.answers.frost.heating_off import HeatingOff, heating_off
from vanwater.answers.frost.off_findings import off_findings
from vanwater.answers.frost.pads import PadFrost, pads_in_cold
from vanwater.answers.frost.protection import protection
from vanwater.answers.frost.runs import RunFrost
from vanwater.answers.frost.tables import frost_tables
from vanwater.answers.frost.tank import TankFrost
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.model import Plan

__all__ = ["Frost", "frost"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Frost(Answer):
    """The answer on frost.

    Parameters
    ----------
    tanks : tuple of TankFrost
        Tanks that can freeze or have a pad, the one that is held least or freezes soonest first.
    pads : mapping of str to PadFrost
        The pads of each tank.
    runs : tuple of RunFrost
        Exposed runs, the one that freezes soonest first.
    first : str
        Tank, run or trap in a run that freezes first, pads off and the van heated; empty where nothing freezes.
    first_hours, first_blocked : Number or None
        After what time it is at 0 °C, and blocked; a tank by its last tenth.
    off : HeatingOff or None
        The van with the heating off; None where its room is not heated or nothing holds water.
    day : PadsADay or None
        What the pads that it feeds take from the battery.
    design_cold : Number or None
        The cold it is planned for, below freezing.
    """

    tanks: tuple[TankFrost, ...] = ()
    pads: Mapping[str, PadFrost] = field(default_factory=dict)
    runs: tuple[RunFrost, ...] = ()
    first: str = ""
    first_hours: Number | None = None
    first_blocked: Number | None = None
    off: HeatingOff | None = None
    day: PadsADay | None = None
    design_cold: Number | None = None


def frost(plan: Plan) -> Frost:
    """What a plan does in frost.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Frost
        What is not decided is told in the findings.
    """
    design = plan.frost.design_cold
    if design is None or design >= FREEZING_POINT:
        finding = no_frost(plan)
        guarded = [] if plan.water.drained else [protection(plan, name) for name in plan.pads]
        return Frost(
            verdict=finding.statement,
            decided=design is not None,
            findings=worst_first([finding, *guarded]),
        )
    if plan.water.drained:
        left = left_in_lines(plan)
        return Frost(
            verdict=drained_verdict(plan),
            findings=worst_first(drained_findings(plan)),
            make_numbers=lambda: (left,) if left is not None else (),
            assumptions=tuple(drained_assumptions(plan)),
        )
    cold = cold_of(plan)
    by_name = {name: TankFrost(cold, name) for name in cold.tanks}
    pads = pads_in_cold(cold, by_name)
    tanks = tuple(sorted(by_name.values(), key=lambda tank: _urgent(tank, pads.get(tank.tank))))
    exposed = (RunFrost(cold, run, cold.conductance[:, :, place]) for place, run in enumerate(cold.runs))
    runs = tuple(sorted(exposed, key=lambda run: run.hours["parked"].likely))
    fed = plan.battery is not None and any(pad.fed == "battery" for pad in plan.pads.values())
    day = PadsADay(cold, pads) if fed else None
    first, first_hours, first_blocked = _first(tanks, runs)
    off = heating_off(cold)
    unsure = assumed(one for one in cold.unsure if one.key not in IN_WORDS) if tanks or runs else ()
    return Frost(
        verdict=_verdict(cold, tanks, pads, (first, first_hours, first_blocked), off),
        decided=bool(tanks or runs) or not cold.gaps,
        make_tables=partial(frost_tables, cold, tanks, pads, runs, off),
        findings=worst_first(
            [
                *frost_findings(cold, tanks, pads, runs, day),
                *off_findings(cold, off, pads),
                *gap_findings(cold),
            ]
        ),
        make_numbers=partial(_unshown, tanks, pads, runs, off),
        assumptions=(*unsure, *assumptions(cold, off)),
        tanks=tanks,
        pads=pads,
        runs=runs,
        first=first,
        first_hours=first_hours,
        first_blocked=first_blocked,
        off=off,
        day=day,
        design_cold=cold.outside,
    )


def _urgent(tank: TankFrost, pad: PadFrost | None) -> tuple[int, float]:
    """Tanks with a pad first, the one held least; then by the hours of the last tenth."""
    if pad is not None and "parked" in pad.holds:
        return 0, -pad.holds["parked"].likely
    return 1, tank.hours["parked"]["tenth"].likely


First: TypeAlias = tuple[str, Number | None, Number | None]
"""What freezes first, when it is at 0 °C, when it is blocked."""


def _first(tanks: tuple[TankFrost, ...], runs: tuple[RunFrost, ...]) -> First:
    pieces = [(run.label, run.hours["parked"], run.blocked) for run in runs]
    pieces += [(tank.label, tank.hours["parked"]["tenth"], tank.blocked["tenth"]) for tank in tanks]
    if not pieces:
        return "", None, None
    first = min(pieces, key=lambda piece: piece[1].likely)
    return first if np.isfinite(first[1].likely) else ("", None, None)


def _unshown(
    tanks: tuple[TankFrost, ...],
    pads: Mapping[str, PadFrost],
    runs: tuple[RunFrost, ...],
    off: HeatingOff | None,
) -> Iterator[Number]:
    """What no table and no sentence shows, or shows in words: on the road, what is needed, what a wall holds."""
    for tank in tanks:
        yield from (hours for fills in tank.hours.values() for hours in fills.values())
        yield from (*(tank.needed[state] for state in STATES), tank.freezing, *tank.blocked.values(), tank.burst)
    for pad in pads.values():
        yield from (*(pad.duty[state] for state in pad.states), *pad.holds.values(), *pad.smallest.values())
    for run in runs:
        yield from (*run.hours.values(), run.blocked, run.burst, run.wall)
    if off is not None:
        yield from (off.time_constant, off.fall)
        for piece in off.pieces:
            yield from filter(None, (piece.freezing, piece.blocked, piece.burst))


def _verdict(
    cold: Cold, tanks: tuple[TankFrost, ...], pads: Mapping[str, PadFrost], first: First, off: HeatingOff | None
) -> Say:
    """What the van does heated, and what blocks first indoors with the heating off."""
    heated = _heated(cold, tanks, pads, first[0], first[2])
    if off is None or off.first is None:
        return heated
    return say(
        f"{heated.template} Heating off, the {{indoors}} blocks first indoors, after {{off}}.",
        **dict(heated.given),
        indoors=off.first.label,
        off=off.first.blocked.amount,
    )


def _heated(
    cold: Cold,
    tanks: tuple[TankFrost, ...],
    pads: Mapping[str, PadFrost],
    first: str,
    blocked: Number | None,
) -> Say:
    if not tanks and not first:
        if cold.gaps or cold.bare:
            return say("Whether the water comes through {cold} is not decided yet.", cold=cold.outside)
        return say(
            "In {cold} all water lies in the heated room and does not freeze while it is heated.", cold=cold.outside
        )
    padded = [tank for tank in tanks if tank.tank in pads and "parked" in pads[tank.tank].states]
    held = next((tank for tank in padded if np.isfinite(pads[tank.tank].holds["parked"].likely)), None)
    ending = say(".")
    if blocked is not None:
        begun, piece = "Van heated,", "the {piece}"
        if any(tank.label == first for tank in tanks):
            begun = f"{pads_off(cold.plan, True)}," if held is None else "; pads off,"
            piece = f"the last tenth of {piece}"
        elif held is not None:
            begun = "; no pad warms the pipes:"
        ending = say(
            f"{begun} {piece} freezes first, blocked after {{blocked}}.",
            piece=first,
            blocked=blocked.shown if held is None else lasting(blocked),
        )
    if held is not None:
        return _held(cold, held, pads[held.tank], ending)
    return ending if blocked is not None else say("No water freezes in {cold}.", cold=cold.outside)


def _held(cold: Cold, tank: TankFrost, pad: PadFrost, ending: Say) -> Say:
    """What the pads do for the tank that they hold least."""
    holds = pad.holds["parked"]
    given: dict[str, Given] = {
        "lowest": holds,
        "tank": tank.label,
        "ending": ending,
    }
    down = f"down to {{lowest}} {'at a socket' if pad.at_a_socket else 'parked'}{{ending}}"
    if "driving" in pad.holds:
        given["driving"] = pad.holds["driving"].rounded(2)
        down = down.replace("{ending}", ", {driving} driving{ending}")
    if holds.likely <= cold.outside.likely:
        return say(f"The {'pads hold' if pad.many else 'pad holds'} the {{tank}} {down}", **given)
    does = "pads do" if pad.many else "pad does"
    return say(f"In {{cold}} the {does} not hold the {{tank}}, only {down}", **given, cold=cold.outside)
