"""A table of an answer as columns: numbers set right, one unit a column, the range beside its number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rich.cells import cell_len
from rich.table import Table as Grid
from rich.text import Text

from vanwater.answers.core.answer import Cell, Column, Table
from vanwater.answers.core.statement import Amount, Range, Say
from vanwater.quantities import NO_BREAK, Quantity
from vanwater.terminal.screen import Screen

__all__ = ["Strip", "number_strips", "set_in_columns", "strips"]

GAP = 2
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
        if self.number or self.whole:
            return max([0, *(cell.cell_len for cell in self.cells), *(cell_len(word) for word in self.head.split())])
        return min(self.width, NARROWEST_TEXT)


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
    made = []
    rows = table.rows[:most]
    for place, column in enumerate(table.columns):
        held = [row[place] for row in rows]
        quantity = column.quantity
        cells = tuple(_shown(cell, quantity, screen) for cell in held)
        made.append(Strip(_heading(column, screen), cells, number=quantity is not None or _numbers(held)))
        ends = [_ends(cell, quantity, screen) for cell in held]
        if any(ends):
            made.append(Strip("", tuple(Text(screen.held(end), style="dim") for end in ends), whole=True))
    return tuple(made)


def number_strips(results: Sequence[Amount | Range | Say], screen: Screen, head: str = "") -> tuple[Strip, ...]:
    """Numbers of many quantities, each with its own unit, and their ranges beside them.

    Parameters
    ----------
    results : sequence of Amount, Range or Say
        The numbers.
    screen : Screen
        Units and letters.
    head : str
        Heading.

    Returns
    -------
    tuple of Strip
        One, or two where any number has a range.
    """
    parts = [one.parts(screen.us) if isinstance(one, Range) else (screen.words(one), "") for one in results]
    made = [Strip(head, tuple(Text(screen.held(likely)) for likely, _ in parts), number=True)]
    if any(ends for _, ends in parts):
        made.append(Strip("", tuple(Text(screen.held(ends), style="dim") for _, ends in parts), whole=True))
    return tuple(made)


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
    room = screen.console.width - indent - GAP * (len(columns) - 1)
    if sum(column.least for column in columns) > room:
        return _row_by_row(columns, screen, indent)
    fixed = {place: column.width for place, column in enumerate(columns) if column.number or column.whole}
    texts = [column for column in columns if not (column.number or column.whole)]
    if sum(fixed.values()) + sum(column.least for column in texts) > room:
        fixed = {place: columns[place].least for place in fixed}
    made = Grid(
        box=None,
        padding=(0, GAP, 0, 0),
        pad_edge=False,
        show_header=any(column.head for column in columns),
        header_style="dim",
    )
    for place, column in enumerate(columns):
        made.add_column(
            Text(column.head),
            justify="right" if column.number else "left",
            overflow="fold",
            width=fixed.get(place),
        )
    for row in zip(*(column.cells for column in columns), strict=True):
        made.add_row(*row)
    return screen.lines(made, indent=indent)


def _row_by_row(columns: Sequence[Strip], screen: Screen, indent: int) -> list[str]:
    things: list[Text] = []
    for row in zip(*(column.cells for column in columns), strict=True):
        for column, cell in zip(columns, row, strict=True):
            head = ", ".join(column.head.split("\n"))
            if head and cell.plain:
                things.append(Text.assemble((f"{head}: ", "dim"), cell))
            elif cell.plain and things:
                things[-1] = Text.assemble(things[-1], " ", cell)
        things.append(Text(""))
    return screen.lines(*things[:-1], indent=indent)


def _heading(column: Column, screen: Screen) -> str:
    unit = column.quantity.unit(screen.us) if column.quantity else ""
    unit = unit.replace(" ", NO_BREAK)
    return screen.held(f"{column.heading}\n{unit}" if unit else column.heading)


def _numbers(cells: Sequence[Cell]) -> bool:
    """Whether a column without a quantity of its own holds nothing but numbers."""
    held = [cell for cell in cells if cell is not None]
    return bool(held) and all(isinstance(cell, Amount | Range) for cell in held)


def _shown(cell: Cell, quantity: Quantity | None, screen: Screen) -> Text:
    """A cell without the unit that its heading names; in full where the column has another or none."""
    if cell is None:
        return Text("")
    if isinstance(cell, Amount | Range) and quantity is not None:
        if cell.quantity.unit(screen.us) == quantity.unit(screen.us):
            return Text(screen.held(_bare(cell, screen.us)))
        return screen.text(cell.amount if isinstance(cell, Range) else cell)
    return screen.text(cell)


def _bare(cell: Amount | Range, us: bool) -> str:
    likely = cell.parts(us)[0] if isinstance(cell, Range) else cell.text(us)
    return likely.partition(NO_BREAK)[0]


def _ends(cell: Cell, quantity: Quantity | None, screen: Screen) -> str:
    return cell.parts(screen.us)[1] if quantity is not None and isinstance(cell, Range) else ""
