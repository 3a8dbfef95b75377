"""Outlets that are open together as tables: what each gives, where the pressure goes, what would help."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.simultaneous.sets import OpenSet
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, SECONDS, SHARE, SPEED, TEMPERATURE

__all__ = ["set_tables"]

MOST = 5
"""Remedies that are told for a set."""


def set_tables(sets: tuple[OpenSet, ...]) -> Iterator[Table]:
    """The tables of the sets.

    Parameters
    ----------
    sets : tuple of OpenSet
        The sets.

    Yields
    ------
    Table
        All outlets in their sets, a pressure budget for each set, all remedies; nothing where no set is planned.
    """
    if not sets:
        return
    yield _outlets(sets)
    for one in sets:
        yield _budget(one)
    remedies = _remedies(sets)
    if remedies.rows:
        yield remedies


def _outlets(sets: tuple[OpenSet, ...]) -> Table:
    rows = []
    for one in sets:
        for outlet in one.outlets:
            tap, wait = one.temperature.get(outlet), one.wait.get(outlet)
            rows.append(
                (
                    one.name,
                    outlet,
                    one.alone[outlet].flow.amount,
                    one.flow[outlet],
                    one.pressure[outlet].amount,
                    Amount(one.speed[outlet].speed, SPEED, 2),
                    None if tap is None else Amount(tap.comes, TEMPERATURE, 2),
                    None if wait is None else Amount(wait.wait.likely, SECONDS, 2),
                )
            )
    return Table(
        "together",
        say(
            "Outlets that are open together. The temperature is that of a tap left as it was set for its outlet alone."
        ),
        (
            Column("open together"),
            Column("outlet"),
            Column("alone", FLOW),
            Column("together", FLOW),
            Column("pressure before it", PRESSURE),
            Column("fastest run", SPEED),
            Column("tap left", TEMPERATURE),
            Column("hot after", SECONDS),
        ),
        tuple(rows),
    )


def _budget(one: OpenSet) -> Table:
    budget = one.budget
    return Table(
        f"together {one.name}",
        say(
            "Where the pressure goes to the {outlet} with {opened} open, largest first.",
            outlet=budget.outlet,
            opened=one.outlets,
        ),
        (Column("piece"), Column("takes", PRESSURE_DIFFERENCE), Column("share", SHARE)),
        tuple(
            (
                piece.label,
                Amount(piece.loss, PRESSURE_DIFFERENCE, 2),
                Amount(piece.loss / budget.rise, SHARE, 2) if budget.rise > 0 else None,
            )
            for piece in budget.largest_first
        ),
        note=say(
            "The pieces add up to {rise} within {left}.",
            rise=Amount(budget.rise, PRESSURE_DIFFERENCE),
            left=Amount(budget.residual + one.rows.residual, PRESSURE_DIFFERENCE, 1),
        ),
    )


def _remedies(sets: tuple[OpenSet, ...]) -> Table:
    return Table(
        "together gains",
        say("What would bring the weakest outlet of each set more, by the whole network, largest first."),
        (Column("open together"), Column("change"), Column("outlet"), Column("gain", FLOW), Column("in all", FLOW)),
        tuple(
            (one.name, gain.words, gain.outlet, Amount(gain.flow, FLOW, 2), Amount(gain.all_together, FLOW, 2))
            for one in sets
            for gain in one.remedies[:MOST]
        ),
    )
