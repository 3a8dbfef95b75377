"""What was chosen, why, and what could have been built otherwise: for the customer who asks."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.handover import Gives
from vanwater.answers.core.statement import Say, say
from vanwater.answers.parts.described import described, title
from vanwater.answers.questions import Answers
from vanwater.options.comparison import Comparison
from vanwater.options.headline import less_is_better
from vanwater.options.ready import ready
from vanwater.options.variants import MOST, compare
from vanwater.options.variants_table import Line
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.stock import SINGLE, STOCKED

__all__ = ["Choice", "NotTaken", "choices", "not_taken"]

FIGURES = 2
"""Figures of each; more than two nobody weighs."""

FELT = 0.05
"""Share of a figure below which nobody feels a difference (common practice)."""

HOSE = "hose and pipe"


@dataclass(frozen=True, slots=True)
class NotTaken:
    """Something that was not built.

    Parameters
    ----------
    part : str
        Address of the part that would be another; its table alone where it is several of a table.
    name : str
        What it is, as the ready comparison calls it.
    would : Say
        What it would have given.
    """

    part: str
    name: str
    would: Say


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A part that was chosen.

    Parameters
    ----------
    name : str
        What it is called.
    what : Say or None
        What it is.
    why : tuple of str
        Why, in the builder's words; empty where he does not say.
    gives : tuple of Say
        What it gives the van.
    instead : tuple of NotTaken
        What could have been built in its place.
    """

    name: str
    what: Say | None
    why: tuple[str, ...] = ()
    gives: tuple[Say, ...] = ()
    instead: tuple[NotTaken, ...] = ()


def choices(asked: Answers, gives: Sequence[Gives]) -> tuple[Choice, ...]:
    """The parts of which there is something to say, in the order of the plan's tables; hose and pipe as one.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    gives : sequence of Gives
        What parts give the van.

    Returns
    -------
    tuple of Choice
        Parts with a reason, or with something else that could stand in their place, each with what it gives; none of
        a van that is drained.
    """
    if asked.plan.water.drained:
        return ()
    instead = not_taken(asked)
    return tuple(choice for choice in _choices(asked.plan, gives, instead) if choice.why or choice.instead)


def _choices(plan: Plan, gives: Sequence[Gives], instead: Sequence[NotTaken]) -> Iterator[Choice]:
    for table in STOCKED[:-1]:
        parts = getattr(plan, table)
        if table == "runs":
            yield Choice(
                name=HOSE,
                what=None,
                why=tuple(dict.fromkeys(run.why for run in plan.runs.values() if run.why)),
                instead=tuple(each for each in instead if each.part.split(".")[0] == table),
            )
            continue
        for name in ("",) if table in SINGLE else parts:
            part = parts if table in SINGLE else parts[name]
            if part is None:
                continue
            address = joined((table, name)) if name else table
            yield Choice(
                name=title(table, name),
                what=described(plan, table, name),
                why=(part.why,) if part.why else (),
                gives=tuple(each.text for each in gives if each.part == address),
                instead=tuple(each for each in instead if each.part == address),
            )


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
    others = [each.overlays[-1] for each in ready(plan).values() if each.overlays][-MOST:]
    if not others:
        return ()
    changed = {overlay.name: _part_of(overlay.values) for overlay in others}
    comparison = compare(plan, others, keys=(), base=asked)
    return tuple(
        NotTaken(changed[name], name, _told(moved))
        for name in comparison.possible
        if (moved := _weighed(_moved(comparison, name)))
    )


def _part_of(values: Mapping[str, object]) -> str:
    """The part that a variant changes; its table where it changes several."""
    parts = {".".join(address.split(".")[:2]) for address in values}
    tables = {part.split(".")[0] for part in parts}
    return parts.pop() if len(parts) == 1 else min(tables)


@dataclass(frozen=True, slots=True)
class _Moved:
    """A figure that is surely another one in a variant: how much of it, whether that is better, and both as shown."""

    share: float
    better: bool
    line: Line
    built: Amount
    instead: Amount


def _moved(comparison: Comparison, name: str) -> list[_Moved]:
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
                better = (instead.value < built.value) == less_is_better(line.key)
                moved.append(_Moved(share, better, line, built, instead))
    return sorted(moved, key=lambda told: -told.share)


def _weighed(moved: Sequence[_Moved]) -> list[_Moved]:
    """What speaks most for the other way and what most against it, then the next."""
    ends = [next((each for each in moved if each.better is better), None) for better in (True, False)]
    first = [each for each in ends if each is not None]
    return [*first, *(each for each in moved if each not in first)][:FIGURES]


def _alone(shown: Amount | Range) -> Amount:
    return shown.amount if isinstance(shown, Range) else shown


def _told(moved: Iterable[_Moved]) -> Say:
    return say("{figures}.", figures=tuple(_figure(each) for each in moved))


def _figure(moved: _Moved) -> Say:
    name = moved.line.number.name
    return say("{name} {other} instead of {built}", name=name, other=moved.instead, built=moved.built)
