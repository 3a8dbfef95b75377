"""Whether joints, filters, valves, heaters and accumulators stand the pressure and the warmth that can come to them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.plan.model import Plan
from vanwater.quantities import PRESSURE, SHARE, TEMPERATURE
from vanwater.system.design_pressure import DesignPressure
from vanwater.system.pieces import Piece, pieces

__all__ = ["CAUSES", "MARGIN", "least_relief", "pieces_findings"]

STEP = 1e4
"""Steps in which the setting of a relief valve is told, Pa."""

MARGIN = 0.10
"""Share of a rating that is kept free (common practice)."""

CAUSES = {
    "pump": say("when the pump's switch sticks"),
    "by-pass": say("when the pump's by-pass carries all of its flow"),
    "control": say("when the pump's speed control fails"),
    "shut taps": say("while the pump runs against shut taps"),
    "by hand": say("when the pump is worked against shut taps"),
    "held": say("from the pressure that the pump holds"),
    "mains": say("from a campsite's tap without a regulator"),
    "regulator": say("from the regulator at the mains inlet"),
    "switch": say("before the pump's switch stops it"),
    "relief": say("before the heater's relief valve opens"),
}
"""How a pressure comes about, by the cause of a design pressure."""

JOINT, PLATE = "joint", "piece"
"""Kinds of rows: of many joints in a run; and of pieces, with only the least that such are made for."""


def least_relief(stands: float) -> float:
    """Setting of a relief valve that leaves the margin to a rating.

    Parameters
    ----------
    stands : float
        Gauge pressure that the weakest piece stands [Pa].

    Returns
    -------
    float
        Gauge pressure, rounded down to a step [Pa].
    """
    return math.floor((1.0 - MARGIN) * stands / STEP) * STEP


def pieces_findings(plan: Plan, found: Mapping[str, DesignPressure], pumped: float) -> Iterator[Finding]:
    """What is to be said of rated pieces against pressure and warmth.

    Parameters
    ----------
    plan : Plan
        The plan.
    found : mapping of str to DesignPressure
        What each run can come to see.
    pumped : float
        Greatest pressure that comes from a pump [Pa].

    Yields
    ------
    Finding
        One for each row of the table of ratings that does not stand what comes, else one on the weakest joint or
        fitting.
    """
    told: dict[tuple[str, str], list[Piece]] = {}
    rated = list(pieces(plan, found))
    for one in rated:
        fault = _fault(one)
        if fault:
            told.setdefault((one.row.key, fault), []).append(one)
    for (key, fault), those in told.items():
        yield _finding(f"ratings.{key}.{fault}", fault, those, pumped)
    pressed = [(one.load, one) for one in rated if one.load is not None and one.row.kind != PLATE]
    if pressed and not told:
        yield _weakest(max(pressed, key=lambda pair: pair[0])[1])


def _fault(one: Piece) -> str:
    if one.design.temperature > one.row.hottest:
        return "hot"
    if one.load is None or one.load <= (1.0 if one.row.kind == PLATE else 1.0 - MARGIN):
        return ""
    return "weak" if one.load > 1.0 else "close"


def _finding(key: str, fault: str, those: Sequence[Piece], pumped: float) -> Finding:
    worst = max(those, key=lambda one: (one.load or 0.0, one.design.temperature))
    plate = worst.row.kind == PLATE
    verdict = Verdict.WATCH if plate or fault == "close" else Verdict.FAILS
    subject = _subject(those)
    warmth = Amount(worst.design.temperature, TEMPERATURE)
    if fault == "hot":
        limit = Amount(worst.row.hottest, TEMPERATURE)
        told = say(
            "{subject} made for {limit} at most; {warmth} can come.", subject=subject, limit=limit, warmth=warmth
        )
        return Finding(
            key,
            verdict,
            told,
            value=warmth,
            limit=limit,
            change=_cooler(worst, plate),
            address=worst.address,
            source=worst.row.source,
        )
    assert worst.design.pressure is not None and worst.stands is not None
    pressure, stands = Amount(worst.design.pressure, PRESSURE), Amount(worst.stands, PRESSURE)
    told = say(
        "{subject} made for {limit}{at}; {pressure} can come {cause}.",
        subject=subject,
        limit=stands,
        at=say(" only") if plate else say(" at {warmth}", warmth=warmth),
        pressure=pressure,
        cause=CAUSES[worst.design.cause],
    )
    change = _stronger(worst, plate)
    least = math.floor(worst.stands / STEP) * STEP if plate else least_relief(worst.stands)
    if worst.design.cause == "relief" and least > pumped:
        change = say(
            "{other} Or fit a relief valve that opens at {least} or less.",
            other=change,
            least=Amount(least, PRESSURE, 2),
        )
    return Finding(
        key,
        verdict,
        told,
        value=pressure,
        limit=stands,
        change=change,
        address=worst.address,
        source=worst.row.source,
    )


def _subject(those: Sequence[Piece]) -> Say:
    """What is judged and where it sits, with the verb that fits."""
    row, names = those[0].row, tuple(dict.fromkeys(one.at for one in those))
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


def _stronger(worst: Piece, plate: bool) -> Say:
    if plate:
        return say("Look at its plate.")
    return say("Take joints that stand more.") if worst.row.kind == JOINT else say("Take one that stands more.")


def _cooler(worst: Piece, plate: bool) -> Say:
    if plate:
        return say("Look at its plate, or put it where the water stays cold.")
    if worst.row.kind == JOINT:
        return say("Take joints made for hot water, or heat less.")
    return say("Put it in the cold line, or take one made for hot water.")


def _weakest(one: Piece) -> Finding:
    assert one.design.pressure is not None and one.stands is not None and one.load is not None
    pressure, limit = Amount(one.design.pressure, PRESSURE), Amount(one.stands, PRESSURE)
    told = say(
        "The weakest joint or fitting is the {piece} in the {run}: made for {limit} at {warmth}, {pressure} can come "
        "{cause}; {spare} to spare.",
        piece=one.row.name.lower(),
        run=one.at,
        limit=limit,
        warmth=Amount(one.design.temperature, TEMPERATURE),
        pressure=pressure,
        cause=CAUSES[one.design.cause],
        spare=Amount(1.0 - one.load, SHARE, 2),
    )
    return Finding(
        "ratings.pieces",
        Verdict.FINE,
        told,
        value=pressure,
        limit=limit,
        address=one.address,
        source=one.row.source,
    )
