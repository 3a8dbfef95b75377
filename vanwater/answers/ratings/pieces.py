"""Whether joints, filters, valves, heaters and accumulators stand the pressure and the warmth that can come to them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Say, say
from vanwater.answers.ratings.judged import CAUSES, PLATE, Judged, faulty, or_relief, weakest, worst

__all__ = ["pieces_findings"]

JOINT = "joint"
"""Kind of row: of many joints in a run."""


def pieces_findings(judged: Sequence[Judged], pumped: float) -> Iterator[Finding]:
    """What is to be said of rated pieces against pressure and warmth.

    Parameters
    ----------
    judged : sequence of Judged
        The pieces.
    pumped : float
        Greatest pressure that comes from a pump [Pa].

    Yields
    ------
    Finding
        One for each row of the table of ratings that does not stand what comes, else one on the weakest joint or
        fitting.
    """
    told = faulty(judged)
    for (key, fault), those in told.items():
        yield _finding(f"ratings.{key}.{fault}", fault, those, pumped)
    nearest = weakest(judged)
    if nearest is not None and not told:
        yield _weakest(nearest)


def _finding(key: str, fault: str, those: Sequence[Judged], pumped: float) -> Finding:
    judged = worst(those)
    row = judged.piece.row
    plate = row.kind == PLATE
    verdict = Verdict.WATCH if plate or fault == "close" else Verdict.FAILS
    subject = _subject(those)
    if fault == "hot":
        return Finding(
            key,
            verdict,
            say(
                "{subject} made for {limit} at most; {warmth} can come.",
                subject=subject,
                limit=judged.hottest,
                warmth=judged.warmth,
            ),
            value=judged.warmth.amount,
            limit=judged.hottest.amount,
            change=_cooler(judged),
            address=judged.piece.address,
            source=row.source,
        )
    return Finding(
        key,
        verdict,
        say(
            "{subject} made for {limit}{at}; {pressure} can come {cause}.",
            subject=subject,
            limit=judged.stands,
            at=say(" only") if plate else say(" at {warmth}", warmth=judged.warmth),
            pressure=judged.pressure,
            cause=CAUSES[judged.piece.design.cause],
        ),
        value=judged.pressure.amount,
        limit=judged.stands.amount,
        change=or_relief(judged, _stronger(judged), pumped),
        address=judged.piece.address,
        source=row.source,
    )


def _subject(those: Sequence[Judged]) -> Say:
    """What is judged and where it sits, with the verb that fits."""
    row, names = those[0].piece.row, tuple(dict.fromkeys(judged.piece.at for judged in those))
    if row.kind == PLATE:
        return say("The {names} may be", names=names)
    several = row.kind == JOINT
    return say(
        "The {piece}{s} in the {names} {be}",
        piece=row.name.lower(),
        s="s" if several else "",
        names=names,
        be="are" if several else "is",
    )


def _stronger(judged: Judged) -> Say:
    kind = judged.piece.row.kind
    if kind == PLATE:
        return say("Look at its plate.")
    return say("Take joints that stand more.") if kind == JOINT else say("Take one that stands more.")


def _cooler(judged: Judged) -> Say:
    kind = judged.piece.row.kind
    if kind == PLATE:
        return say("Look at its plate, or put it where the water stays cold.")
    if kind == JOINT:
        return say("Take joints made for hot water, or heat less.")
    return say("Put it in the cold line, or take one made for hot water.")


def _weakest(judged: Judged) -> Finding:
    return Finding(
        "ratings.pieces",
        Verdict.FINE,
        say(
            "The weakest joint or fitting is the {piece} in the {run}: made for {limit} at {warmth}, {pressure} can "
            "come {cause}; {spare} to spare.",
            piece=judged.piece.row.name.lower(),
            run=judged.piece.at,
            limit=judged.stands,
            warmth=judged.warmth,
            pressure=judged.pressure,
            cause=CAUSES[judged.piece.design.cause],
            spare=judged.spare,
        ),
        value=judged.pressure.amount,
        limit=judged.stands.amount,
        address=judged.piece.address,
        source=judged.piece.row.source,
    )
