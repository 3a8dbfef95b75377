"""What to order for the plumbing, and what to cut from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Count, Say, in_either, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.parts.heights import heights
from vanwater.answers.parts.lengths import MORE, Size, runs_by_size, size_of
from vanwater.answers.parts.pieces import joint_rows, ordered, part_rows, priced
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.quantities import LENGTH, MASS, MONEY
from vanwater.system.batch import Batch
from vanwater.system.numbering import numbering

__all__ = ["Parts", "parts"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Parts(Answer):
    """The answer on parts.

    Parameters
    ----------
    sizes : tuple of Size
        Hose and pipe, by size.
    """

    sizes: tuple[Size, ...]


def parts(plan: Plan) -> Parts:
    """What to order and what to cut.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Parts
        Not decided while no run has a size and a length.
    """
    sizes = runs_by_size(Batch(plan))
    return Parts(
        verdict=_verdict(plan, sizes),
        decided=bool(sizes),
        findings=worst_first(_findings(plan)),
        make_tables=partial(_tables, plan, sizes),
        assumptions=tuple(_assumptions(sizes)),
        sizes=sizes,
    )


def _verdict(plan: Plan, sizes: Sequence[Size]) -> Say:
    if not sizes:
        return say("No run has a size and a length yet, so there is nothing to order.")
    count = sum(fitting.count for fitting in ordered(plan))
    largest = max(sizes, key=lambda size: size.order.likely)
    return say(
        "To order: {sizes} of hose and pipe, most of it {largest}, {length}; {fittings}.",
        sizes=Count(len(sizes), "size"),
        largest=in_either(largest.name),
        length=largest.order,
        fittings=Count(count, "fitting"),
    )


def _findings(plan: Plan) -> Iterator[Finding]:
    lacking = [(name, "size") for name in plan.runs if not size_of(plan, name)]
    lacking += [(name, "length") for name, run in plan.runs.items() if run.length is None]
    if lacking:
        name, field = lacking[0]
        several = Count(len(lacking), "run is", "runs are")
        yield Finding(
            "parts.lengths",
            Verdict.NOT_DECIDED,
            say("{runs} without a size or a length: the list is not whole.", runs=several),
            change=say("Give the {field} of the run {run}.", field=field, run=name),
            address=joined(("runs", name, field)),
        )
    cost, without = priced(plan)
    if cost is not None and without:
        yield Finding(
            "parts.prices",
            Verdict.NOT_DECIDED,
            say(
                "The parts that have a price come to {cost} in your own money; {parts} no price.",
                cost=cost,
                parts=without,
            ),
            change=say("Give each part of your shelf a price."),
        )
    elif cost is not None:
        yield Finding("parts.prices", Verdict.FINE, say("The parts come to {cost} in your own money.", cost=cost))


def _tables(plan: Plan, sizes: Sequence[Size]) -> Iterator[Table]:
    numbers = numbering(plan).runs
    called = {name: f"R{number}" for name, number in numbers.items()}
    yield Table(
        "hose and pipe",
        say("Hose and pipe by size: what the runs take, and what to order."),
        (Column("size"), Column("in the runs", LENGTH), Column("order", LENGTH), Column("runs")),
        tuple(
            (
                say("{size}", size=in_either(size.name)),
                size.cut.amount,
                size.order.amount,
                ", ".join(sorted((called[run] for run in size.runs), key=lambda tag: int(tag[1:]))),
            )
            for size in sizes
        ),
    )
    yield Table(
        "cuts",
        say("What is cut from it, run by run: measure again in the van before the knife."),
        (Column("no."), Column("run"), Column("size"), Column("length", LENGTH), Column("from"), Column("to")),
        tuple(
            (
                called[run],
                run,
                say("{size}", size=in_either(size.name)),
                size.length(run).amount,
                plan.runs[run].start,
                plan.runs[run].end,
            )
            for size in sizes
            for run in sorted(size.runs, key=lambda name: numbers[name])
        ),
    )
    yield Table(
        "fittings",
        say("Fittings, by kind and by the hose or pipe that they sit on."),
        (Column("fitting"), Column("on"), Column("count"), Column("where")),
        tuple(
            (
                say("{fitting}", fitting=fitting.name),
                say("{size}", size=fitting.on) if fitting.on is not None else None,
                str(fitting.count),
                ", ".join(called.get(at, at) for at in fitting.places),
            )
            for fitting in ordered(plan)
        ),
        say("Bends laid in the hose itself, and what belongs to tanks, taps and heaters, are not among them."),
    )
    yield Table(
        "joints",
        say("Connections that the plan names, by size."),
        (Column("connection"), Column("count"), Column("where")),
        tuple(joint_rows(plan)),
    )
    yield heights(plan)
    yield Table(
        "parts",
        say("Parts of the stock and of the builder's own shelf."),
        (Column("part"), Column("in the plan"), Column("what it is"), Column("mass", MASS), Column("price", MONEY)),
        tuple(part_rows(plan)),
        say("Generic parts have no price; the mass is that of the dry part, where its shelf says it."),
    )


def _assumptions(sizes: Sequence[Size]) -> Iterator[Assumption]:
    if sizes:
        yield Assumption(
            "spare",
            say("{spare} more than the runs take is ordered, for cuts and for what is cut wrong.", spare=MORE.amount),
            "Lay a string where the hose will lie and measure it: bends and clips take more than one thinks.",
            "common practice",
        )
        yield Assumption(
            "small parts",
            say("Clamps, clips, seals, tape and screws are not counted."),
            "Two clamps a barb on a hose, a clip every 40 cm.",
            "common practice, from memory",
        )
