"""One outlet open alone: what it gives, where the pressure goes, what the flow hangs on, what would help."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from vanwater.answers.core.spread import Influence, UnsureRows, influences, spread
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.core.unsure import BORES, FITTINGS, OUTLETS, PUMPS, rows_of
from vanwater.physics import series
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import BORE, FLOW, PRESSURE, VOLTAGE
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.remedies import Remedy, way_remedies
from vanwater.system.series import SeriesCase, series_cases
from vanwater.system.ways import Way

__all__ = ["UNSURE", "Gain", "OutletSupply", "Piece", "outlet_supplies"]

UNSURE = (OUTLETS, PUMPS, FITTINGS, BORES)
WORTH_TELLING = 0.02
"""Share of the flow that a remedy must gain to be told."""


@dataclass(frozen=True, slots=True)
class Piece:
    """What one piece of the way takes of the pressure.

    Parameters
    ----------
    label : str
        Run, "lift" or the outlet.
    kind : str
        "run", "throttled leg", "valve", "lift", "outlet".
    address : str
        Where in the plan.
    loss : float
        Pressure it takes [Pa]; a lift down gives.
    """

    label: str
    kind: str
    address: str
    loss: float


@dataclass(frozen=True, slots=True)
class Gain:
    """A remedy and what it would bring.

    Parameters
    ----------
    remedy : Remedy
        The change.
    flow : float
        More flow at the outlet [m³/s].
    """

    remedy: Remedy
    flow: float

    @property
    def words(self) -> Say:
        """The change in words."""
        remedy = self.remedy
        if remedy.kind == "bends":
            return say("Lay sweep bends instead of {count} elbows.", count=str(remedy.now))
        if remedy.kind == "filter":
            return say("Filter only the drinking tap instead of the {run}.", run=remedy.piece)
        if remedy.kind == "clean":
            return say("Clean the strainer or filter of the {run}.", run=remedy.piece)
        if remedy.kind == "volts":
            return say(
                "Give the pump {then} instead of {now} by a thicker cable.",
                then=Amount(float(remedy.then), VOLTAGE),
                now=Amount(float(remedy.now), VOLTAGE),
            )
        if isinstance(remedy.then, str):
            return say("Take {then} for the {run}.", then=remedy.then, run=remedy.piece)
        return say("Take {then} bore for the {run}.", then=Amount(remedy.then, BORE), run=remedy.piece)


@dataclass(frozen=True, slots=True, eq=False)
class OutletSupply:
    """What one outlet gives when it is open alone.

    Parameters
    ----------
    outlet : str
        Its name.
    way : Way
        The runs that lead to it.
    flow, pressure : Range
        Flow at it and pressure before it.
    budget : tuple of Piece
        Where the pump's pressure goes, in the order of the flow.
    rise, discharge : float
        Pressure rise across the pump and gauge pressure behind it [Pa].
    cycles : bool or None
        Whether the pump's switch stops it while the outlet is open; None where no switch is decided.
    reaches : bool
        Whether water reaches it at all.
    influences : tuple of Influence
        What the flow hangs on, most first.
    gains : tuple of Gain
        What would bring more flow, most first.
    case : SeriesCase
        The numbers of the way.
    solved : series.SeriesFlow
        The solve of all rows.
    """

    outlet: str
    way: Way
    flow: Range
    pressure: Range
    budget: tuple[Piece, ...]
    rise: float
    discharge: float
    cycles: bool | None
    reaches: bool
    influences: tuple[Influence, ...]
    gains: tuple[Gain, ...]
    case: SeriesCase
    solved: series.SeriesFlow


def outlet_supplies(plan: Plan, ways: Iterable[Way]) -> tuple[Batch, dict[str, OutletSupply]]:
    """Solve the ways to outlets for the plan, its unsure inputs and all remedies, on one batch.

    Parameters
    ----------
    plan : Plan
        The plan.
    ways : iterable of Way
        Ways that are not broken and lack nothing.

    Returns
    -------
    tuple of Batch and dict of str to OutletSupply
        The batch, and what each outlet gives when it is open alone.
    """
    remedies = {way: way_remedies(plan, way) for way in ways}
    rows = {remedy.row.key: remedy.row for found in remedies.values() for remedy in found}
    batch = Batch(plan, [*low_and_high(UNSURE), *rows.values()])
    cases = series_cases(batch, list(remedies))
    flows = series.series_flows([case.physics for case in cases])
    return batch, {
        case.way.outlet: _outlet(plan, batch, case, solved, found)
        for case, solved, found in zip(cases, flows, remedies.values(), strict=True)
    }


def _outlet(
    plan: Plan, batch: Batch, case: SeriesCase, solved: series.SeriesFlow, remedies: Iterable[Remedy]
) -> OutletSupply:
    way = case.way
    pairs = [_called(plan, way, one) for one in rows_of(batch, UNSURE)]
    gains = [Gain(remedy, float(solved.flow[batch.place(remedy.row.key)] - solved.flow[0])) for remedy in remedies]
    cut_out = plan.pumps[way.pump].cut_out if way.pump else None
    discharge = float(solved.discharge_pressure[0])
    ranges = spread(np.stack([solved.flow, solved.outlet_pressure], axis=-1), pairs, 0.0)
    return OutletSupply(
        way.outlet,
        way,
        ranges.at(0).range(FLOW),
        ranges.at(1).range(PRESSURE),
        tuple(_budget(way, case, solved)),
        float(solved.pump_rise[0]),
        discharge,
        None if cut_out is None else discharge > cut_out,
        bool(solved.reaches[0]),
        influences(solved.flow, pairs),
        tuple(
            sorted((gain for gain in gains if gain.flow > WORTH_TELLING * solved.flow[0]), key=lambda gain: -gain.flow)
        ),
        case,
        solved,
    )


def _called(plan: Plan, way: Way, one: UnsureRows) -> UnsureRows:
    """An unsure input by its name on this way: of a pump that is worked by hand it is the strokes."""
    by_hand = one.address == PUMPS.key and way.pump and plan.pumps[way.pump].kind in BY_HAND
    return replace(one, name="how fast the pump is worked") if by_hand else one


def _budget(way: Way, case: SeriesCase, solved: series.SeriesFlow) -> Iterator[Piece]:
    losses = solved.losses[0]
    places = {run: place for place, run in enumerate(way.runs)}
    hot = sum(losses[places[run]] for run in way.hot)
    cold = sum(losses[places[run]] for run in way.cold)
    governing = way.hot if hot >= cold else way.cold
    for run in way.runs:
        if (run in way.hot or run in way.cold) and run not in governing:
            continue
        yield Piece(run, "run", f"runs.{run}", float(losses[places[run]]))
    valve = float(solved.valve_loss[0])
    if valve > 0.0:
        yield Piece(way.mixer, "valve", f"mixers.{way.mixer}", valve)
    physics = case.physics
    lift = -float(np.asarray(physics.lift(physics.surface_height, physics.outlet_height)).ravel()[0])
    yield Piece("lift", "lift", f"outlets.{way.outlet}.z", lift)
    yield Piece(way.outlet, "outlet", f"outlets.{way.outlet}", float(solved.outlet_pressure[0]))
