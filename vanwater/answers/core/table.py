"""Numbers side by side: a table is laid out here once; terminal, page and notebook only set down what it says."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from vanwater.answers.core.cell import (
    ONE_LINE,
    Cell,
    column_values,
    in_cell,
    stand_for_numbers,
    unit_of,
    units_of,
)
from vanwater.answers.core.escaping import harmless
from vanwater.answers.core.statement import Say
from vanwater.quantities import THOUSANDS, Quantity

__all__ = ["BLANKS", "Column", "Head", "Laid", "LaidCell", "Table"]

_DIGIT_WIDE, _POINT_WIDE = BLANKS = "\N{FIGURE SPACE}", "\N{PUNCTUATION SPACE}"
"""As wide as a digit, and as a decimal point."""
_PLAIN_NUMBER = re.compile(rf"\N{{MINUS SIGN}}?[\d{THOUSANDS}]+(?:\.(\d+))?")
_GAP = "  "


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its heading, and its quantity where it holds numbers.

    Parameters
    ----------
    heading : str
        Short words; the unit is added when it is shown.
    quantity : Quantity, optional
        Of its numbers. Without one, a column whose numbers all have one unit is laid out as if it had named it.
    """

    heading: str
    quantity: Quantity | None = None

    def numeric(self, cells: Sequence[Cell]) -> bool:
        """Whether it is a column of numbers, given what it holds."""
        return self.quantity is not None or stand_for_numbers(cells)

    def unit(self, cells: Sequence[Cell], us: bool = False) -> str:
        """The unit that its head names: that of all its numbers, else its quantity's."""
        units = units_of(cells, us) if self.numeric(cells) else ()
        return units[0] if len(units) == 1 else unit_of(self.quantity, us)


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a column as it is laid out.

    Parameters
    ----------
    text, unit : str
        Its words, and the unit of its numbers; empty where it holds none or several.
    numeric : bool
        Whether the column is set right.
    ranged : bool
        Whether the ends of ranges stand beside its numbers.
    """

    text: str
    unit: str
    numeric: bool
    ranged: bool


@dataclass(frozen=True, slots=True)
class LaidCell:
    """A cell as it is laid out.

    Parameters
    ----------
    text : str
        Words, or a number without the unit that its head names.
    ends : str
        The ends of its range in brackets; empty without one.
    blank : str
        Spaces as wide as the decimals that it lacks: set right with them, the points of a column stand in line.
    cell : Cell
        What it shows.
    """

    text: str
    ends: str
    blank: str
    cell: Cell


@dataclass(frozen=True, slots=True)
class Laid:
    """A table as every medium shows it.

    Parameters
    ----------
    heads : tuple of Head
        From left to right.
    rows : tuple of tuple of LaidCell
        From top to bottom.
    """

    heads: tuple[Head, ...]
    rows: tuple[tuple[LaidCell, ...], ...]


@dataclass(frozen=True, slots=True)
class Table:
    """Numbers side by side.

    Parameters
    ----------
    key : str
        Short name.
    caption : Say
        What to see in it.
    columns : tuple of Column
        From left to right.
    rows : tuple of tuple of Cell
        Texts are a plan's own; None is an empty cell.
    note : Say, optional
        What belongs under it.
    """

    key: str
    caption: Say
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: Say | None = None

    def known(self, always: int = 0) -> Table:
        """The table without the columns in which nothing stands.

        Parameters
        ----------
        always : int
            How many of its first columns stay in any case.

        Returns
        -------
        Table
            With the same rows.
        """
        kept = [at for at in range(len(self.columns)) if at < always or any(row[at] is not None for row in self.rows)]
        return replace(
            self,
            columns=tuple(self.columns[at] for at in kept),
            rows=tuple(tuple(row[at] for at in kept) for row in self.rows),
        )

    def cells(self, us: bool = False, escape: Callable[[str], str] = ONE_LINE) -> Laid:
        """Lay the table out: units in the heads, numbers set right, ranges beside them.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.
        escape : callable
            What makes texts harmless where they are shown.

        Returns
        -------
        Laid
            Its texts are ready to be shown.
        """
        columns = [_laid(*pair, us, escape) for pair in self._columns]
        return Laid(tuple(head for head, _ in columns), tuple(zip(*(cells for _, cells in columns), strict=True)))

    def html(self, us: bool = False) -> str:
        """The table with its caption and note as a piece of a page.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.

        Returns
        -------
        str
            Harmless HTML that needs no style sheet.
        """
        escape = harmless("html")
        laid = self.cells(us, escape)
        heads = "".join(map(_th, laid.heads))
        rows = "".join(
            f"<tr>{''.join(_td(*pair) for pair in zip(laid.heads, row, strict=True))}</tr>" for row in laid.rows
        )
        note = f'<p class="vw-note">{self.note.text(us, escape)}</p>' if self.note is not None else ""
        caption = f'<caption style="text-align:left;caption-side:top">{self.caption.text(us, escape)}</caption>'
        table = '<table class="vw-table" style="font-variant-numeric:tabular-nums">'
        return f"{table}{caption}<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>{note}"

    def _repr_html_(self) -> str:
        return self.html()

    def text(self, us: bool = False) -> str:
        """The table in plain text, one row a line below the heads, their units in the second line.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.

        Returns
        -------
        str
            As wide as its columns are.
        """
        laid = self.cells(us)
        columns: list[list[str]] = []
        for place, head in enumerate(laid.heads):
            cells = [row[place] for row in laid.rows]
            above, below = (head.text, head.unit) if head.unit else ("", head.text)
            shown = [above, below, *(cell.text + " " * len(cell.blank) for cell in cells)]
            width = max(map(len, shown))
            columns.append([line.rjust(width) if head.numeric else line.ljust(width) for line in shown])
            if head.ranged:
                ends = ["", "", *(cell.ends for cell in cells)]
                columns.append([line.ljust(max(map(len, ends))) for line in ends])
        lines = [_GAP.join(line).rstrip() for line in zip(*columns, strict=True)]
        return "\n".join(lines if lines[0] else lines[1:])

    def values(
        self, us: bool = False, si: bool = False, escape: Callable[[str], str] = ONE_LINE
    ) -> tuple[tuple[str, list[Any]], ...]:
        """The columns as plain floats and texts, for programs that work on with them.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.
        si : bool
            SI units instead of either.
        escape : callable
            What makes texts harmless where they go.

        Returns
        -------
        tuple of (str, list)
            Heading with its unit, such as "lasts [days]", and the values. The ends of ranges are two further columns,
            "lasts low [days]" and "lasts high [days]"; where the numbers of a column have several units, each row's
            unit is one, "usable unit". A word that stands in place of a number stays a word.
        """
        return tuple(
            named
            for column, cells in self._columns
            for named in column_values(column.heading, column.quantity, cells, us, si, escape)
        )

    def frame(self, us: bool = False, si: bool = False) -> Any:
        """The table as a pandas data frame: numbers as floats, units in the heads.

        Parameters
        ----------
        us : bool
            US units instead of metric ones.
        si : bool
            SI units instead of either.

        Returns
        -------
        pandas.DataFrame
            The columns of :meth:`values`.

        Raises
        ------
        ImportError
            When pandas is not installed.
        """
        import pandas as pd

        columns = self.values(us, si)
        frame = pd.DataFrame(dict(enumerate(values for _, values in columns)))
        frame.columns = [heading for heading, _ in columns]
        return frame

    @property
    def _columns(self) -> tuple[tuple[Column, tuple[Cell, ...]], ...]:
        """Each column with its cells."""
        return tuple((column, tuple(row[place] for row in self.rows)) for place, column in enumerate(self.columns))


def _laid(
    column: Column, cells: Sequence[Cell], us: bool, escape: Callable[[str], str]
) -> tuple[Head, tuple[LaidCell, ...]]:
    unit, numeric = column.unit(cells, us), column.numeric(cells)
    texts = [in_cell(cell, unit, us, escape) for cell in cells]
    in_line = numeric and bool(unit or len(units_of(cells, us)) == 1)
    plain = [_PLAIN_NUMBER.fullmatch(text) if in_line else None for text, _ in texts]
    decimals = [None if number is None else len(number[1] or "") for number in plain]
    most = max((places for places in decimals if places is not None), default=0)
    head = Head(escape(column.heading), escape(unit), numeric, any(ends for _, ends in texts))
    return head, tuple(
        LaidCell(*text, _blank(places, most), cell) for text, places, cell in zip(texts, decimals, cells, strict=True)
    )


def _blank(places: int | None, most: int) -> str:
    """As wide as what a number with so many decimals lacks beside the one with most of them."""
    if places is None:
        return ""
    return _POINT_WIDE * (most > 0 == places) + _DIGIT_WIDE * (most - places)


def _th(head: Head) -> str:
    name = ", ".join(filter(None, (head.text, head.unit)))
    across = ' colspan="2"' if head.ranged else ""
    return f'<th scope="col"{across}{_set(head.numeric and not head.ranged)}>{name}</th>'


def _td(head: Head, cell: LaidCell) -> str:
    ends = f"<td{_set(False, cell.ends)}>{cell.ends}</td>" if head.ranged else ""
    return f"<td{_set(head.numeric, cell.text * head.numeric)}>{cell.text}{cell.blank}</td>{ends}"


def _set(right: bool, whole: str = "") -> str:
    """How a cell is set: right or left, and unbroken what is a number."""
    side = "right" if right else "left"
    return f' style="text-align:{side}{";white-space:nowrap" * (" " in whole)}"'
