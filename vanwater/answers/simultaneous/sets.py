"""What the outlets give while several are open together, by the whole network in one solve.

The solve is made at once, with all sets, unsure inputs, remedies and settings of the mixing taps as its rows. What a
chart, a table or a sum wants of it is worked out when it is first asked for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import Influence, influences, spread
from vanwater.answers.core.statement import Range
from vanwater.answers.outlets.outlet import UNSURE, OutletSupply
from vanwater.answers.simultaneous.budget import Fastest, Pieces, fastest_run, set_budget
from vanwater.answers.simultaneous.gains import SetGain, set_gains
from vanwater.answers.simultaneous.pump import PumpPoint, pump_points
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.answers.simultaneous.wait import Waiting, set_run_off, set_waits
from vanwater.quantities import FLOW, PRESSURE
from vanwater.system.batch import Batch, Unsure
from vanwater.system.network import Case, solve_cases
from vanwater.system.remedies import Remedy, way_remedies
from vanwater.system.taps import LeftTap, left_tap, tap_cases

__all__ = ["OpenSet", "open_sets"]


@dataclass(frozen=True, eq=False)
class OpenSet:
    """What one set of outlets gives, open together.

    Parameters
    ----------
    name : str
        Name of the set.
    alone : mapping of str to OutletSupply
        Its outlets, each open alone.
    flow, pressure : mapping of str to Range
        Flow at each outlet and pressure before it.
    temperature : mapping of str to LeftTap
        Each mixed outlet: the temperature wanted, and the one that comes where its tap was set for it alone.
    weakest : str
        The outlet that falls furthest short of its wish; where none does, the one that keeps least of what it gives
        alone.
    rows : SetRows
        The solve.
    """

    name: str
    alone: Mapping[str, OutletSupply]
    flow: Mapping[str, Range]
    pressure: Mapping[str, Range]
    temperature: Mapping[str, LeftTap]
    weakest: str
    rows: SetRows

    @property
    def outlets(self) -> tuple[str, ...]:
        """The outlets that are open."""
        return tuple(self.flow)

    @cached_property
    def speed(self) -> Mapping[str, Fastest]:
        """Where the water runs fastest on the way to each outlet, and how fast in every run."""
        return {outlet: fastest_run(self.rows, outlet) for outlet in self.flow}

    @cached_property
    def budget(self) -> Pieces:
        """Where the pressure goes on the way to the weakest outlet."""
        return set_budget(self.rows, self.weakest)

    @cached_property
    def wait(self) -> Mapping[str, Waiting]:
        """How long each hot outlet waits, and what runs off meanwhile."""
        return set_waits(self.rows)

    @cached_property
    def run_off(self) -> Range | None:
        """Cooled water that runs off in all; None where no outlet is hot."""
        return set_run_off(self.rows)

    @cached_property
    def pumps(self) -> Mapping[str, PumpPoint]:
        """Where each pump works, what it draws and takes a day; empty where gravity drives the water."""
        return pump_points(self.rows)

    @cached_property
    def hangs_on(self) -> tuple[Influence, ...]:
        """What the weakest outlet's flow hangs on, most first."""
        return influences(self.rows.along(self.rows.solved.flows.outlet(self.weakest)), self.rows.unsure)

    @property
    def measure_first(self) -> Unsure:
        """The input that is worth measuring first."""
        return next(one for one in UNSURE if one.key == self.hangs_on[0].address)

    @cached_property
    def remedies(self) -> tuple[SetGain, ...]:
        """What would bring the weakest outlet more, most first."""
        return self.remedies_for(self.weakest)

    def remedies_for(self, outlet: str) -> tuple[SetGain, ...]:
        """What would bring one of its outlets more, most first."""
        return set_gains(self.rows, outlet)


def open_sets(batch: Batch, outlets: Mapping[str, OutletSupply]) -> tuple[OpenSet, ...]:
    """Solve the sets of outlets that a plan says are open together.

    Parameters
    ----------
    batch : Batch
        The plan with its unsure inputs and remedies as rows, as each outlet alone was solved on.
    outlets : mapping of str to OutletSupply
        The outlets whose way is decided.

    Returns
    -------
    tuple of OpenSet
        Sets with an outlet that is not decided are left out.
    """
    plan = batch.plan
    sets = {name: one.outlets for name, one in plan.together.items() if all(o in outlets for o in one.outlets)}
    if not sets:
        return ()
    unsure = [batch.place(f"{one.key} {end}") for one in UNSURE for end in ("low", "high")]
    tried = {outlet: way_remedies(plan, outlets[outlet].way) for opened in sets.values() for outlet in opened}
    cases: list[Case] = []
    laid: list[tuple[str, tuple[Remedy, ...], int, Sequence[int], dict[str, int]]] = []
    for name, opened in sets.items():
        remedies = {remedy.row.key: remedy for outlet in opened for remedy in tried[outlet]}
        rows = [0, *unsure, *(batch.place(key) for key in remedies)]
        first = len(cases)
        cases += [Case(opened, row) for row in rows]
        taps = {}
        for outlet in opened:
            found = tap_cases(batch, outlets[outlet].way, opened)
            if found:
                taps[outlet] = len(cases)
            cases += found
        laid.append((name, tuple(remedies.values()), first, rows, taps))
    solved = solve_cases(batch, cases)
    return tuple(
        _open_set(
            SetRows(name, batch, {o: outlets[o].way for o in sets[name]}, remedies, solved, first, rows), outlets, taps
        )
        for name, remedies, first, rows, taps in laid
    )


def _open_set(rows: SetRows, outlets: Mapping[str, OutletSupply], taps: Mapping[str, int]) -> OpenSet:
    flows = rows.solved.flows
    opened = list(rows.ways)
    values = np.stack([[flows.outlet(outlet), flows.at(outlet)] for outlet in opened])
    ranges = spread(rows.along(np.moveaxis(values, -1, 0)), rows.unsure, 0.0)
    flow = {outlet: ranges.at((place, 0)).range(FLOW) for place, outlet in enumerate(opened)}
    alone = {outlet: outlets[outlet] for outlet in opened}
    return OpenSet(
        rows.name,
        alone,
        flow,
        {outlet: ranges.at((place, 1)).range(PRESSURE) for place, outlet in enumerate(opened)},
        {outlet: left_tap(rows.batch, rows.ways[outlet], rows.solved, first) for outlet, first in taps.items()},
        min(opened, key=lambda outlet: _strength(flow[outlet], alone[outlet].flow, rows.plan.outlets[outlet].wanted)),
        rows,
    )


def _strength(flow: Range, alone: Number, wanted: float | None) -> tuple[bool, float]:
    """How an outlet stands: those short of their wish come first, then those that keep least of their own flow."""
    if wanted is not None and flow.likely < wanted:
        return False, flow.likely / wanted
    return True, flow.likely / max(alone.likely, 1e-12)
