"""The tables of the cold: what each tank loses and how cold it may get, hours to freeze, faces, remedies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.statement import Amount, Given, Range, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.frost.cold import FREEZING, Cold, lasting
from vanwater.answers.frost.cold_rows import ADDED, INSIDE, MORE_FOAM, SLEEVE, SLEEVED
from vanwater.answers.frost.pieces import TankFrost
from vanwater.answers.frost.runs import RunFrost
from vanwater.quantities import DAILY_ENERGY, HOURS, POWER, SHARE, TEMPERATURE, THICKNESS

__all__ = ["frost_tables"]

NEVER = say("never")


def frost_tables(cold: Cold, tanks: Sequence[TankFrost], runs: Sequence[RunFrost]) -> Iterator[Table]:
    """The tables of a plan in the cold, the most important first.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    tanks : sequence of TankFrost
        Its tanks in the cold.
    runs : sequence of RunFrost
        Its exposed runs.

    Yields
    ------
    Table
        Those with rows.
    """
    at = Amount(float(cold.outside[0]), TEMPERATURE)
    if tanks:
        yield _tanks(cold, tanks, at)
    if tanks or runs:
        yield _hours(cold, tanks, runs, at)
        remedies = tuple(_remedies(cold, tanks, runs))
        if remedies:
            yield Table(
                "remedies",
                say("What would stand more cold."),
                (Column("change"), Column("now"), Column("then")),
                remedies,
            )
    if tanks:
        yield _faces(tanks, at)


def _tanks(cold: Cold, tanks: Sequence[TankFrost], at: Amount) -> Table:
    def row(one: TankFrost) -> tuple[Cell, ...]:
        pad = one.pad
        held: tuple[Cell, ...] = (None,) * 4
        if pad is not None:
            endless = not np.isfinite(pad.holds.likely)
            lowest = (
                (say("any cold"),) * 2
                if endless
                else tuple(replace(held.amount, digits=2) for held in (pad.holds, pad.holds_driving))
            )
            held = (*lowest, Amount(pad.duty.likely, SHARE, 2), pad.energy.amount)
        return (one.label, one.parked.amount, one.driving.amount, *held)

    return Table(
        "tanks",
        say(
            "Heat that each tank loses full at {hold} in {cold}, and what its pad makes of it; more than 100 % on does "
            "not hold.",
            hold=Amount(float(cold.hold[0]), TEMPERATURE),
            cold=at,
        ),
        (
            Column("tank"),
            Column("loses parked", POWER),
            Column("driving", POWER),
            Column("held down to", TEMPERATURE),
            Column("driving", TEMPERATURE),
            Column("pad on", SHARE),
            Column("a day", DAILY_ENERGY),
        ),
        tuple(row(one) for one in tanks),
        say("Energy a day at the mean of {mean}.", mean=Amount(float(cold.mean[0]), TEMPERATURE)),
    )


def _hours(cold: Cold, tanks: Sequence[TankFrost], runs: Sequence[RunFrost], at: Amount) -> Table:
    rows: list[tuple[Cell, ...]] = [
        (one.run, _hours_of(one.hours), None, None, None) for one in sorted(runs, key=lambda run: run.hours.likely)
    ]
    rows += [
        (one.label, *(_hours_of(one.hours[fill]) for fill in ("full", "half", "tenth")), _hours_of(one.ice))
        for one in sorted(tanks, key=lambda tank: tank.hours["tenth"].likely)
    ]
    ice = Amount(cold.plan.frost.ice_share, SHARE, 2)
    return Table(
        "hours",
        say(
            "Hours until still water of {start} is at {freezing} without heat, parked in {cold}.",
            freezing=FREEZING,
            start=Amount(float(cold.start[0]), TEMPERATURE),
            cold=at,
        ),
        (
            Column("piece"),
            Column("full", HOURS),
            Column("half", HOURS),
            Column("last tenth", HOURS),
            Column("to ice", HOURS),
        ),
        tuple(rows),
        say("To ice: full, until {share} of it is ice.", share=ice) if tanks else None,
    )


def _hours_of(hours: Range) -> Cell:
    return Amount(hours.likely, HOURS, 2) if np.isfinite(hours.likely) else NEVER


def _faces(tanks: Sequence[TankFrost], at: Amount) -> Table:
    return Table(
        "faces",
        say("Heat by face at {cold}; less than nothing where the face feeds the tank.", cold=at),
        (
            Column("tank"),
            Column("faces"),
            Column("beside"),
            Column("foam", THICKNESS),
            Column("parked", POWER),
            Column("driving", POWER),
        ),
        tuple(
            (
                one.label,
                ", ".join(face.names),
                face.beside,
                Amount(face.foam, THICKNESS),
                Amount(face.parked, POWER, 2),
                Amount(face.driving, POWER, 2),
            )
            for one in tanks
            for face in one.faces
        ),
    )


def _remedies(cold: Cold, tanks: Sequence[TankFrost], runs: Sequence[RunFrost]) -> Iterator[tuple[Say, Say, Say]]:
    """Changes that bring something, with what they bring: each is a row of the same solve."""
    foam, sleeve, inside = (cold.batch.place(key) for key in (MORE_FOAM, SLEEVED, INSIDE))
    for one in tanks:
        change = say(
            "{foam} more foam on the cold faces of the {tank}", foam=Amount(ADDED, THICKNESS, 2), tank=one.label
        )
        held = one.pad.rows.holds[0] if one.pad is not None else None
        if held is not None and held[foam] < held[0]:
            before, after = (Amount(float(held[place]), TEMPERATURE, 2) for place in (0, foam))
            yield change, say("held to {now}", now=before), say("{then}", then=after)
        elif held is None and one.rows["tenth"][foam] > one.rows["tenth"][0]:
            before, after = (lasting(float(one.rows["tenth"][place])) for place in (0, foam))
            yield change, say("last tenth {now}", now=before), say("{then}", then=after)
    for run in runs:
        sleeved: dict[str, Given] = {"foam": Amount(SLEEVE, THICKNESS, 2)}
        for told, place, foamed in (
            ("a sleeve of {foam} on the {run}", sleeve, sleeved),
            ("the {run} in the heated room", inside, {}),
        ):
            hours = float(run.rows[place])
            if hours > run.rows[0]:
                then = say("{then}", then=lasting(hours)) if np.isfinite(hours) else NEVER
                yield say(told, run=run.run, **foamed), say("{now}", now=lasting(float(run.rows[0]))), then
