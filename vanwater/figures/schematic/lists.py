"""What the numbers of a plumbing drawing stand for, as tables."""

from __future__ import annotations

from vanwater.answers.core.statement import in_either, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import planned
from vanwater.figures.schematic.parts import KINDS, Piping
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.quantities import LENGTH

__all__ = ["numbered_pieces", "numbered_runs"]


def numbered_pieces(drawn: Piping) -> Table:
    """The pieces by their numbers.

    Parameters
    ----------
    drawn : Piping
        What is drawn.

    Returns
    -------
    Table
        Number, what it is, what the plan calls it.
    """
    on = {key: line.number for line in drawn.lines for key in line.places[1:-1]}
    pieces = sorted((*drawn.pieces, *drawn.alone), key=lambda piece: piece.number)
    rows = tuple(
        (
            say("{number}", number=str(piece.number)),
            f"{piece.holds} {KINDS.get(piece.kind, piece.kind)}".strip(),
            f"on R{on[piece.key]}" if piece.key in on else piece.name,
        )
        for piece in pieces
    )
    return Table(
        "pieces",
        say("The pieces by their numbers on the drawing."),
        (Column("no."), Column("piece"), Column("in the plan")),
        rows,
    )


def numbered_runs(plan: Plan, drawn: Piping) -> Table:
    """The runs by their numbers.

    Parameters
    ----------
    plan : Plan
        The plan.
    drawn : Piping
        What is drawn of it.

    Returns
    -------
    Table
        Number, name, what it joins, what runs in it, size, length, fittings.
    """
    names = {piece.key: piece.name for piece in (*drawn.pieces, *drawn.alone)}
    rows = []
    for line in drawn.lines:
        if not line.number:
            continue
        run = plan.runs[line.name]
        pieces = ", ".join(f"{count} {key}" for key, count in run.fittings.items() if count)
        length = planned(plan, joined(("runs", line.name, "length")), LENGTH).amount if run.length is not None else None
        rows.append(
            (
                f"R{line.number}",
                line.name,
                say("{start} to {end}", start=names[line.places[0]], end=names[line.places[-1]]),
                line.water,
                say("{size}", size=in_either(run.size)) if run.size else None,
                length,
                say("{pieces}", pieces=in_either(pieces)) if pieces else None,
            )
        )
    heads = ("no.", "run", "from and to", "water", "size")
    columns = (*(Column(head) for head in heads), Column("length", LENGTH), Column("fittings"))
    return Table("runs", say("The runs by their numbers on the drawing."), columns, tuple(rows))
