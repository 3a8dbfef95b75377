"""How much chlorine tanks and lines take, how long it stands, how it is flushed out again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.slope import slope_assumptions, slope_pairs, slope_rows
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.sanitising.doses import DOSE, GRAMS, Chlorine, Sanitised
from vanwater.answers.sanitising.findings import sanitising_findings
from vanwater.physics.sanitising import FULL_TANK
from vanwater.plan.model import Plan
from vanwater.quantities import CONCENTRATION, HOURS, RATIO, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.tank_groups import tank_groups

__all__ = ["Sanitising", "sanitising"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Sanitising(Answer):
    """The answer on sanitising.

    Parameters
    ----------
    stores : tuple of Sanitised
        Fresh tanks by what acts as one, each with its lines and heaters.
    """

    stores: tuple[Sanitised, ...]


def sanitising(plan: Plan) -> Sanitising:
    """How tanks and lines are sanitised.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Sanitising
        Dose, time and flush of each fresh tank; not decided where there is none.
    """
    rows, chlorine = slope_rows(plan), Chlorine(plan.us)
    batch = Batch(plan, rows)
    slopes, groups = slope_pairs(batch, rows), [group for group in tank_groups(plan) if group.holds == "fresh"]
    stores = tuple(Sanitised(batch, group, chlorine, slopes) for group in groups)
    return Sanitising(
        verdict=_verdict(stores),
        decided=bool(stores),
        findings=worst_first(sanitising_findings(plan, stores)),
        make_tables=partial(_tables, stores),
        assumptions=(
            *_assumptions(stores, chlorine),
            *(told for told in slope_assumptions(plan) if told.key == "slope"),
        )
        if stores
        else (),
        stores=stores,
    )


def _verdict(stores: Sequence[Sanitised]) -> Say:
    if not stores:
        return say("No fresh tank is planned, so nothing is sanitised.")
    store = stores[0]
    return say(
        "Sanitising {tanks}{lines} takes {bleach} of bleach and {time}; then flush to {allowed}.",
        tanks=store.called,
        lines=say(" with the lines" if store.tapped else ""),
        bleach=store.bleach,
        time=store.chlorine.time,
        allowed=store.chlorine.allowed,
    )


def _tables(stores: Sequence[Sanitised]) -> Iterator[Table]:
    if not stores:
        return
    of = stores[0].chlorine
    yield Table(
        "doses",
        say("Two ways to sanitise: all full at once, or the bottom first."),
        (
            Column("tank"),
            Column("what is full"),
            Column("to start with", CONCENTRATION),
            Column("left at the end", CONCENTRATION),
            Column("bleach", DOSE),
            Column("granules", GRAMS),
            Column("stands", HOURS),
        ),
        tuple(row for store in stores for row in _doses(store)),
        say(
            "Bleach of {strength} sodium hypochlorite by weight, granules of {granules} available chlorine; more of "
            "them where a strip reads less at the end. Walls that a brush reaches: {spray} of bleach in {pail} of "
            "water make {level}; they stay wet for {time}.",
            strength=of.strength,
            granules=of.granules,
            spray=of.spray,
            pail=of.pail,
            level=of.walls,
            time=of.walls_time,
        ),
    )
    yield Table(
        "flush",
        say("What is sanitised, and what flushes it: fillings of the drained tank, or water run through."),
        (
            Column("tank"),
            Column("tanks", VOLUME),
            Column("lines", VOLUME),
            Column("heaters", VOLUME),
            Column("fillings", RATIO),
            Column("or run through", VOLUME),
        ),
        tuple(
            (
                store.group.name,
                store.tanks.amount,
                store.lines.amount,
                store.hot.amount if store.heaters else None,
                store.changes.shown if store.changes is not None else None,
                store.through.shown,
            )
            for store in stores
        ),
    )


def _doses(store: Sanitised) -> Iterator[tuple[Cell, ...]]:
    of, name = store.chlorine, store.group.name
    yield (name, "all", of.start.shown, of.left.amount, store.bleach.shown, store.granules.shown, of.time.amount)
    yield (
        name,
        say("its bottom, {water}", water=store.bottom),
        of.bottom.amount,
        None,
        store.bottom_bleach.amount,
        store.bottom_granules.amount,
        of.bottom_time.amount,
    )
    yield (name, "then all", store.filled.amount, of.kept.amount, None, None, of.kept_time.amount)


def _assumptions(stores: Sequence[Sanitised], of: Chlorine) -> Iterator[Assumption]:
    yield Assumption(
        "start",
        say(
            "A full tank starts with {start}: walls of hoses and their film use some up before {left} are left.",
            start=of.start,
            left=of.left,
        ),
        "Read a strip after an hour and at the end; put in more where it reads too low, and begin anew.",
        f"{FULL_TANK.source}, for what is left; common practice",
    )
    yield Assumption(
        "products",
        say(
            "Fresh bleach holds {bleach} sodium hypochlorite by weight, granules {granules} available chlorine.",
            bleach=of.strength,
            granules=of.granules,
        ),
        "Read the label: strength and what it counts. Old bleach is weaker.",
        "common practice",
    )
    if any(store.heaters for store in stores):
        yield Assumption(
            "hot side",
            say("Heaters behind it are sanitised too, switched off; pump, accumulator and filters are not counted."),
            "Ask the heater's maker whether chlorine may stand in it.",
            "common practice",
        )
    yield Assumption(
        "flush", say("The water that flushes holds no chlorine itself."), "Read a strip of it.", "common practice"
    )
