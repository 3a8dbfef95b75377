"""One set of open outlets in the solve of all sets: its cases among the others, its numbers along the batch's rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import rows_of
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.network import Solved
from vanwater.system.remedies import Remedy
from vanwater.system.ways import Way

__all__ = ["SetRows"]


@dataclass(frozen=True, slots=True, eq=False)
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
    solved : Solved
        The cases of all sets.
    first : int
        Case of the set in the plan's own row.
    rows : sequence of int
        Rows of the batch that were solved for it, in the order of their cases.
    """

    name: str
    batch: Batch
    ways: Mapping[str, Way]
    remedies: tuple[Remedy, ...]
    solved: Solved
    first: int
    rows: Sequence[int]

    @property
    def plan(self) -> Plan:
        """The plan that was asked."""
        return self.batch.plan

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
        found = np.repeat(values[self.first : self.first + 1], len(self.batch), axis=0)
        found[list(self.rows)] = values[self.first : self.first + len(self.rows)]
        return found

    def now(self, values: Array) -> float:
        """A value in the plan's own row."""
        return float(values[self.first])
