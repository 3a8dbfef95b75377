"""Hose and pipe by size: what the runs take, what to order."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.physics.cutting import order_length
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.sold import sold
from vanwater.quantities import BORE, LENGTH, SHARE
from vanwater.system.batch import Batch

__all__ = ["MORE", "SPARE", "Size", "runs_by_size", "size_of"]

SPARE = 0.1
"""Share more than the runs take, for cuts and for what is cut wrong (common practice)."""

MORE = limit("more for cuts", SPARE, SHARE, "common practice")
"""The same as a number that is told."""

_AS_PLANNED = "lengths as planned"


class Size:
    """A size of hose or pipe, with the runs that are cut from it.

    Parameters
    ----------
    batch : Batch
        The plan and its rows.
    name : str
        Key of the stock size; the bore in words where no stock size is named.
    runs : sequence of str
        Those whose length is decided.
    """

    def __init__(self, batch: Batch, name: str, runs: Sequence[str]) -> None:
        self.name, self.runs, self._batch = name, tuple(runs), batch

    @cached_property
    def cut(self) -> Number:
        """What the runs take, end to end."""
        addresses = [joined(("runs", run, "length")) for run in self.runs]
        return stated(
            f"{self.name} in the runs",
            sum(self._batch.number(address) for address in addresses),
            LENGTH,
            "The runs of this size add up.",
            parts=[(run, self.length(run)) for run in self.runs],
            source="lengths of the plan",
        ).keyed("size", self.name, "cut", exact=_AS_PLANNED)

    @cached_property
    def order(self) -> Number:
        """What to order of it."""
        step_of = sold(self._batch.plan.us).cut
        return step(
            f"{self.name} to order",
            order_length,
            pieces=self.cut,
            spare=MORE,
            step=limit("step in which it is sold", step_of, LENGTH, "common practice"),
        ).keyed("size", self.name, "order", exact=_AS_PLANNED)

    def length(self, run: str) -> Number:
        """How long a run is."""
        return planned(self._batch.plan, joined(("runs", run, "length")), LENGTH)


def runs_by_size(batch: Batch) -> tuple[Size, ...]:
    """The runs of a plan by what they are cut from.

    Parameters
    ----------
    batch : Batch
        The plan and its rows.

    Returns
    -------
    tuple of Size
        In the order in which the plan first names them; runs without a size or a length are left out.
    """
    by_size: dict[str, list[str]] = {}
    for name in batch.plan.runs:
        size = size_of(batch.plan, name)
        if size and batch.plan.runs[name].length is not None:
            by_size.setdefault(size, []).append(name)
    return tuple(Size(batch, size, runs) for size, runs in by_size.items())


def size_of(plan: Plan, name: str) -> str:
    """What a run is cut from, in words; empty while nothing says it."""
    run = plan.runs[name]
    if run.size:
        return run.size
    return f"bore {BORE.written(run.bore, False)}" if run.bore is not None else ""
