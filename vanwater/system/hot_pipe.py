"""The pipe between the heater and an outlet: what runs off before hot water arrives, and what does not need to."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from vanwater.physics import vessel
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.hot_line import brought_to
from vanwater.system.supply import run_bore
from vanwater.system.ways import way_to

__all__ = ["brought_pipe", "comes_hot", "hot_pipe", "pipe_content"]


def hot_pipe(plan: Plan, outlet: str) -> tuple[str, ...]:
    """The runs between the heater and the mixing tap or outlet: what runs off before hot water arrives.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str
        Name of the outlet.

    Returns
    -------
    tuple of str
        In the order of the flow; empty where no heater is on the way. Where a run-back line or a ring brings the hot
        water nearer, the runs from there on.
    """
    pipe = _whole_hot_pipe(plan, outlet)
    return pipe[_brought(plan, pipe) :]


def brought_pipe(plan: Plan, outlet: str) -> tuple[str, ...]:
    """The runs behind the heater whose cooled water does not run off: it goes back to the tank or round a ring.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str
        Name of the outlet.

    Returns
    -------
    tuple of str
        In the order of the flow; they end where :func:`hot_pipe` begins.
    """
    pipe = _whole_hot_pipe(plan, outlet)
    return pipe[: _brought(plan, pipe)]


def comes_hot(plan: Plan, outlet: str) -> bool:
    """Whether hot water can come to an outlet: False where its way is whole and no heater lies on it.

    Parameters
    ----------
    plan : Plan
        The plan.
    outlet : str
        Name of the outlet; empty where it is not said.

    Returns
    -------
    bool
        True also while it is not decided: no outlet, no whole way to it, no heater from which a run leads.
    """
    if not outlet or not any(run.start in plan.heaters for run in plan.runs.values()):
        return True
    way = way_to(plan, outlet)
    return bool(way.broken or way.heater)


def _whole_hot_pipe(plan: Plan, outlet: str) -> tuple[str, ...]:
    if outlet not in plan.outlets:
        return ()
    way = way_to(plan, outlet)
    leg = way.hot or way.trunk
    for number, run in enumerate(leg):
        if plan.runs[run].start in plan.heaters:
            return leg[number:]
    return ()


def _brought(plan: Plan, pipe: tuple[str, ...]) -> int:
    """How many runs of a hot pipe lie before the last place to which hot water is brought."""
    places = brought_to(plan)
    return max((number for number, run in enumerate(pipe) if plan.runs[run].start in places), default=0)


def pipe_content(batch: Batch, runs: Iterable[str]) -> Array:
    """Water that stands in runs, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    runs : iterable of str
        The runs; those that are not decided count for nothing.

    Returns
    -------
    array, shape (rows,)
        Content [m³].
    """
    total = np.zeros(len(batch))
    for run in runs:
        known = batch.plan.runs[run]
        if known.length is not None and (known.size is not None or known.bore is not None):
            total = total + vessel.run_content(run_bore(batch, run), batch.number(f"runs.{run}.length"))
    return total
