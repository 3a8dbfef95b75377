"""Every outlet of a plan open alone, solved once for all who ask.

Each along its way from the tank: a series of runs with a hot and a cold leg that join at the mixing tap, the unsure
inputs and the remedies on that way rows of its solve. Outlets that are open together have all their rows in common, so
that what each gives can be compared; any other has rows of its own, else a van of many outlets grows with their cube.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from vanwater.answers.outlets.outlet import UNSURE, OutletSupply
from vanwater.physics import series
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.path_conditions import missing
from vanwater.system.remedies import Remedy, way_remedies
from vanwater.system.series import series_cases
from vanwater.system.ways import Way, way_to

__all__ = ["Alone", "outlets_alone"]


@dataclass(frozen=True, slots=True, eq=False)
class Alone:
    """Every outlet of a plan open alone.

    Parameters
    ----------
    batch : Batch
        The plan with the rows of those outlets that are open together with others.
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
    """Solve the ways to outlets for a plan, its unsure inputs and the remedies, once for all who ask.

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
    tried = {name: way_remedies(plan, way) for name, way in ways.items() if not way.broken and not gaps[name]}
    together = {outlet for each in plan.together.values() for outlet in each.outlets}
    shared = [name for name in tried if name in together]
    batch = _batch(plan, tried, shared)
    outlets = _solved(batch, ways, tried, shared)
    for name in tried:
        if name not in together:
            outlets |= _solved(_batch(plan, tried, [name]), ways, tried, [name])
    return Alone(batch, ways, gaps, {name: outlets[name] for name in tried})


def _batch(plan: Plan, tried: Mapping[str, tuple[Remedy, ...]], names: Iterable[str]) -> Batch:
    """The plan with its unsure inputs, and the remedies of some outlets."""
    rows = {remedy.row.key: remedy.row for name in names for remedy in tried[name]}
    return Batch(plan, [*low_and_high(UNSURE), *rows.values()])


def _solved(
    batch: Batch, ways: Mapping[str, Way], tried: Mapping[str, tuple[Remedy, ...]], names: Sequence[str]
) -> dict[str, OutletSupply]:
    cases = series_cases(batch, [ways[name] for name in names])
    flows = series.series_flows([case.physics for case in cases])
    return {
        name: OutletSupply(batch=batch, case=case, solved=solved, tried=tried[name])
        for name, case, solved in zip(names, cases, flows, strict=True)
    }
