"""What keeps the water from freezing: heat by face, pads, hours without heat, the piece that freezes first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from vanwater.answers.core.cautions import ESTIMATE, FROST, MAINS_AND_BATTERY, PAD
from vanwater.answers.core.finding import Finding, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Given, Range, Say, say
from vanwater.answers.core.unsure import assumed
from vanwater.answers.frost.battery import PadsADay, battery_finding, pads_a_day
from vanwater.answers.frost.cold import Cold, cold_of, label_of
from vanwater.answers.frost.findings import run_finding, tank_finding
from vanwater.answers.frost.gaps import assumptions, gap_findings, no_cold, no_frost
from vanwater.answers.frost.pad_findings import pad_findings, protection
from vanwater.answers.frost.pads import PadFrost, pad_rows
from vanwater.answers.frost.pieces import TankFrost, tank_frost
from vanwater.answers.frost.runs import RunFrost, run_frost
from vanwater.answers.frost.sums import frost_sums
from vanwater.answers.frost.tables import frost_tables
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.model import Plan
from vanwater.quantities import TEMPERATURE

__all__ = ["Frost", "frost"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Frost(Answer):
    """The answer on frost.

    Parameters
    ----------
    tanks : tuple of TankFrost
        Tanks that can freeze or have a pad, the one that is held least or freezes soonest first.
    runs : tuple of RunFrost
        Exposed runs, the one that freezes soonest first.
    first : str
        Tank or run that freezes first without heat; empty where nothing freezes.
    first_hours : Range or None
        After what time; a tank by its last tenth.
    day : PadsADay or None
        What the counted pads take from the battery.
    design_cold : float or None
        The cold it is planned for [K].
    """

    tanks: tuple[TankFrost, ...] = ()
    runs: tuple[RunFrost, ...] = ()
    first: str = ""
    first_hours: Range | None = None
    day: PadsADay | None = None
    design_cold: float | None = None


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
        finding = no_cold() if design is None else no_frost(design)
        guarded = [protection(name, pad, label_of(pad.tank)) for name, pad in plan.pads.items()]
        return Frost(
            verdict=finding.statement,
            decided=design is not None,
            findings=worst_first([finding, *guarded]),
            cautions=(PAD, ESTIMATE) if plan.pads else (ESTIMATE,),
            design_cold=design,
        )
    cold = cold_of(plan)
    pads = pad_rows(cold)
    tanks = tuple(sorted((tank_frost(cold, name, pads.get(name)) for name in cold.tanks), key=_urgent))
    runs = tuple(sorted((run_frost(cold, place) for place in range(len(cold.runs))), key=lambda run: run.hours.likely))
    day = pads_a_day(cold, tanks)
    first, first_hours = _first(tanks, runs)
    cautions = (PAD,) * bool(plan.pads) + (FROST,) + (MAINS_AND_BATTERY,) * bool(plan.battery) + (ESTIMATE,)
    return Frost(
        verdict=_verdict(cold, tanks, first, first_hours),
        decided=bool(tanks or runs) or not cold.gaps,
        make_tables=partial(frost_tables, cold, tanks, runs),
        findings=worst_first(_findings(cold, tanks, runs, day)),
        make_numbers=partial(frost_sums, cold, tanks, day),
        assumptions=(*assumed(cold.unsure), *assumptions(cold)) if tanks or runs else tuple(assumptions(cold)),
        cautions=cautions,
        tanks=tanks,
        runs=runs,
        first=first,
        first_hours=first_hours,
        day=day,
        design_cold=design,
    )


def _urgent(one: TankFrost) -> tuple[int, float]:
    """Tanks with a pad first, the one held least; then by the hours of the last tenth."""
    return (0, -one.pad.holds.likely) if one.pad is not None else (1, one.hours["tenth"].likely)


def _first(tanks: tuple[TankFrost, ...], runs: tuple[RunFrost, ...]) -> tuple[str, Range | None]:
    pieces = [(run.run, run.hours) for run in runs] + [(tank.label, tank.hours["tenth"]) for tank in tanks]
    name, hours = min(pieces, key=lambda piece: piece[1].likely, default=("", None))
    return (name, hours) if hours is not None and np.isfinite(hours.likely) else ("", None)


def _findings(
    cold: Cold, tanks: tuple[TankFrost, ...], runs: tuple[RunFrost, ...], day: PadsADay | None
) -> Iterator[Finding]:
    for one in tanks:
        if one.pad is None:
            yield tank_finding(cold, one)
        else:
            yield from pad_findings(cold, one, one.pad)
    for name, pad in cold.plan.pads.items():
        yield protection(name, pad, label_of(pad.tank))
    if runs:
        yield run_finding(cold, runs[0])
    if cold.plan.pads:
        yield battery_finding(cold, day)
    yield from gap_findings(cold)


def _verdict(cold: Cold, tanks: tuple[TankFrost, ...], first: str, hours: Range | None) -> Say:
    at = Amount(float(cold.outside[0]), TEMPERATURE)
    if not tanks and not first:
        if cold.gaps or cold.bare:
            return say("How the water stands {cold} is not decided yet.", cold=at)
        return say("In {cold} all water lies in the heated room and does not freeze while it is heated.", cold=at)
    held = next((one for one in tanks if one.pad is not None and np.isfinite(one.pad.holds.likely)), None)
    ending = say(".")
    if hours is not None:
        piece = "the last tenth of the {piece}" if any(one.label == first for one in tanks) else "the {piece}"
        begun = "Without heat" if held is None else "; unheated,"
        after = hours if held is None else replace(hours.amount, digits=2)
        ending = say(f"{begun} {piece} freezes first, after {{hours}}.", piece=first, hours=after)
    if held is not None and held.pad is not None:
        return _held(cold, held, held.pad, ending)
    return ending if hours is not None else say("No water freezes in {cold}.", cold=at)


def _held(cold: Cold, one: TankFrost, pad: PadFrost, ending: Say) -> Say:
    """What the pads do for the tank that they hold least."""
    at, many = Amount(float(cold.outside[0]), TEMPERATURE), len(pad.pads) > 1
    given: dict[str, Given] = {
        "lowest": pad.holds,
        "driving": replace(pad.holds_driving.amount, digits=2),
        "tank": one.label,
        "ending": ending,
    }
    down = "down to {lowest} parked, {driving} driving{ending}"
    if pad.holds.likely <= at.value:
        return say(f"The {'pads hold' if many else 'pad holds'} the {{tank}} {down}", **given)
    return say(
        f"In {{cold}} the {'pads do' if many else 'pad does'} not hold the {{tank}}, only {down}", **given, cold=at
    )
