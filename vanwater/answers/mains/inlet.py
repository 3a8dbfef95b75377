"""What the outlets give on the water of a campsite, and what keeps it from tank and pump."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.key import key_text
from vanwater.answers.core.spread import UnsureRows, spread
from vanwater.answers.core.statement import Amount, Given, Range, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.unsure import BORES, FITTINGS, OUTLETS, rows_of
from vanwater.answers.core.working import Step, shown
from vanwater.physics import series
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE
from vanwater.system.batch import Batch, Unsure, low_and_high
from vanwater.system.compliance import CHECK_VALVES
from vanwater.system.pump import mains_pressure
from vanwater.system.series import series_cases
from vanwater.system.ways import Way, sources

__all__ = [
    "OnMains",
    "mains_findings",
    "mains_numbers",
    "mains_rows",
    "mains_table",
    "mains_unsure",
    "on_mains",
]

RULE = "common practice; local codes decide on back-flow protection"
SET_TO = 2.5e5
"""What a regulator at a van's inlet is commonly set to, Pa (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class OnMains:
    """What one outlet gives on the mains, open alone.

    Parameters
    ----------
    way : Way
        The runs from the inlet to it.
    flow, pressure : Range
        Flow at it and pressure before it.
    source : Range
        Pressure at the inlet, behind its regulator.
    solved : series.SeriesFlow
        The solve of all rows.
    """

    way: Way
    flow: Range
    pressure: Range
    source: Range
    solved: series.SeriesFlow


def on_mains(plan: Plan, ways: tuple[Way, ...]) -> dict[str, OnMains]:
    """Solve the ways from mains inlets to their outlets, the pressure of a campsite's tap unsure.

    Parameters
    ----------
    plan : Plan
        The plan.
    ways : tuple of Way
        From :func:`vanwater.system.path_conditions.mains_ways`.

    Returns
    -------
    dict of str to OnMains
        By outlet.
    """
    if not ways:
        return {}
    batch, pairs = mains_rows(plan, ways[0].mains)
    cases = series_cases(batch, ways)
    found = {}
    for case, solved in zip(cases, series.series_flows([case.physics for case in cases]), strict=True):
        given = mains_pressure(batch, case.way.mains)
        ranges = spread(np.stack([solved.flow, solved.outlet_pressure, given], axis=-1), pairs, 0.0)
        found[case.way.outlet] = OnMains(
            case.way,
            ranges.at(0).range(FLOW),
            ranges.at(1).range(PRESSURE),
            ranges.at(2).range(PRESSURE),
            solved,
        )
    return found


def mains_rows(plan: Plan, inlet: str) -> tuple[Batch, Sequence[UnsureRows]]:
    """The plan on the mains with its unsure inputs as rows.

    Parameters
    ----------
    plan : Plan
        The plan.
    inlet : str
        Its inlet.

    Returns
    -------
    tuple of Batch and sequence of UnsureRows
        The rows, and where each input stands.
    """
    unsure = mains_unsure(plan, inlet)
    batch = Batch(plan, low_and_high(unsure))
    return batch, rows_of(batch, unsure)


def mains_unsure(plan: Plan, inlet: str) -> tuple[Unsure, ...]:
    """What is never known well of an outlet on the mains; of a campsite's tap the pressure from its least to its most.

    Parameters
    ----------
    plan : Plan
        The plan.
    inlet : str
        Its inlet.

    Returns
    -------
    tuple of Unsure
        The pump left out.
    """
    known = plan.mains[inlet]
    middle = 0.5 * (known.lowest + known.highest)
    tap = Unsure(
        "mains",
        "the pressure of the campsite's tap",
        known.lowest / middle,
        known.highest / middle,
        "Read a gauge at the inlet while an outlet runs.",
        "the plan",
    )
    return OUTLETS, FITTINGS, BORES, tap


def mains_findings(plan: Plan, off_grid: Iterable[Way], piped: tuple[Way, ...]) -> Iterator[Finding]:
    """The findings on the inlets: regulator, back-flow, what keeps the mains from pump and tank.

    Parameters
    ----------
    plan : Plan
        The plan.
    off_grid : iterable of Way
        Ways from the tanks that are not broken.
    piped : tuple of Way
        From :func:`vanwater.system.path_conditions.mains_ways`.

    Yields
    ------
    Finding
        For each inlet that feeds an outlet.
    """
    tanks = {way.outlet: way for way in off_grid}
    for inlet in dict.fromkeys(way.mains for way in piped):
        ways = [way for way in piped if way.mains == inlet]
        yield _regulator(plan, inlet)
        yield from _back_flow(plan, inlet, [way.runs for way in ways])
        both = [(tanks[way.outlet], way) for way in ways if way.outlet in tanks]
        yield from _pump(plan, inlet, both)


