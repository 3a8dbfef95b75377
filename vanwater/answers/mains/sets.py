"""What outlets that are open together give on the water of a campsite, by the whole network in one solve."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.key import key_text
from vanwater.answers.core.spread import spread
from vanwater.answers.core.statement import Amount, Range, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import Step, shown
from vanwater.answers.mains.inlet import mains_rows
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, Array
from vanwater.system.network import Case, solve_ways
from vanwater.system.ways import Way

__all__ = ["MainsSet", "sets_on_mains", "sets_on_mains_numbers", "sets_on_mains_table"]


@dataclass(frozen=True, slots=True, eq=False)
class MainsSet:
    """What one set of outlets gives on the mains.

    Parameters
    ----------
    name : str
        Name of the set.
    flow, pressure : mapping of str to Range
        Flow at each outlet and pressure before it.
    rows : mapping of str to array, shape (rows,)
        The same flows along the rows [m³/s].
    residual : float
        What the pressures fail to add up to in the plan's own row [Pa].
    """

    name: str
    flow: Mapping[str, Range]
    pressure: Mapping[str, Range]
    rows: Mapping[str, Array]
    residual: float


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
    sets = {name: one.outlets for name, one in plan.together.items() if all(outlet in fed for outlet in one.outlets)}
    if not sets:
        return ()
    batch, pairs = mains_rows(plan, ways[0].mains)
    cases = [Case(opened, row) for opened in sets.values() for row in range(len(batch))]
    used = {outlet: fed[outlet] for outlet in dict.fromkeys(o for opened in sets.values() for o in opened)}
    flows = solve_ways(batch, used, cases).flows
    found = []
    for place, (name, opened) in enumerate(sets.items()):
        own = slice(place * len(batch), (place + 1) * len(batch))
        flow = {outlet: flows.outlet(outlet)[own] for outlet in opened}
        before = {outlet: flows.at(outlet)[own] for outlet in opened}
        found.append(
            MainsSet(
                name,
                {outlet: spread(values, pairs, 0.0).range(FLOW) for outlet, values in flow.items()},
                {outlet: spread(values, pairs, 0.0).range(PRESSURE) for outlet, values in before.items()},
                flow,
                float(flows.residual[own][0]),
            )
        )
    return tuple(found)


def sets_on_mains_numbers(found: Sequence[MainsSet]) -> dict[str, Step]:
    """The flows of the sets on the mains by key.

    Parameters
    ----------
    found : sequence of MainsSet
        The sets.

    Returns
    -------
    dict of str to Step
        "set.SET.OUTLET.flow.mains".
    """
    return {
        key_text(("set", one.name, outlet, "flow", "mains")): shown(
            f"flow at the {outlet} on the mains with {one.name} open",
            flow,
            "The flows at which the pressure behind the regulator and all losses balance in the whole network, every "
            "row at once, the pump left out; the range combines what each unsure input moves, one at a time, by "
            "root-sum-square.",
            facts=[("pressure before it", one.pressure[outlet])],
            residual=Amount(abs(one.residual), PRESSURE_DIFFERENCE),
            value=np.asarray(one.rows[outlet]),
            source="Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor",
        )
        for one in found
        for outlet, flow in one.flow.items()
    }


def sets_on_mains_table(found: Sequence[MainsSet]) -> Table:
    """What the outlets of each set give on the mains.

    Parameters
    ----------
    found : sequence of MainsSet
        The sets.

    Returns
    -------
    Table
        Without rows where there is no inlet or no set.
    """
    return Table(
        "mains together",
        say("Outlets open together on a campsite's tap, instead of tank and pump."),
        (Column("open together"), Column("outlet"), Column("gives", FLOW), Column("pressure before it", PRESSURE)),
        tuple(
            (one.name, outlet, flow, one.pressure[outlet].amount) for one in found for outlet, flow in one.flow.items()
        ),
    )
