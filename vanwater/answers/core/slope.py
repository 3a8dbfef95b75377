"""The slope on which the van stands: never known well, and what it does to the litres that tanks give and take."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit
from vanwater.plan.model import Plan
from vanwater.quantities import ANGLE
from vanwater.system.batch import Batch, Row
from vanwater.system.water_surface import one_surface, placed

__all__ = ["OFF_LEVEL", "slope_assumptions", "slope_pairs", "slope_rows"]

OFF_LEVEL: Number = limit("slope of a parked van beside what is planned", math.radians(1.0), ANGLE, "common practice")
"""How far the van may stand off the slope that is planned, along and across."""

_SLOPES = {"pitch": "the slope along the van", "roll": "the slope across the van"}


def slope_rows(plan: Plan) -> list[Row]:
    """Rows with the van a little nose up and nose down, and a little to either side.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    list of Row
        Low and high of pitch, then of roll; none where no tank's sides are known.
    """
    if all(tank.inside_height is None for tank in plan.tanks.values()):
        return []
    return [
        Row(f"{slope} {end}", {f"site.{slope}": plan.at(f"site.{slope}") + turn * OFF_LEVEL.likely})
        for slope in _SLOPES
        for end, turn in (("low", -1.0), ("high", 1.0))
    ]


def slope_pairs(batch: Batch, rows: Sequence[Row]) -> list[UnsureRows]:
    """Where a batch holds them.

    Parameters
    ----------
    batch : Batch
        Made with them.
    rows : sequence of Row
        From :func:`slope_rows`.

    Returns
    -------
    list of UnsureRows
        For :func:`vanwater.answers.core.spread.spread`.
    """
    if not rows:
        return []
    return [
        UnsureRows(label, f"site.{slope}", batch.place(f"{slope} low"), batch.place(f"{slope} high"))
        for slope, label in _SLOPES.items()
    ]


def slope_assumptions(plan: Plan) -> Iterator[Assumption]:
    """What is taken of the slope and of tanks that share one surface.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Assumption
        The slope, tanks of which no side is said, and joined tanks.
    """
    sided = [name for name, tank in plan.tanks.items() if tank.inside_height is not None]
    if sided:
        yield Assumption(
            "slope",
            say("The van may stand {off} off its planned slope, along and across.", off=OFF_LEVEL),
            "Lay a spirit level on the floor where the van stands.",
            "common practice",
            "site.pitch",
        )
    bare = tuple(name for name, tank in plan.tanks.items() if tank.inside_height is None)
    if bare and (plan.site.pitch or plan.site.roll):
        yield Assumption(
            "slope.unseen",
            say("The slope is not counted in {tanks}: no sides are said.", tanks=bare),
            "Measure the inside sides.",
            "common practice",
            f"tanks.{bare[0]}.length",
        )
    for tanks in one_surface(plan):
        known = placed(plan, tanks)
        yield Assumption(
            f"joined.{tanks[0]}",
            say(
                "The water stands equally high in {tanks}: full at the lowest overflow, at its end at the highest "
                "pick-up."
                if known
                else "The tanks {tanks} are joined, but not all of their sides and places are said: each counts as if "
                "it stood alone.",
                tanks=tanks,
            ),
            "Fill them and see where it overflows first." if known else "Give the sides, and x, y and z, of each.",
            "communicating vessels",
            f"tanks.{tanks[0]}.{'overflow' if known else 'z'}",
        )