def _regulator(plan: Plan, inlet: str) -> Finding:
    known = plan.mains[inlet]
    reliefs = {name: heater.relief for name, heater in plan.heaters.items() if heater.relief is not None}
    heater = min(reliefs, key=lambda name: reliefs[name], default="")
    comes = known.highest if known.regulator is None else min(known.regulator, known.highest)
    given: dict[str, Given] = {"inlet": inlet, "pressure": Amount(comes, PRESSURE)}
    drips = bool(heater) and comes >= reliefs[heater]
    if drips:
        told = say("{pressure} from the {inlet} opens the relief valve of the {heater}.", heater=heater, **given)
    elif known.regulator is None:
        told = say("The {inlet} has no regulator: a campsite's tap can bring {pressure}.", **given)
    else:
        told = say("The regulator at the {inlet} holds {pressure} on the mains.", **given)
    fine = known.regulator is not None and not drips
    return Finding(
        f"mains.{inlet}.regulator",
        Verdict.FINE if fine else Verdict.FAILS if drips else Verdict.WATCH,
        told,
        value=given["pressure"] if isinstance(given["pressure"], Amount) else None,
        limit=Amount(reliefs[heater], PRESSURE) if heater else None,
        change=None if fine else say("Fit a regulator set to {set}.", set=Amount(SET_TO, PRESSURE)),
        address=f"mains.{inlet}.regulator",
        source="common practice",
    )


def _back_flow(plan: Plan, inlet: str, ways: list[tuple[str, ...]]) -> Iterator[Finding]:
    shared = [run for run in ways[0] if all(run in other for other in ways)]
    if any(_checked(plan, run) for run in shared):
        return
    yield Finding(
        f"mains.{inlet}.back-flow",
        Verdict.FAILS,
        say(
            "No check valve keeps the van's water from flowing back through the {inlet} into the campsite's pipe.",
            inlet=inlet,
        ),
        change=say("Fit a check valve made for drinking water right behind the inlet."),
        address=f"runs.{ways[0][0]}.fittings",
        source=RULE,
    )


def _pump(plan: Plan, inlet: str, both: list[tuple[Way, Way]]) -> Iterator[Finding]:
    told: set[str] = set()
    set_to = plan.mains[inlet].regulator
    for way, mains in both:
        tank = way.tank
        pump = way.pump if way.pump in sources(plan, way)[1] else ""
        piece = pump or tank
        if piece in told:
            continue
        told.add(piece)
        key = f"mains.{inlet}.{piece}"
        alone = [run for run in way.runs if run not in mains.runs]
        if not any(_checked(plan, run) for run in alone):
            holds = bool(pump) and plan.pumps[pump].kind != "submersible"
            yield Finding(
                key,
                Verdict.WATCH if holds else Verdict.FAILS,
                say("Only the {pump}'s own valves keep the mains from the {tank}.", pump=pump, tank=tank)
                if holds
                else say(
                    "Nothing keeps the mains of the {inlet} from running back into the {tank}.", inlet=inlet, tank=tank
                ),
                change=say("Fit a check valve between it and where the mains joins; switch the pump off on the mains."),
                address=f"runs.{alone[-1]}.fittings" if alone else f"tanks.{tank}",
                source=RULE,
            )
        start = plan.pumps[pump].cut_in if pump else None
        if start is not None and set_to is not None and set_to < start:
            limit = Amount(start, PRESSURE)
            yield Finding(
                f"{key}.starts",
                Verdict.WATCH,
                say(
                    "On the mains the {pump} runs along: {set} lies below its cut-in.",
                    set=Amount(set_to, PRESSURE),
                    pump=pump,
                ),
                value=Amount(set_to, PRESSURE),
                limit=limit,
                change=say("Switch it off on the mains."),
                address=f"mains.{inlet}.regulator",
                source="common practice",
                bound="at least",
            )


def _checked(plan: Plan, run: str) -> bool:
    return any(count and kind in CHECK_VALVES for kind, count in plan.runs[run].fittings.items())


def mains_numbers(found: Mapping[str, OnMains]) -> dict[str, Step]:
    """The flows on the mains by key.

    Parameters
    ----------
    found : mapping of str to OnMains
        What the outlets give on the mains.

    Returns
    -------
    dict of str to Step
        "outlet.OUTLET.flow.mains".
    """
    return {
        key_text(("outlet", outlet, "flow", "mains")): shown(
            f"flow at the {outlet} on the mains",
            one.flow,
            "The flow at which the pressure behind the regulator and the lift equal all losses and the outlet's own, "
            "the pump left out, solved for every row at once; the range combines what each unsure input moves, one at "
            "a time, by root-sum-square.",
            facts=[("pressure at the inlet", one.source), ("pressure before it", one.pressure)],
            residual=Amount(float(np.abs(one.solved.residual[0])), PRESSURE_DIFFERENCE),
            value=one.solved.flow,
            source="Darcy-Weisbach with Colebrook's friction factor; Crane, Flow of Fluids, TP-410, chapter 1",
        )
        for outlet, one in found.items()
    }


def mains_table(found: Mapping[str, OnMains]) -> Table:
    """What each outlet gives on the mains.

    Parameters
    ----------
    found : mapping of str to OnMains
        What the outlets give on the mains.

    Returns
    -------
    Table
        Without rows where there is no inlet.
    """
    return Table(
        "mains",
        say("Each outlet open alone on a campsite's tap, instead of tank and pump."),
        (
            Column("outlet"),
            Column("gives", FLOW),
            Column("pressure before it", PRESSURE),
            Column("at the inlet", PRESSURE),
        ),
        tuple((outlet, one.flow, one.pressure.amount, one.source.amount) for outlet, one in found.items()),
    )
