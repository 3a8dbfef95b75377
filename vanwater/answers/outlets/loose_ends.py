"""Pieces of the water's way that no run touches yet, or that a run reaches from one side only."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.plan.model import Plan

__all__ = ["loose_ends"]

PASSED = ("pumps", "heaters", "tees", "mixers")
"""Tables of pieces that water passes."""


def loose_ends(plan: Plan) -> Iterator[Finding]:
    """The findings on pieces that are not joined on both sides.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        Not decided, one a piece; none while no run is drawn at all.
    """
    arrived, left = {run.end for run in plan.runs.values()}, {run.start for run in plan.runs.values()}
    arrived |= {name for name, pump in plan.pumps.items() if pump.tank is not None}
    for table in PASSED if plan.runs else ():
        for name in getattr(plan, table):
            if name in arrived and name in left:
                continue
            told = "No run leads to the {piece} yet." if name in left else "No run leaves the {piece} yet."
            if name not in left and name not in arrived:
                told = "No run touches the {piece} yet."
            yield Finding(
                f"outlets.{name}.loose",
                Verdict.NOT_DECIDED,
                say(told, piece=name),
                change=say("Add the runs that join it, or take it out."),
                address=f"{table}.{name}",
            )
