"""A table of an answer as columns: numbers set right, one unit a column, the range beside its number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from rich.cells import cell_len
from rich.table import Table as Grid
from rich.text import Text

from vanwater.answers.core.table import Table
from vanwater.quantities import NO_BREAK
from vanwater.terminal.screen import HELD, Screen

__all__ = ["Strip", "set_in_columns", "strips"]

GAPS = (2, 1)
"""Columns of the screen between two strips: what is wanted, and what will do where a table would not fit else."""
NARROWEST_TEXT = 10


@dataclass(frozen=True, slots=True)
class Strip:
    """A column as it is set: its heading above its cells.

    Parameters
    ----------
    head : str
        Heading, the unit in its second line.
    cells : tuple of Text
        From top to bottom.
    number : bool
        Whether it holds numbers, which are set right and never broken.
    whole : bool
        Whether its cells are never broken.
    """

    head: str
    cells: tuple[Text, ...]
    number: bool = False
    whole: bool = False

    @property
    def width(self) -> int:
        """Columns of the screen that it would like."""
        heads = [cell_len(line) for line in self.head.split("\n")]
        return max([*heads, *(cell.cell_len for cell in self.cells)])

    @property
    def least(self) -> int:
        """Columns of the screen that it cannot do without."""
        head = max(map(cell_len, self.head.split()), default=0)
        if self.number or self.whole:
            return max([head, *(cell.cell_len for cell in self.cells)])
        words = [cell_len(word) for cell in self.cells for word in cell.plain.split()]
        return max(head, min(max(words, default=0), NARROWEST_TEXT))


def strips(table: Table, screen: Screen, most: int | None = None) -> tuple[Strip, ...]:
    """A table's columns as they are set; a range gets a column of its own beside its number.

    Parameters
    ----------
    table : Table
        From an answer.
    screen : Screen
        Units and letters.
    most : int, optional
        How many of its rows are shown; all without it.

    Returns
    -------
    tuple of Strip
        From left to right.
    """
    laid = replace(table, rows=table.rows[:most]).cells(screen.us)
    columns = []
    for place, head in enumerate(laid.heads):
        cells = [row[place] for row in laid.rows]
        words = "\n".join(part for part in (head.text, head.unit.replace(" ", NO_BREAK)) if part)
        shown = tuple(Text(screen.held(cell.text + cell.blank)) for cell in cells)
        columns.append(Strip(screen.held(words), shown, number=head.numeric))
        if head.ranged:
            ends = tuple(Text(screen.held(cell.ends), style="dim") for cell in cells)
            columns.append(Strip("", ends, whole=True))
    return tuple(columns)


def set_in_columns(columns: Sequence[Strip], screen: Screen, indent: int = 0) -> list[str]:
    """Columns side by side, without lines around them; one row under the other where they do not fit.

    Parameters
    ----------
    columns : sequence of Strip
        From left to right.
    screen : Screen
        Its width is kept.
    indent : int
        Columns that are left free at the left.

    Returns
    -------
    list of str
        The lines.
    """
    least = sum(column.least for column in columns)
    free = screen.console.width - indent
    gap = next((gap for gap in GAPS if least + gap * (len(columns) - 1) <= free), None)
    if gap is None:
        return _row_by_row(columns, screen, indent)
    room = free - gap * (len(columns) - 1)
    if screen.plain and sum(column.width for column in columns) <= room and _lines_alone(columns):
        return _side_by_side(columns, gap, screen, indent)
    fixed = {place: column.width for place, column in enumerate(columns) if column.number or column.whole}
    texts = [column for column in columns if not (column.number or column.whole)]
    if sum(fixed.values()) + sum(column.least for column in texts) > room:
        fixed = {place: columns[place].least for place in fixed}
    grid = Grid(
        box=None,
        padding=(0, gap, 0, 0),
        pad_edge=False,
        show_header=any(column.head for column in columns),
        header_style="dim",
    )
    for place, column in enumerate(columns):
        grid.add_column(
            Text(column.head),
            justify="right" if column.number else "left",
            overflow="fold",
            width=fixed.get(place),
        )
    for row in zip(*(column.cells for column in columns), strict=True):
        grid.add_row(*row)
    return screen.lines(grid, indent=indent)


def _lines_alone(columns: Sequence[Strip]) -> bool:
    """Whether every cell is one line."""
    return not any("\n" in cell.plain or "\t" in cell.plain for column in columns for cell in column.cells)


def _side_by_side(columns: Sequence[Strip], gap: int, screen: Screen, indent: int) -> list[str]:
    """Columns that have all the room they would like, as the grid would set them, at a fifth of the time."""
    heads = [column.head.split("\n")[::-1] for column in columns]  # they stand on their columns
    rows = [*zip_longest(*heads, fillvalue="")][::-1] if any(column.head for column in columns) else []
    rows += zip(*([cell.plain for cell in column.cells] for column in columns), strict=True)
    set_out = []
    for row in rows:
        pieces = []
        for text, column in zip(row, columns, strict=True):
            text = text.rstrip() if column.number else text
            blank = " " * (column.width - cell_len(text))
            pieces.append(blank + text if column.number else text + blank)
        set_out.append(Text((" " * gap).join(pieces).rstrip(" ")))
    return screen.lines(*set_out, indent=indent)


def _row_by_row(columns: Sequence[Strip], screen: Screen, indent: int) -> list[str]:
    things: list[Text] = []
    for row in zip(*(column.cells for column in columns), strict=True):
        for column, cell in zip(columns, row, strict=True):
            head = ", ".join(column.head.split("\n"))
            said = Text(cell.plain.rstrip(HELD), style=cell.style)
            if head and said.plain:
                things.append(Text.assemble((f"{head}: ", "dim"), said))
            elif said.plain and things:
                things[-1] = Text.assemble(things[-1], " ", said)
        things.append(Text(""))
    return screen.lines(*things[:-1], indent=indent)
