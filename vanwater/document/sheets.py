"""Tables as they are laid out on a page: units in the heading, numbers set right, ranges in a column of their own."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from vanwater.answers.core.answer import Cell, Column, Table
from vanwater.answers.core.statement import Amount, Range, Say
from vanwater.document.sums import Sum, Sums
from vanwater.document.words import Words

__all__ = ["Heading", "Row", "Sheet", "Slot", "laid_out"]


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a column.

    Parameters
    ----------
    text, unit : str
        Its words and its unit.
    numeric : bool
        Whether the column is set right.
    ranged : bool
        Whether a column with the ends of the ranges stands beside it.
    """

    text: str
    unit: str
    numeric: bool
    ranged: bool


@dataclass(frozen=True, slots=True)
class Slot:
    """One cell.

    Parameters
    ----------
    text : Markup
        The number or the words.
    ends : Markup
        The ends of its range.
    heading : Heading
        The head of its column.
    """

    text: Markup
    ends: Markup
    heading: Heading


@dataclass(frozen=True, slots=True)
class Row:
    """One row.

    Parameters
    ----------
    slots : tuple of Slot
        From left to right; the first names the row.
    sums : tuple of Sum
        The sums behind its numbers.
    """

    slots: tuple[Slot, ...]
    sums: tuple[Sum, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table, ready for the page.

    Parameters
    ----------
    table : Table
        The answer's own.
    headings : tuple of Heading
        From left to right.
    rows : tuple of Row
        From top to bottom.
    """

    table: Table
    headings: tuple[Heading, ...]
    rows: tuple[Row, ...]

    @property
    def summed(self) -> bool:
        """Whether any row points to a sum."""
        return any(row.sums for row in self.rows)


def laid_out(table: Table, answer: str, words: Words, sums: Sums) -> Sheet:
    """Lay a table of an answer out.

    Parameters
    ----------
    table : Table
        The table.
    answer : str
        Key of the answer that it belongs to.
    words : Words
        What writes its cells.
    sums : Sums
        Where its numbers are found again.

    Returns
    -------
    Sheet
        The same numbers, in the same order.
    """
    headings = tuple(
        _heading(column, [row[place] for row in table.rows], words) for place, column in enumerate(table.columns)
    )
    rows = []
    for row in table.rows:
        slots = tuple(
            Slot(*words.cell(cell, column.quantity), heading)
            for cell, column, heading in zip(row, table.columns, headings, strict=True)
        )
        numbers = [value for cell in row for value in _numbers(cell)]
        rows.append(Row(slots, sums.behind(answer, "", numbers, [cell for cell in row if isinstance(cell, str)])))
    return Sheet(table, headings, tuple(rows))


def _heading(column: Column, cells: list[Cell], words: Words) -> Heading:
    held = [cell for cell in cells if cell not in (None, "")]
    numeric = column.quantity is not None or (bool(held) and all(isinstance(cell, Amount | Range) for cell in held))
    ranged = any(isinstance(cell, Range) and cell.parts(words.us)[1] for cell in held)
    return Heading(column.heading, words.unit(column.quantity), numeric, ranged)


def _numbers(cell: Cell) -> tuple[Amount | Range, ...]:
    if isinstance(cell, Say):
        return cell.amounts
    return (cell,) if isinstance(cell, Amount | Range) else ()
