"""What the outlets give while several are open together, by the whole network in one solve."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np

from vanwater.answers.answer import Column, Table
from vanwater.answers.finding import Finding, Verdict, judge
from vanwater.answers.outlet import UNSURE, OutletSupply
from vanwater.answers.spread import spread
from vanwater.answers.unfolding import Unfolding
from vanwater.answers.unsure import rows_of
from vanwater.answers.wording import Amount, Range, say
from vanwater.answers.working import Step, shown
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, SHARE
from vanwater.system.batch import Batch
from vanwater.system.network import Together, open_together

__all__ = ["OpenSet", "open_sets", "set_findings", "set_numbers", "set_table"]

MUCH = 0.4
"""Share of its flow that an outlet may lose to another before it is told (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class OpenSet:
    """What one set of outlets gives, open together.

    Parameters
    ----------
    name : str
        Name of the set.
    flow : mapping of str to Range
        Flow at each of its outlets.
    steps : mapping of str to Step
        The same with its working.
    """

    name: str
    flow: Mapping[str, Range]
    steps: Mapping[str, Step]


def open_sets(batch: Batch, outlets: Mapping[str, OutletSupply]) -> tuple[OpenSet, ...]:
    """Solve the sets of outlets that a plan says are open together.

    Parameters
    ----------
    batch : Batch
        The plan with its unsure inputs as rows, as each outlet alone was solved on.
    outlets : mapping of str to OutletSupply
        The outlets whose way is decided.

    Returns
    -------
    tuple of OpenSet
        Sets with an outlet that is not decided are left out.
    """
    sets = {name: one.outlets for name, one in batch.plan.together.items() if all(o in outlets for o in one.outlets)}
    if not sets:
        return ()
    pairs = rows_of(batch, UNSURE)
    solved = open_together(batch, list(sets.values()))
    found = []
    flows = spread(np.moveaxis(solved.flow, 0, 1), pairs, 0.0)
    for place, (name, opened) in enumerate(sets.items()):
        ranges = {o: flows.at((place, solved.outlets.index(o))).range(FLOW) for o in opened}
        found.append(OpenSet(name, ranges, Unfolding(partial(_steps, outlets, name, place, ranges, solved))))
    return tuple(found)


def _steps(
    outlets: Mapping[str, OutletSupply], name: str, place: int, ranges: Mapping[str, Range], solved: Together
) -> Mapping[str, Step]:
    """The working of every flow of a set."""
    steps = {}
    for outlet, flow in ranges.items():
        column = solved.outlets.index(outlet)
        steps[outlet] = shown(
            f"flow at the {outlet} with {name} open",
            flow,
            "The flows at which pressures and losses balance in the whole network, every row at once; the range "
            "combines what each unsure input moves, one at a time, by root-sum-square.",
            facts=[
                ("pressure before it", Amount(float(solved.pressure[place, 0, column]), PRESSURE)),
                *(
                    (f"pressure behind {pump}", Amount(float(pressure[place, 0]), PRESSURE))
                    for pump, pressure in solved.discharge.items()
                ),
                ("alone it gives", outlets[outlet].flow),
            ],
            residual=Amount(float(np.abs(solved.residual[place, 0])), PRESSURE_DIFFERENCE),
            value=solved.flow[place, :, column],
            source="Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor",
        )
    return steps


def set_findings(plan: Plan, outlets: Mapping[str, OutletSupply], sets: tuple[OpenSet, ...]) -> Iterator[Finding]:
    """The findings on outlets that share the pump.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlets : mapping of str to OutletSupply
        The outlets, each open alone.
    sets : tuple of OpenSet
        The same together.

    Yields
    ------
    Finding
        One for each outlet with a wish, or that loses much.
    """
    for one in sets:
        for outlet, flow in one.flow.items():
            alone = outlets[outlet].flow
            lost = 1.0 - flow.likely / alone.likely if alone.likely > 0 else 0.0
            wanted = plan.outlets[outlet].wanted
            verdict = judge(flow, Amount(wanted, FLOW), "at least") if wanted is not None else Verdict.FINE
            if wanted is None and lost > MUCH:
                verdict = Verdict.WATCH
            if verdict is Verdict.FINE and lost <= MUCH:
                continue
            others = tuple(other for other in one.flow if other != outlet)
            yield Finding(
                f"supply.together.{one.name}.{outlet}",
                verdict,
                say(
                    "With the {others} open too, the {outlet} gives {flow}, {lost} less than alone.",
                    others=others,
                    outlet=outlet,
                    flow=flow,
                    lost=Amount(lost, SHARE, 2),
                ),
                value=flow if wanted is not None else None,
                limit=Amount(wanted, FLOW) if wanted is not None else None,
                change=None
                if verdict is Verdict.FINE
                else say("Take a pump that gives more at that pressure, or outlets that take less."),
                address=f"together.{one.name}.outlets",
                source="balance of the whole network",
                bound="at least",
            )


def set_numbers(sets: tuple[OpenSet, ...]) -> dict[str, Step]:
    """The numbers of the sets by key.

    Parameters
    ----------
    sets : tuple of OpenSet
        The sets.

    Returns
    -------
    dict of str to Step
        "supply.together.SET.OUTLET".
    """
    return {f"supply.together.{one.name}.{outlet}": made for one in sets for outlet, made in one.steps.items()}


def set_table(outlets: Mapping[str, OutletSupply], sets: tuple[OpenSet, ...]) -> Table:
    """Flows alone and together, side by side.

    Parameters
    ----------
    outlets : mapping of str to OutletSupply
        The outlets, each open alone.
    sets : tuple of OpenSet
        The same together.

    Returns
    -------
    Table
        Without rows where no set is planned.
    """
    return Table(
        "together",
        say("Outlets that are open together."),
        (Column("open together"), Column("outlet"), Column("alone", FLOW), Column("together", FLOW)),
        tuple(
            (one.name, outlet, outlets[outlet].flow.amount, flow) for one in sets for outlet, flow in one.flow.items()
        ),
    )
