"""What could have been built otherwise, in two figures each: for the customer who asks why."""

from __future__ import annotations

import math
from dataclasses import dataclass

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.statement import Say, say
from vanwater.answers.questions import Answers
from vanwater.options.comparison import Comparison, Line
from vanwater.options.ready import ready
from vanwater.options.variants import MOST, compare

__all__ = ["NotTaken", "not_taken"]

FIGURES = 2
"""Figures of each; more than two nobody weighs."""

FELT = 0.05
"""Share of a figure below which nobody feels a difference (common practice)."""


@dataclass(frozen=True, slots=True)
class NotTaken:
    """Something that was not built.

    Parameters
    ----------
    name : str
        What it is, as the ready comparison calls it.
    would : Say
        What it would have given.
    """

    name: str
    would: Say


def not_taken(asked: Answers) -> tuple[NotTaken, ...]:
    """The other way of each ready comparison that this plan can carry, where it moves a figure of the headline surely.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.

    Returns
    -------
    tuple of NotTaken
        At most four; none of a van that is drained, or in a situation.
    """
    plan = asked.plan
    if plan.water.drained or plan.situation:
        return ()
    others = [each.overlays[-1] for each in ready(plan).values() if each.overlays]
    if not others:
        return ()
    comparison = compare(plan, others[-MOST:], keys=(), base=asked)
    return tuple(
        NotTaken(name, _told(moved)) for name in comparison.possible if (moved := _moved(comparison, name)[:FIGURES])
    )


def _moved(comparison: Comparison, name: str) -> list[tuple[Line, Amount, Amount]]:
    """The lines of the headline that surely differ, as they are shown, the greatest share first."""
    place = list(comparison.possible).index(name)
    us = comparison.base.plan.us
    moved = []
    for line in comparison.lines:
        other = line.each[place]
        if not line.headline or line.base is None or other is None or not line.sure[place]:
            continue
        if math.isfinite(line.base.likely) and math.isfinite(other.likely):
            built, instead = _alone(line.base.shown), _alone(other.shown)
            share = abs(instead.value - built.value) / max(abs(built.value), abs(instead.value), 1e-12)
            if share >= FELT and built.text(us) != instead.text(us):
                moved.append((share, (line, built, instead)))
    return [each for _, each in sorted(moved, key=lambda told: -told[0])]


def _alone(shown: Amount | Range) -> Amount:
    return shown.amount if isinstance(shown, Range) else shown


def _told(moved: list[tuple[Line, Amount, Amount]]) -> Say:
    template = "; ".join(f"{{name{n}}} {{other{n}}} instead of {{built{n}}}" for n in range(len(moved)))
    holes: dict[str, str | Amount] = {}
    for n, (line, built, instead) in enumerate(moved):
        holes |= {f"name{n}": line.number.name, f"other{n}": instead, f"built{n}": built}
    return say(f"{template}.", **holes)
