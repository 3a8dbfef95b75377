"""The table of the heating off: when each tank and run is at 0 °C, blocked, in danger; and how hours are set down."""

from __future__ import annotations

import math

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.frost.cold import NOBODY, Cold
from vanwater.answers.frost.heating_off import HeatingOff
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import HOURS

__all__ = ["FILLED", "HOURS_HEADS", "NEVER", "hours_told", "nobody", "off_table"]

NEVER, WEEKS = say("never"), say("weeks")

_LONGEST = 14 * 86400.0
"""What takes longer is told as weeks: no design cold lasts that long."""

FILLED = {"tenth": "last tenth", "half": "half", "full": "full"}
"""How full a tank is, in words; what freezes soonest first."""

HOURS_HEADS = (Column("freezing", HOURS), Column("blocked", HOURS), Column("may burst", HOURS))
"""Columns of the three times."""


def hours_told(freezing: Number, blocked: Number, burst: Number | None) -> tuple[Cell, Cell, Cell]:
    """The three times of a piece as cells."""
    return _cell(freezing), _cell(blocked), None if burst is None else _cell(burst)


def _cell(hours: Number) -> Cell:
    if not math.isfinite(hours.likely):
        return NEVER
    return hours.rounded(2, HOURS) if hours.likely <= _LONGEST else WEEKS


def off_table(cold: Cold, off: HeatingOff) -> Table:
    """When each tank and run is at 0 °C, blocked and in danger with the heating off.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    off : HeatingOff
        The van with the heating off.

    Returns
    -------
    Table
        What blocks first stands first.
    """
    rows = tuple(
        (
            f"{piece.lump.label}, {FILLED[piece.lump.fill]}" if piece.lump.fill else piece.lump.label,
            "indoors" if piece.indoors else "outside",
            *hours_told(piece.freezing, piece.blocked, piece.burst),
        )
        for piece in off.pieces
    )
    return Table(
        "heating_off",
        say(
            "Heating off, pads too: the same hours while the living room cools from {room} with a time constant of "
            "{constant}, in {cold}.",
            room=cold.room,
            constant=off.time_constant.amount,
            cold=cold.outside,
        ),
        (Column("piece"), Column("lies"), *HOURS_HEADS),
        rows,
        say("{nobody}{silent}", nobody=nobody(cold), silent=_silent(off)),
    )


def nobody(cold: Cold) -> Say:
    """What becomes of a van that is left cold for long."""
    begun = f"{NOBODY.capitalize()}, the room is as cold as outside: all water comes to the mean of the day, {{mean}}; "
    if cold.mean.likely < FREEZING_POINT:
        return say(begun + "what is not drained freezes, indoors too.", mean=cold.mean)
    told = begun + "only where {cold} lasts, what is not drained freezes, indoors too."
    return say(told, mean=cold.mean, cold=cold.outside)


def _silent(off: HeatingOff) -> Say:
    """Pieces of which the plan does not say enough."""
    if not off.silent:
        return say("")
    return say(" Not told, since sides or bore are not decided: {pieces}.", pieces=off.silent)
