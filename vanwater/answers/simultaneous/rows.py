"""One set of open outlets in the solve of all sets: its cases among the others, its numbers along the batch's rows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import rows_of
from vanwater.answers.core.working import Part, stated
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.answers.simultaneous.cycling import Cycled, cycled
from vanwater.plan.model import Plan
from vanwater.quantities import PRESSURE_DIFFERENCE, Array, Quantity
from vanwater.system.batch import Batch
from vanwater.system.network import Case, Solved, solve_cases
from vanwater.system.remedies import Remedy, way_remedies
from vanwater.system.taps import LeftTap, left_tap, tap_cases
from vanwater.system.ways import Way

__all__ = ["NETWORK", "SetRows", "solved_sets"]

NETWORK = "Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor"


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SetRows:
    """What was solved for one set.

    Parameters
    ----------
    name : str
        Name of the set.
    batch : Batch
        The plan with its unsure inputs and remedies as rows.
    ways : mapping of str to Way
        The ways to the outlets of the set.
    remedies : tuple of Remedy
        Changes that were tried on the set.
    cycling : Cycled
        The cases of all sets, at the moment of their mean where a pump cycles.
    first : int
        Case of the set in the plan's own row.
    rows : sequence of int
        Rows of the batch that were solved for it, in the order of their cases.
    taps : mapping of str to LeftTap
        What comes at each mixed outlet whose tap was set for it alone.
    """

    name: str
    batch: Batch
    ways: Mapping[str, Way]
    remedies: tuple[Remedy, ...]
    cycling: Cycled
    first: int
    rows: Sequence[int]
    taps: Mapping[str, LeftTap]

    @property
    def plan(self) -> Plan:
        """The plan that was asked."""
        return self.batch.plan

    @property
    def solved(self) -> Solved:
        """The cases of all sets."""
        return self.cycling.solved

    @property
    def unsure(self) -> Sequence[UnsureRows]:
        """Rows of the unsure inputs."""
        return rows_of(self.batch, UNSURE)

    @property
    def residual(self) -> float:
        """What the pressures fail to add up to in the plan's own row [Pa]."""
        return float(self.solved.flows.residual[self.first])

    def along(self, values: Array) -> Array:
        """Values of the cases along the rows of the batch; a row that was not solved is the plan's own."""
        laid = np.repeat(values[self.first : self.first + 1], len(self.batch), axis=0)
        laid[list(self.rows)] = values[self.first : self.first + len(self.rows)]
        return laid

    def with_ends(self, values: Array, low: float, high: float) -> tuple[Array, int]:
        """Values with two rows more, in which one more input is unsure, and the place of the first of them."""
        place = self.batch.designs.start  # the designs stay the last rows
        return np.insert(values, place, (low, high)), place

    def now(self, values: Array) -> float:
        """A value in the plan's own row."""
        return float(values[self.first])

    def number(
        self,
        what: str,
        values: Array,
        quantity: Quantity,
        method: str,
        *key: str,
        parts: Sequence[Part] | Callable[[], Sequence[Part]] = (),
        facts: Sequence[Part] | Callable[[], Sequence[Part]] = (),
        source: str = NETWORK,
        least: float = 0.0,
        within: float | None = None,
    ) -> Number:
        """A number of the set, along the rows of the batch.

        Parameters
        ----------
        what : str
            What it is called, without the set.
        values : array, shape (rows,)
            One number a row of the batch [SI].
        quantity : Quantity
            What it is a number of.
        method : str
            How it was found.
        *key : str
            What it belongs to in the set, and its quantity.
        parts, facts : sequence of (label, number), or what gives it
            What adds up to it, and what else belongs beside it.
        source : str
            Published source.
        least : float
            What it cannot fall below [SI].
        within : float, optional
            What its parts may fail to add up to; what the solve left unbalanced without it [Pa].

        Returns
        -------
        Number
            Its range combines what each unsure input moves.
        """
        left = self.residual if within is None and source == NETWORK else within
        return stated(
            f"{what} with {self.name} open",
            values,
            quantity,
            method,
            parts=parts,
            facts=facts,
            residual=None if left is None else (left, PRESSURE_DIFFERENCE),
            source=source,
        ).keyed("set", self.name, *key, pairs=self.unsure, least=least)


def solved_sets(batch: Batch, ways: Mapping[str, Way]) -> Iterator[SetRows]:
    """Solve the sets of outlets that a plan says are open together, all in one solve.

    Parameters
    ----------
    batch : Batch
        The plan with its unsure inputs and remedies as rows, as each outlet alone was solved on.
    ways : mapping of str to Way
        The ways to the outlets that are decided.

    Yields
    ------
    SetRows
        All sets, unsure inputs, remedies and settings of the mixing taps are rows of the solve. Sets with an outlet
        that is not decided are left out.
    """
    plan = batch.plan
    sets = {
        name: each.outlets for name, each in plan.together.items() if all(outlet in ways for outlet in each.outlets)
    }
    if not sets:
        return
    unsure = [batch.place(f"{each.key} {end}") for each in UNSURE for end in ("low", "high")]
    tried = {outlet: way_remedies(plan, ways[outlet]) for opened in sets.values() for outlet in opened}
    cases: list[Case] = []
    laid: list[tuple[str, tuple[Remedy, ...], int, Sequence[int], dict[str, int]]] = []
    for name, opened in sets.items():
        remedies = {remedy.row.key: remedy for outlet in opened for remedy in tried[outlet]}
        rows = [0, *unsure, *(batch.place(key) for key in remedies), *batch.designs]
        first = len(cases)
        cases += [Case(opened, row) for row in rows]
        taps = {}
        for outlet in opened:
            at_shares = tap_cases(batch, ways[outlet], opened)
            if at_shares:
                taps[outlet] = len(cases)
            cases += at_shares
        laid.append((name, tuple(remedies.values()), first, rows, taps))
    cycling = cycled(batch, ways, cases, solve_cases(batch, cases))
    for name, changes, first, solved_rows, taps in laid:
        yield SetRows(
            name=name,
            batch=batch,
            ways={outlet: ways[outlet] for outlet in sets[name]},
            remedies=changes,
            cycling=cycling,
            first=first,
            rows=solved_rows,
            taps={outlet: left_tap(batch, ways[outlet], cycling.solved, place) for outlet, place in taps.items()},
        )
