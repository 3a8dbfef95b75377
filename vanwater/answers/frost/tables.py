"""The tables of the cold: what each tank loses and how cold it may get, hours to freeze, faces, remedies."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.frost.cold import FREEZING, STATES, Cold, lasting, pads_off
from vanwater.answers.frost.cold_rows import INSIDE, MORE_FOAM, SLEEVED, added, sleeve
from vanwater.answers.frost.heating_off import HeatingOff
from vanwater.answers.frost.off_table import FILLED, HOURS_HEADS, NEVER, hours_told, off_table
from vanwater.answers.frost.pads import PadFrost
from vanwater.answers.frost.runs import RunFrost
from vanwater.answers.frost.tank import TankFrost
from vanwater.quantities import DAILY_ENERGY, POWER, SHARE, TEMPERATURE, THICKNESS

__all__ = ["frost_tables"]


def frost_tables(
    cold: Cold,
    tanks: Sequence[TankFrost],
    pads: Mapping[str, PadFrost],
    runs: Sequence[RunFrost],
    off: HeatingOff | None,
) -> Iterator[Table]:
    """The tables of a plan in the cold, the most important first.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    tanks : sequence of TankFrost
        Its tanks in the cold.
    pads : mapping of str to PadFrost
        The pads of each tank.
    runs : sequence of RunFrost
        Its exposed runs.
    off : HeatingOff or None
        The van with the heating off.

    Yields
    ------
    Table
        Those with rows count.
    """
    yield _tanks(cold, tanks, pads)
    yield _hours(cold, tanks, runs)
    if off is not None:
        yield off_table(cold, off)
    columns = (Column("change"), Column("now"), Column("then"))
    caption = say(f"What would stand more cold; times are those until ice blocks it, {pads_off(cold.plan)}.")
    yield Table("remedies", caption, columns, tuple(_remedies(cold, tanks, pads, runs)))
    yield _faces(cold, tanks)


def _tanks(cold: Cold, tanks: Sequence[TankFrost], pads: Mapping[str, PadFrost]) -> Table:
    return Table(
        "tanks",
        say(
            "Pads on, van heated: heat that each tank loses full at {hold} in {cold}, and how cold its pad can hold "
            "it; a pad that would be on for more than 100 % does not hold."
            if pads
            else "Van heated: heat that each tank loses full at {hold} in {cold}.",
            hold=cold.hold,
            cold=cold.outside,
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
        tuple(
            (tank.label, *(loss.amount for loss in tank.loss.values()), *_held(pads.get(tank.tank))) for tank in tanks
        ),
        say("Energy a day at the mean of {mean}.", mean=cold.mean),
    )


def _held(pad: PadFrost | None) -> tuple[Cell, ...]:
    """How cold it may get with a pad, and how much that is on."""
    if pad is None:
        return (None,) * 4
    holds = (pad.holds.get(state) for state in STATES)
    lowest = (
        None if held is None else held.rounded(2) if math.isfinite(held.likely) else say("any cold") for held in holds
    )
    duty = pad.duty["parked"].rounded(2) if "parked" in pad.duty else None
    return (*lowest, duty, pad.energy.amount)


def _hours(cold: Cold, tanks: Sequence[TankFrost], runs: Sequence[RunFrost]) -> Table:
    rows: list[tuple[Cell, ...]] = [
        (run.label, cold.start.amount, *hours_told(run.hours["parked"], run.blocked, run.burst)) for run in runs
    ]
    for tank in sorted(tanks, key=lambda tank: tank.hours["parked"]["tenth"].likely):
        rows += [
            (
                f"{tank.label}, {told}",
                tank.solved.start.amount,
                *hours_told(tank.hours["parked"][fill], tank.blocked[fill], tank.burst if fill == "full" else None),
            )
            for fill, told in FILLED.items()
        ]
    return Table(
        "hours",
        say(
            f"{pads_off(cold.plan, True)}: hours until still water is at {{freezing}}, is blocked by ice, and may "
            "burst what shuts it in; parked in {cold}.",
            freezing=FREEZING,
            cold=cold.outside,
        ),
        (Column("piece"), Column("starts at", TEMPERATURE), *HOURS_HEADS),
        tuple(rows),
    )


def _faces(cold: Cold, tanks: Sequence[TankFrost]) -> Table:
    return Table(
        "faces",
        say(
            "Heat lost by each face at {cold}; below zero where what lies beside it warms the tank.", cold=cold.outside
        ),
        (
            Column("tank"),
            Column("faces"),
            Column("beside"),
            Column("foam", THICKNESS),
            Column("parked", POWER),
            Column("driving", POWER),
        ),
        tuple(
            (tank.label, face.names, face.beside, face.foam.amount, *(loss.rounded(2) for loss in face.loss.values()))
            for tank in tanks
            for face in tank.faces
        ),
    )


def _remedies(
    cold: Cold, tanks: Sequence[TankFrost], pads: Mapping[str, PadFrost], runs: Sequence[RunFrost]
) -> Iterator[tuple[Say, Say, Say]]:
    """Changes that bring something, with what they bring: each is a row of the same solve."""
    plan = cold.batch.plan
    more = added(plan)
    for tank in tanks:
        change = say("{foam} more foam on the cold faces of the {tank}", foam=more, tank=tank.label)
        if tank.tank in pads and "parked" in pads[tank.tank].holds:
            holds = pads[tank.tank].holds["parked"]
            then = holds.then(cold.batch.place(MORE_FOAM), MORE_FOAM)
            if then.likely < holds.likely:
                yield change, say("held to {now}", now=holds.rounded(2)), say("{then}", then=then.rounded(2))
        else:
            tenth = tank.blocked["tenth"]
            then = tenth.then(cold.batch.place(MORE_FOAM), MORE_FOAM)
            if then.likely > tenth.likely:
                yield change, say("last tenth {now}", now=lasting(tenth)), say("{then}", then=lasting(then))
    thickness: dict[str, Given] = {"foam": sleeve(plan)}
    for run in runs:
        now = run.blocked
        for told, row, foam in (
            ("a sleeve of {foam} on the {run}", SLEEVED, thickness),
            ("the {run} in the heated room", INSIDE, {}),
        ):
            then = now.then(cold.batch.place(row), row)
            if then.likely > now.likely:
                stands = say("{then}", then=lasting(then)) if math.isfinite(then.likely) else NEVER
                yield say(told, run=run.label, **foam), say("{now}", now=lasting(now)), stands
