"""Every outlet of a plan open alone, solved once for all who ask.

Each along its way from the tank: a series of runs with a hot and a cold leg that join at the mixing tap, all unsure
inputs and all remedies rows of one solve.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from vanwater.answers.outlets.outlet import UNSURE, OutletSupply
from vanwater.physics import series
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, low_and_high
from vanwater.system.path_conditions import missing
from vanwater.system.remedies import way_remedies
from vanwater.system.series import series_cases
from vanwater.system.ways import Way, way_to

__all__ = ["Alone", "outlets_alone"]


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
        case.way.outlet: OutletSupply(batch=batch, case=case, solved=solved, tried=tried)
        for case, solved, tried in zip(cases, flows, remedies.values(), strict=True)
    }
    return Alone(batch, ways, gaps, outlets)
