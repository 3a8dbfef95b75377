"""What the outlets give on the water of a campsite: each alone along its way, sets of them by the whole network."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import BORES, FITTINGS, OUTLETS, rows_of
from vanwater.answers.core.working import planned, stated
from vanwater.physics import series
from vanwater.plan.model import Plan
from vanwater.plan.pump import DROOP_AT
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, Array
from vanwater.system.batch import Batch, Unsure, low_and_high
from vanwater.system.network import Case, solve_ways
from vanwater.system.pump import mains_pressure
from vanwater.system.series import series_cases
from vanwater.system.ways import Way

__all__ = ["MainsSet", "OnMains", "mains_unsure", "on_mains", "sets_on_mains"]

DROOP = Unsure(
    "droops",
    "how far the regulator at the inlet lets its pressure fall",
    0.5,
    2.0,
    "Read a gauge behind the regulator with the taps shut and with one open.",
    "common practice; the fall-off that ASSE 1003 and EN 1567 ask to be told (from memory)",
)

LOSSES = "Darcy-Weisbach with Colebrook's friction factor; Crane, Flow of Fluids, TP-410, chapter 1"
NETWORK = "Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor"


@dataclass(frozen=True, slots=True, eq=False)
class OnMains:
    """What one outlet gives on the mains, open alone.

    Parameters
    ----------
    way : Way
        The runs from the inlet to it.
    flow, pressure : Number
        Flow at it and pressure before it.
    source : Number
        Pressure at the inlet, behind its regulator, with all taps shut.
    droop : Number or None
        How far the regulator lets it fall at that flow; None without one.
    """

    way: Way
    flow: Number
    pressure: Number
    source: Number
    droop: Number | None


@dataclass(frozen=True, slots=True, eq=False)
class MainsSet:
    """What one set of outlets gives on the mains.

    Parameters
    ----------
    name : str
        Name of the set.
    flow, pressure : mapping of str to Number
        Flow at each outlet and pressure before it.
    """

    name: str
    flow: Mapping[str, Number]
    pressure: Mapping[str, Number]


def mains_unsure(plan: Plan, ways: Sequence[Way]) -> tuple[Unsure, ...]:
    """What is never known well of outlets on the mains; of a campsite's tap the pressure from its least to its most.

    Parameters
    ----------
    plan : Plan
        The plan.
    ways : sequence of Way
        Ways from mains inlets; of several inlets the widest pressure counts.

    Returns
    -------
    tuple of Unsure
        The pump left out.
    """
    inlets = [plan.mains[inlet] for inlet in dict.fromkeys(way.mains for way in ways)]
    tap = Unsure(
        "mains",
        "the pressure of the campsite's tap",
        min(inlet.lowest / (0.5 * (inlet.lowest + inlet.highest)) for inlet in inlets),
        max(inlet.highest / (0.5 * (inlet.lowest + inlet.highest)) for inlet in inlets),
        "Read a gauge at the inlet while an outlet runs.",
        "the plan",
    )
    held = any(inlet.regulator is not None and inlet.regulator < inlet.highest for inlet in inlets)
    return (OUTLETS, FITTINGS, BORES, tap, DROOP) if held else (OUTLETS, FITTINGS, BORES, tap)


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
    told: dict[str, OnMains] = {}
    for inlet in dict.fromkeys(way.mains for way in ways):
        batch, pairs = _rows(plan, own := [way for way in ways if way.mains == inlet])
        source, cases = _source(batch, pairs, inlet), series_cases(batch, own)
        for case, solved in zip(cases, series.series_flows([case.physics for case in cases]), strict=True):
            told[case.way.outlet] = _alone(batch, case.way, pairs, source, solved)
    return {way.outlet: told[way.outlet] for way in ways}


def sets_on_mains(plan: Plan, ways: tuple[Way, ...]) -> tuple[MainsSet, ...]:
    """Solve the sets of outlets that a plan says are open together, fed from the mains instead of tank and pump.

    Parameters
    ----------
    plan : Plan
        The plan.
    ways : tuple of Way
        From :func:`vanwater.system.path_conditions.mains_ways`.

    Returns
    -------
    tuple of MainsSet
        Sets with an outlet that the mains does not feed are left out.
    """
    fed = {way.outlet: way for way in ways}
    sets = {name: each.outlets for name, each in plan.together.items() if all(outlet in fed for outlet in each.outlets)}
    if not sets:
        return ()
    used = {outlet: fed[outlet] for outlet in dict.fromkeys(outlet for opened in sets.values() for outlet in opened)}
    batch, pairs = _rows(plan, list(used.values()))
    cases = [Case(opened, row) for opened in sets.values() for row in range(len(batch))]
    flows = solve_ways(batch, used, cases).flows

    def own(place: int, outlet: str) -> tuple[Number, Number]:
        rows = slice(place * len(batch), (place + 1) * len(batch))
        left = abs(float(flows.residual[rows][0])), PRESSURE_DIFFERENCE
        name = list(sets)[place]
        pressure = stated(
            f"pressure before the {outlet} on the mains with {name} open",
            flows.at(outlet)[rows],
            PRESSURE,
            "Gauge pressure in the whole network just before the outlet.",
            residual=left,
            source=NETWORK,
        ).keyed("set", name, outlet, "pressure", "mains", pairs=pairs, least=0.0)
        flow = stated(
            f"flow at the {outlet} on the mains with {name} open",
            flows.outlet(outlet)[rows],
            FLOW,
            "The flows at which the pressure behind the regulator and all losses balance in the whole network, every "
            "row at once, the pump left out; the range combines what each unsure input moves, one at a time, by "
            "root-sum-square.",
            facts=(("pressure before it", pressure),),
            residual=left,
            source=NETWORK,
        ).keyed("set", name, outlet, "flow", "mains", pairs=pairs, least=0.0)
        return flow, pressure

    numbers = {name: {outlet: own(place, outlet) for outlet in sets[name]} for place, name in enumerate(sets)}
    return tuple(
        MainsSet(
            name,
            {outlet: flow for outlet, (flow, _) in each.items()},
            {outlet: pressure for outlet, (_, pressure) in each.items()},
        )
        for name, each in numbers.items()
    )


def _rows(plan: Plan, ways: Sequence[Way]) -> tuple[Batch, Sequence[UnsureRows]]:
    """The plan on the mains with its unsure inputs as rows, and where each stands."""
    unsure = mains_unsure(plan, ways)
    batch = Batch(plan, low_and_high(unsure))
    return batch, rows_of(batch, unsure)


def _source(batch: Batch, pairs: Sequence[UnsureRows], inlet: str) -> Number:
    at = f"mains.{inlet}"
    said = [field for field in ("lowest", "highest", "regulator") if batch.plan.at(f"{at}.{field}") is not None]
    return stated(
        f"pressure at the {inlet}",
        mains_pressure(batch, inlet),
        PRESSURE,
        "Half way between the least and the most of a campsite's tap, or what the regulator is set to where that is "
        "less, with all taps shut.",
        facts=tuple((field, planned(batch.plan, f"{at}.{field}", PRESSURE)) for field in said),
        source="the plan",
    ).keyed("mains", inlet, "pressure", pairs=pairs, least=0.0)


def _alone(batch: Batch, way: Way, pairs: Sequence[UnsureRows], source: Number, solved: series.SeriesFlow) -> OnMains:
    left = float(np.abs(solved.residual[0])), PRESSURE_DIFFERENCE
    droop = _droop(batch, way, pairs, solved.flow)
    fallen = [] if droop is None else [("lost in the regulator", droop)]
    pressure = stated(
        f"pressure before the {way.outlet} on the mains",
        solved.outlet_pressure,
        PRESSURE,
        "What is left of the pressure at the inlet after lift and losses.",
        facts=(("pressure at the inlet", source), *fallen),
        residual=left,
        source=LOSSES,
    ).keyed("outlet", way.outlet, "pressure", "mains", pairs=pairs, least=0.0)
    flow = stated(
        f"flow at the {way.outlet} on the mains",
        solved.flow,
        FLOW,
        "The flow at which the pressure behind the regulator and the lift equal all losses and the outlet's own, "
        "the pump left out, solved for every row at once; the range combines what each unsure input moves, one at "
        "a time, by root-sum-square.",
        facts=(("pressure at the inlet", source), ("pressure before it", pressure)),
        residual=left,
        source=LOSSES,
    ).keyed("outlet", way.outlet, "flow", "mains", pairs=pairs, least=0.0)
    return OnMains(way, flow, pressure, source, droop)


def _droop(batch: Batch, way: Way, pairs: Sequence[UnsureRows], flow: Array) -> Number | None:
    at = f"mains.{way.mains}"
    if batch.plan.mains[way.mains].regulator is None:
        return None
    return stated(
        f"what the regulator at the {way.mains} loses on the way to the {way.outlet}",
        batch.number(f"{at}.droop") * batch.factor("droops") * (flow / DROOP_AT) ** 2,
        PRESSURE_DIFFERENCE,
        "Its pressure falls while water flows, taken as the square of the flow.",
        facts=[("droop", planned(batch.plan, f"{at}.droop", PRESSURE_DIFFERENCE)), ("told at", (DROOP_AT, FLOW))],
        source=DROOP.source,
        note="A spring-loaded regulator falls sooner than that at small flows, and by more at flows above its own.",
    ).keyed("mains", way.mains, "droop", way.outlet, pairs=pairs, least=0.0)
