"""Whether the van that was built is the van of the plan: what was measured beside what is expected."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.band import SOURCE
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.handover import ONCE_MORE
from vanwater.answers.core.harm import Harm
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.measured.reading import Reading, Unknown, readings
from vanwater.plan.model import Plan

__all__ = ["MeasuredOnTheVan", "measured"]


@dataclass(frozen=True, kw_only=True, eq=False)
class MeasuredOnTheVan(Answer):
    """The answer on what was measured.

    Parameters
    ----------
    readings : tuple of Reading
        In the order of the measurements.
    unknown : tuple of Unknown
        Values of numbers that the plan does not have.
    """

    readings: tuple[Reading, ...]
    unknown: tuple[Unknown, ...]


def measured(plan: Plan, answers: Sequence[Answer]) -> MeasuredOnTheVan:
    """What was measured beside what is expected.

    Parameters
    ----------
    plan : Plan
        The plan.
    answers : sequence of Answer
        To all other questions.

    Returns
    -------
    MeasuredOnTheVan
        Silent where nothing was measured.
    """
    held = readings(plan, answers)
    known = tuple(each for each in held if isinstance(each, Reading))
    unknown = tuple(each for each in held if isinstance(each, Unknown))
    return MeasuredOnTheVan(
        verdict=_verdict(known),
        decided=bool(known),
        findings=worst_first((*map(_finding, known), *map(_lost, unknown))),
        make_tables=partial(_tables, known),
        make_numbers=partial(_behind, known),
        assumptions=tuple(_assumptions(known)),
        readings=known,
        unknown=unknown,
    )


def _verdict(known: Sequence[Reading]) -> Say:
    outside = sum(bool(each.side) for each in known)
    count = Count(len(known), "value was", "values were")
    if not known:
        return say("Nothing was measured on the van yet.")
    if not outside:
        return say("{count} measured on the van, within what is expected.", count=count)
    return say(
        "{count} measured on the van; {outside} not as expected.",
        count=count,
        outside=Count(outside, "value is", "values are"),
    )


def _finding(each: Reading) -> Finding:
    if each.band is None:
        return Finding(
            f"measured.{each.key}",
            Verdict.NOT_DECIDED,
            say("{what}, {told}. What is expected is not decided.", what=each.what, told=each.told),
            change=say("Decide what the plan lacks for it."),
        )
    said = {"what": each.what, "told": each.told, "band": each.band.told}
    end = {"above": each.band.high, "below": each.band.low, "": None}[each.side]
    if end is None:
        return Finding(
            f"measured.{each.key}",
            Verdict.FINE,
            say("{what}, {told}, expected {band}.", **said),
            value=each.value.amount,
            source=SOURCE,
        )
    outside = Finding(
        f"measured.{each.key}.{each.side}",
        Verdict.FAILS,
        say("{what}, {told}, outside of what is still well, {band}.", **said),
        value=each.value.amount,
        limit=end.amount,
        change=_change(each),
        address=each.corrects,
        source=SOURCE,
        bound="at most" if each.side == "above" else "at least",
    )
    return replace(outside, verdict=Verdict.WATCH) if outside.harm is Harm.CARE else outside


def _change(each: Reading) -> Say:
    """What it may mean, and which input of the plan speaks of it."""
    means = each.measure.meant(each.side) if each.measure is not None else ONCE_MORE
    if not each.corrects:
        return means
    return say(
        "{means} If the van is as it should be, correct {address} in the plan: the sums go by that.",
        means=means,
        address=each.corrects,
    )


def _lost(each: Unknown) -> Finding:
    return Finding(
        f"measured.{each.name}.unknown",
        Verdict.NOT_DECIDED,
        say("{name} was measured, but the plan has no number {key}.", name=each.name, key=each.said.number),
        change=say("Give the key of a number that it has."),
        address=each.problem.address,
    )


def _tables(known: Sequence[Reading]) -> Iterator[Table]:
    columns = ("what", "expected", "band", "measured", "on", "with", "by", "how it stands")
    yield Table(
        "measured",
        say("What was measured on the van, beside what is expected."),
        tuple(map(Column, columns)),
        tuple(map(_row, known)),
        say("What was measured moves no sum: they go by what the plan says."),
    ).known(always=1)


def _row(each: Reading) -> tuple[Cell, ...]:
    stands = say("not decided") if each.band is None else say(f"{each.side} the band" if each.side else "within")
    return (
        each.what,
        each.expected.amount,
        each.band.told if each.band is not None else None,
        each.value.amount,
        each.day,
        each.said.instrument,
        each.said.by or None,
        stands,
    )


def _behind(known: Sequence[Reading]) -> Iterator[Number]:
    for each in known:
        yield each.value
        if each.band is not None:
            yield from (end for end in (each.band.low, each.band.high) if end is not None)


def _assumptions(known: Sequence[Reading]) -> Iterator[Assumption]:
    usual = [each for each in known if each.said.uncertainty is None and each.band is not None]
    if usual:
        yield Assumption(
            "instruments",
            say("Where nothing is said of an instrument, it is taken as off by what is usual for its kind."),
            "Write its uncertainty, from its paper or from a comparison.",
            "common practice, from memory",
            f"measured.{usual[0].name}.uncertainty",
        )
