"""Whether each hose and pipe stands the pressure and the warmth that can come to it, and is made for drinking water."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Count, Given, in_either, say
from vanwater.answers.ratings.judged import CAUSES, RULE, Judged, faulty, or_less, weakest, worst
from vanwater.plan.model import Plan
from vanwater.plan.ratings import MARGIN, rating_at
from vanwater.plan.tables import PipeRow, pipes
from vanwater.system.design_pressure import Cause, DesignPressure
from vanwater.system.pieces import Piece

__all__ = ["judged_pipes", "pipes_findings"]

DRAIN = "drain"
OWN_GRADE = {"polyamide": "made for fuel and air"}
"""Materials that are mostly sold for something else than drinking water, and for what."""


def judged_pipes(plan: Plan, designs: Mapping[str, DesignPressure]) -> list[Judged]:
    """The runs of a stock size.

    Parameters
    ----------
    plan : Plan
        The plan.
    designs : mapping of str to DesignPressure
        What each run can come to see.

    Returns
    -------
    list of Judged
        In the plan's order.
    """
    table = pipes()
    return [
        Judged(Piece(table[size], run, f"runs.{run}.size", design), plan.us)
        for run, design in designs.items()
        if (size := plan.runs[run].size)
    ]


def pipes_findings(judged: list[Judged], others: int, presses: Mapping[Cause, float]) -> Iterator[Finding]:
    """What is to be said of the stock sizes against pressure and warmth.

    Parameters
    ----------
    judged : list of Judged
        From :func:`judged_pipes`.
    others : int
        Runs without a stock size.
    presses : mapping of str to float
        Greatest pressure of each cause in the plan [Pa].

    Yields
    ------
    Finding
        One for each stock size that does not stand what comes or is not made for drinking water, else one on the
        weakest.
    """
    told = faulty(judged)
    for (size, fault), those in told.items():
        yield _finding(size, fault, those, presses)
    nearest = weakest(judged)
    if nearest is not None and not told:
        yield _weakest(nearest, others)
    for material, made_for in OWN_GRADE.items():
        runs = [pipe.piece for pipe in judged if _row(pipe).material == material]
        if runs:
            yield _grade(material, made_for, runs)


def _row(judged: Judged) -> PipeRow:
    assert isinstance(judged.piece.row, PipeRow)
    return judged.piece.row


def _finding(size: str, fault: str, those: list[Judged], presses: Mapping[Cause, float]) -> Finding:
    pipe = worst(those)
    runs = tuple(each.piece.at for each in those)
    given: dict[str, Given] = {"runs": runs, "be": "are" if len(those) > 1 else "is", "size": in_either(size)}
    instead = _instead(pipe)
    change = say("Take {other}.", other=instead.key) if instead is not None else say("Take a stronger size.")
    key, address = f"ratings.{size}.{fault}", pipe.piece.address
    if fault == DRAIN:
        statement = say("The {runs} {be} {size}: it stands no pressure and is not made for fresh water.", **given)
        return Finding(key, Verdict.FAILS, statement, change=change, address=address, source=_row(pipe).source)
    if fault == "hot":
        return Finding(
            key,
            Verdict.FAILS,
            say(
                "The {runs} {be} {size}, for {limit} at most; {warmth} can come.",
                limit=pipe.hottest,
                warmth=pipe.warmth,
                **given,
            ),
            value=pipe.warmth.amount,
            limit=pipe.hottest.amount,
            change=change,
            address=address,
            source=_row(pipe).source,
        )
    return Finding(
        key,
        Verdict.FAILS if fault == "weak" else Verdict.WATCH,
        say(
            "The {runs} {be} {size}, which stands {limit} at {warmth}; {pressure} can come {cause}.",
            limit=pipe.stands,
            warmth=pipe.warmth,
            pressure=pipe.pressure,
            cause=CAUSES[pipe.piece.design.cause],
            **given,
        ),
        value=pipe.pressure.amount,
        limit=pipe.stands.amount,
        change=or_less(pipe, change, presses),
        address=address,
        source=RULE,
    )


def _weakest(pipe: Judged, others: int) -> Finding:
    return Finding(
        "ratings.pipes",
        Verdict.FINE,
        say(
            "The weakest hose or pipe is the {run}: {size} stands {limit} at {warmth}, {pressure} can come {cause}; "
            "{spare} to spare.{rest}",
            run=pipe.piece.at,
            size=in_either(pipe.piece.row.key),
            limit=pipe.stands,
            warmth=pipe.warmth,
            pressure=pipe.pressure,
            cause=CAUSES[pipe.piece.design.cause],
            spare=pipe.spare,
            rest=say(" Not judged: {runs} without a stock size.", runs=Count(others, "run")) if others else "",
        ),
        value=pipe.pressure.amount,
        limit=pipe.stands.amount,
        address=pipe.piece.address,
        source=RULE,
    )


def _grade(material: str, made_for: str, those: list[Piece]) -> Finding:
    return Finding(
        f"ratings.material.{material}",
        Verdict.WATCH,
        say(
            "The {runs} {be} of {material}, which is mostly {made_for}.",
            runs=tuple(piece.at for piece in those),
            be="are" if len(those) > 1 else "is",
            material=material,
            made_for=made_for,
        ),
        change=say("Take a grade certified for drinking water."),
        address=those[0].address,
        source=those[0].row.source,
    )


def _instead(pipe: Judged) -> PipeRow | None:
    """The stock size nearest in kind and bore that stands what comes, with the margin."""
    planned, design = _row(pipe), pipe.piece.design
    hose = planned.kind == "hose" or (planned.kind == DRAIN and "barb" in planned.joint)
    stand = []
    for row in pipes().values():
        rating = rating_at(row, design.temperature)
        enough = rating is not None and (design.pressure or 0.0) <= (1.0 - MARGIN) * rating
        if row.kind != DRAIN and row.material not in OWN_GRADE and enough:
            stand.append(row)

    def order(row: PipeRow) -> tuple[bool, bool, float]:
        return (row.kind == "hose") is not hose, row.material == "copper", abs(row.bore - planned.bore)

    return min(stand, key=order, default=None)
