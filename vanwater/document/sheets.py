"""Tables as they are laid out on a page: units in the heading, numbers set right, ranges in a column of their own."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from vanwater.answers.core.table import Head, Table
from vanwater.document.sums import Sums
from vanwater.document.words import Words

__all__ = ["Row", "Sheet", "Slot", "laid_out"]


WIDE = 6
"""Cells in a row from which on a table is wider than a telephone."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One cell.

    Parameters
    ----------
    text : Markup
        The number or the words.
    ends : Markup
        The ends of its range.
    head : Head
        The head of its column.
    """

    text: Markup
    ends: Markup
    head: Head


@dataclass(frozen=True, slots=True)
class Row:
    """One row.

    Parameters
    ----------
    slots : tuple of Slot
        From left to right; the first names the row.
    sums : tuple of int
        Numbers of the sums behind its numbers.
    """

    slots: tuple[Slot, ...]
    sums: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table, ready for the page.

    Parameters
    ----------
    table : Table
        The answer's own.
    heads : tuple of Head
        From left to right.
    rows : tuple of Row
        From top to bottom.
    """

    table: Table
    heads: tuple[Head, ...]
    rows: tuple[Row, ...]

    @property
    def summed(self) -> bool:
        """Whether any row points to a sum."""
        return any(row.sums for row in self.rows)

    @property
    def columns(self) -> str:
        """How its columns are set, as classes of the table: n2 where the second holds numbers, e3 ends of ranges."""
        place, said = 0, []
        for head in self.heads:
            place += 1
            said += [f"n{place}"] if head.numeric else []
            place += head.ranged
            said += [f"e{place}"] if head.ranged else []
        return " ".join((*said, "summed" if self.summed else "")).strip()

    @property
    def wide(self) -> bool:
        """Whether it is wider than a telephone, so that one goes along it by keyboard too."""
        return len(self.heads) + sum(head.ranged for head in self.heads) + self.summed >= WIDE


def laid_out(table: Table, words: Words, sums: Sums | None = None) -> Sheet:
    """Lay a table of an answer out.

    Parameters
    ----------
    table : Table
        The table.
    words : Words
        What writes its cells.
    sums : Sums, optional
        Where its numbers are found again; without it they lead nowhere, for papers whose sums stand in the file.

    Returns
    -------
    Sheet
        The same numbers, in the same order.
    """
    laid = table.cells(words.us, lambda text: Markup(words.escape(text)))
    rows = []
    for row, shown in zip(table.rows, laid.rows, strict=True):
        slots = tuple(
            Slot(Markup(cell.text + cell.blank), Markup(cell.ends), head)
            for head, cell in zip(laid.heads, shown, strict=True)
        )
        rows.append(Row(slots, () if sums is None else sums.behind(*row)))
    return Sheet(table, laid.heads, tuple(rows))
