"""What is said of sanitising: what to put in and for how long, how to flush, what of the lines is missing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Count, Say, say
from vanwater.answers.sanitising.doses import Sanitised
from vanwater.physics.sanitising import FULL_TANK
from vanwater.plan.model import Plan

__all__ = ["sanitising_findings"]


def sanitising_findings(plan: Plan, stores: Sequence[Sanitised]) -> Iterator[Finding]:
    """Everything that is said of sanitising.

    Parameters
    ----------
    plan : Plan
        The plan.
    stores : sequence of Sanitised
        The fresh tanks with what hangs on them.

    Yields
    ------
    Finding
        In no order.
    """
    for store in stores:
        yield from _undecided(plan, store)
        yield _dose(store)
        yield _flush(store)


def _dose(store: Sanitised) -> Finding:
    of = store.chlorine
    return Finding(
        f"sanitising.{store.group.name}.dose",
        Verdict.FINE,
        say(
            "Fill {tanks}, put in {bleach} of bleach or {granules} of granules, {spread}, "
            "and let all {water} stand {time}; a strip must still read {left} then.",
            tanks=store.called,
            bleach=store.bleach,
            granules=store.granules,
            spread=say("open every tap until it smells of chlorine" if store.tapped else "stir"),
            water=store.water,
            time=of.time,
            left=of.left,
        ),
        source=FULL_TANK.source,
    )


def _flush(store: Sanitised) -> Finding:
    of, through = store.chlorine, say(f"let {{litres}} run through {store.it}", litres=store.through)
    how: Say = through
    if store.changes is not None:
        least, most = store.changes.range or (store.changes.likely, store.changes.likely)
        words = {(1.0, 1.0): "once", (1.0, 2.0): "once or twice", (2.0, 2.0): "twice"}
        word = words.get((least, most))
        often = say(word) if word else say("{changes} times", changes=store.changes)
        goes = "it goes" if store.it == "it" else "they go"
        how = say(
            f"drain {store.it} as far as {goes} and fill {store.it} {{often}}, or {{through}}",
            often=often,
            through=through,
        )
    return Finding(
        f"sanitising.{store.group.name}.flush",
        Verdict.FINE,
        say(
            "To flush {tanks}, {how}{taps}, until a strip reads {allowed} or less.",
            tanks=store.called,
            how=how,
            taps=_taps(store),
            allowed=of.allowed,
        ),
        source=of.allowed.source,
    )


def _taps(store: Sanitised) -> Say:
    """By which taps its water runs off; none for a tank that feeds none."""
    hot = ", hot ones too" if store.batch.plan.heaters else ""
    return say(f", by every tap{hot}" if store.tapped else "")


def _undecided(plan: Plan, store: Sanitised) -> Iterator[Finding]:
    if not store.undecided:
        return
    first, runs = store.undecided[0], len(store.undecided)
    lacks = "length" if plan.runs[first].length is None else "size"
    yield Finding(
        f"sanitising.{store.group.name}.lines",
        Verdict.NOT_DECIDED,
        say(
            "What {runs} behind {tanks} will hold is not decided, so no dose counts it.",
            runs=Count(runs, "run"),
            tanks=store.called,
        ),
        change=say("Give size and length of the run {run}.", run=first),
        address=f"runs.{first}.{lacks}",
    )
