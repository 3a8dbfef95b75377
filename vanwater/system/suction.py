"""The suction line of a pump: how far it leads up from the lowest usable water, its humps and check valves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.ways import Way

__all__ = ["SPRING_VALVES", "SuctionLine", "suction_line", "undecided_height"]

SPRING_VALVES = ("spring check valve", "foot valve")
"""Fittings whose valve stays shut until the pump pulls it open."""

DIP_TUBE = "dip tube"
"""The fitting by which a line leaves its tank over the top."""

_LEVEL = 5e-3
"""Heights that differ by less are level [m]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class SuctionLine:
    """The line from a nearly empty tank to its pump.

    Parameters
    ----------
    tank, pump : str
        The tank and the pump.
    water : array, shape (rows,)
        Height of the lowest usable water above the van's floor [m].
    heights : mapping of str to array
        Height of each known point above the van's floor, behind the tank in the order of the flow, the pump last [m].
    valves : array, shape (rows,)
        How many spring check valves and foot valves are in it.
    checked : tuple of str
        Runs that hold them.
    hump : array of bool, shape (rows,)
        Whether a point stands above both its neighbours, so that air stays in it.
    """

    tank: str
    pump: str
    water: Array
    heights: dict[str, Array]
    valves: Array
    checked: tuple[str, ...]
    hump: npt.NDArray[np.bool_]

    @property
    def top(self) -> Array:
        """Height of its highest point above the van's floor [m]."""
        return np.asarray(np.max(list(self.heights.values()), axis=0))

    @property
    def highest(self) -> str:
        """The point that is highest in the plan; the pump where others are level with it."""
        top = float(self.top[0])
        return next(name for name, height in reversed(self.heights.items()) if height[0] > top - _LEVEL)


def undecided_height(plan: Plan, way: Way) -> str:
    """The address of the height without which it is not known how far a pump has to lift.

    Parameters
    ----------
    plan : Plan
        The plan.
    way : Way
        A way whose tank and pump have their heights, with a suction line.

    Returns
    -------
    str
        Where the line leaves the tank over its top, and neither that top nor the line's highest point is decided; else
        empty.
    """
    over = _over_the_top(plan, way)
    if over and plan.runs[over].highest is None and plan.tanks[way.tank].inside_height is None:
        return f"runs.{over}.highest"
    return ""


def suction_line(batch: Batch, way: Way) -> SuctionLine:
    """Put heights to the suction line of a pump.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    way : Way
        A way whose heights are decided, see :func:`undecided_height`.

    Returns
    -------
    SuctionLine
        Tees whose height is not decided lie between their neighbours.
    """
    plan = batch.plan
    points = dict(_points(batch, way))
    water = batch.number(f"tanks.{way.tank}.z") + batch.number(f"tanks.{way.tank}.pickup")
    heights = [water, *points.values()]
    above = [
        height > np.maximum(below, beyond) + _LEVEL
        for below, height, beyond in zip(heights, heights[1:], heights[2:], strict=False)
    ]
    springs = [(run, kind) for run in way.suction for kind in plan.runs[run].fittings if kind in SPRING_VALVES]
    counts = [batch.number(f"runs.{run}.fittings.{kind}") for run, kind in springs]
    return SuctionLine(
        tank=way.tank,
        pump=way.pump,
        water=water,
        heights=points,
        valves=np.sum(counts, axis=0) if counts else np.zeros(len(batch)),
        checked=tuple(dict.fromkeys(run for run, _ in springs)),
        hump=np.any([*above, np.full(len(batch), bool(_over_the_top(plan, way)))], axis=0),
    )


def _over_the_top(plan: Plan, way: Way) -> str:
    """The run that leaves the tank over its top, or an empty text."""
    first = way.suction[0]
    return first if plan.runs[first].fittings.get(DIP_TUBE) else ""


def _points(batch: Batch, way: Way) -> Iterator[tuple[str, Array]]:
    """Points whose height is known, from behind the tank to the pump."""
    plan = batch.plan
    tank, floor = plan.tanks[way.tank], batch.number(f"tanks.{way.tank}.z")
    over = _over_the_top(plan, way)
    if over and plan.runs[over].highest is None and tank.inside_height is not None:
        side = "diameter" if tank.shape == "lying cylinder" else "height"
        yield DIP_TUBE, floor + batch.number(f"tanks.{way.tank}.{side}")
    for run in way.suction:
        if plan.runs[run].highest is not None:
            yield f"top of the {run}", batch.number(f"runs.{run}.highest")
        end = plan.runs[run].end
        if end in plan.tees and plan.tees[end].z is not None:
            yield end, batch.number(f"tees.{end}.z")
    yield way.pump, batch.number(f"pumps.{way.pump}.z")
