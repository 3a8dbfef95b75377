"""Whether joints, fittings, heaters, accumulators, pumps and taps stand the pressure and the warmth that can come."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Say, say
from vanwater.answers.ratings.judged import CAUSES, Judged, faulty, or_less, weakest, worst
from vanwater.system.design_pressure import Cause

__all__ = ["pieces_findings"]

JOINT = "joint"
"""Kind of row: of many joints in a run."""

ITSELF = ("piece", "outlet")
"""Kinds of rows: pieces that the plan calls by a name of their own."""

LOOK = {
    "piece": "Look at its plate and write what it says as rated.",
    "outlet": "Look at its data sheet and write what it says as rated.",
    "fitting": "Look at its data sheet, or put it before the pump.",
}
"""What to do where the plate decides, by the kind of row."""


def pieces_findings(judged: Sequence[Judged], presses: Mapping[Cause, float]) -> Iterator[Finding]:
    """What is to be said of rated pieces against pressure and warmth.

    Parameters
    ----------
    judged : sequence of Judged
        The pieces.
    presses : mapping of str to float
        Greatest pressure of each cause in the plan [Pa].

    Yields
    ------
    Finding
        One for each row of the table of ratings that does not stand what comes, else one on the weakest joint or
        fitting.
    """
    told = faulty(judged)
    for (key, fault), those in told.items():
        yield _finding(f"ratings.{key}.{fault}", fault, those, presses)
    nearest = weakest(judged)
    if nearest is not None and not told:
        yield _weakest(nearest)


def _finding(key: str, fault: str, those: Sequence[Judged], presses: Mapping[Cause, float]) -> Finding:
    judged = worst(those)
    row = judged.piece.row
    plate = judged.plate
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
        change=or_less(judged, _stronger(judged), presses),
        address=judged.piece.address,
        source=row.source,
    )


def _subject(those: Sequence[Judged]) -> Say:
    """What is judged and where it sits, with the verb that fits."""
    row, names = those[0].piece.row, tuple(dict.fromkeys(judged.piece.at for judged in those))
    several, plate = row.kind == JOINT, those[0].plate
    if row.kind in ITSELF:
        be = "may be" if plate else "are" if len(names) > 1 else "is"
        return say("The {names} {be}", names=names, be=be)
    return say(
        "The {piece}{s} in the {names} {be}",
        piece=row.name.lower(),
        s="s" if several else "",
        names=names,
        be="may be" if plate else "are" if several else "is",
    )


def _stronger(judged: Judged) -> Say:
    row = judged.piece.row
    if judged.plate:
        return say(LOOK[row.kind])
    return say("Take joints that stand more.") if row.kind == JOINT else say("Take one that stands more.")


def _cooler(judged: Judged) -> Say:
    row = judged.piece.row
    if judged.plate:
        return say("{look} Or put it where the water stays cold.", look=say(LOOK[row.kind]))
    if row.kind == JOINT:
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
