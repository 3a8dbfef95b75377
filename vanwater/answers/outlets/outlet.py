"""One outlet open alone: what it gives, where the pressure goes, what the flow hangs on, what would help."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
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
from vanwater.system.path_conditions import missing
from vanwater.system.remedies import Remedy, way_remedies
from vanwater.system.series import SeriesCase, series_cases
from vanwater.system.ways import Way, way_to

__all__ = ["UNSURE", "Alone", "Gain", "OutletSupply", "Piece", "outlets_alone"]

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


@dataclass(frozen=True, slots=True, eq=False)
class Alone:
    """Every outlet of a plan open alone, all unsure inputs and all remedies rows of one solve.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    ways : mapping of str to Way
        The way to each outlet, broken ones too.
    gaps : mapping of str to tuple of str
        Addresses that are not decided on the way to an outlet.
    outlets : mapping of str to OutletSupply
        Those whose way is whole and decided.
    """

    batch: Batch
    ways: Mapping[str, Way]
    gaps: Mapping[str, tuple[str, ...]]
    outlets: Mapping[str, OutletSupply]


def outlets_alone(plan: Plan) -> Alone:
    """Solve the ways to outlets for a plan, its unsure inputs and all remedies, once for all who ask.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Alone
        The batch, and what each outlet gives when it is open alone.
    """
    return plan.once("outlets alone", lambda: _alone(plan))


def _alone(plan: Plan) -> Alone:
    ways = {name: way_to(plan, name) for name in plan.outlets}
    gaps = {name: () if way.broken else missing(plan, way) for name, way in ways.items()}
    remedies = {way: way_remedies(plan, way) for name, way in ways.items() if not way.broken and not gaps[name]}
    rows = {remedy.row.key: remedy.row for tried in remedies.values() for remedy in tried}
    batch = Batch(plan, [*low_and_high(UNSURE), *rows.values()])
    cases = series_cases(batch, list(remedies))
    flows = series.series_flows([case.physics for case in cases])
    outlets = {
        case.way.outlet: _outlet(plan, batch, case, solved, tried)
        for case, solved, tried in zip(cases, flows, remedies.values(), strict=True)
    }
    return Alone(batch, ways, gaps, outlets)


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
