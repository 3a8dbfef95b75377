"""What a cell of a table holds, and what it says below the head of its column."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, TypeAlias

from vanwater.answers.core.escaping import harmless
from vanwater.answers.core.statement import Amount, Range, Say
from vanwater.quantities import NO_BREAK, Quantity

__all__ = [
    "ONE_LINE",
    "Cell",
    "column_values",
    "in_cell",
    "shown_of",
    "stand_for_numbers",
    "unit_of",
    "units_of",
]

Cell: TypeAlias = "str | Amount | Range | Say | None"

ONE_LINE = harmless("terminal")
"""Makes a text harmless where there is no markup."""


def shown_of(cell: Cell) -> Amount | Range | None:
    """The number that a cell shows; None where it is a text or empty."""
    return cell if isinstance(cell, Amount | Range) else None


def in_cell(cell: Cell, unit: str = "", us: bool = False, escape: Callable[[str], str] = ONE_LINE) -> tuple[str, str]:
    """What stands in a cell.

    Parameters
    ----------
    cell : Cell
        What the cell holds.
    unit : str
        The unit that the column's head names.
    us : bool
        US units instead of metric ones.
    escape : callable
        What makes texts harmless where they are shown.

    Returns
    -------
    tuple of str
        Words, or the number without the unit where the head names it; the ends of its range or an empty text.
    """
    shown = shown_of(cell)
    if shown is None:
        return cell.text(us, escape) if isinstance(cell, Say) else escape(cell) if isinstance(cell, str) else "", ""
    text, ends = shown.parts(us) if isinstance(shown, Range) else (shown.text(us), "")
    if unit and shown.quantity.unit(us) == unit:
        number, _, told = text.rpartition(NO_BREAK) if unit != "°" else (text[:-1], "", text[-1:])
        text = number if number and told in (unit, "day") else text
    return escape(text), escape(ends)


def units_of(cells: Iterable[Cell], us: bool = False, si: bool = False) -> tuple[str, ...]:
    """The units of the numbers among some cells, each once; an empty text for numbers that have none."""
    numbers = (number for number in map(shown_of, cells) if number is not None)
    return tuple(dict.fromkeys(unit_of(number.quantity, us, si) for number in numbers))


def unit_of(quantity: Quantity | None, us: bool = False, si: bool = False) -> str:
    """The unit in which a quantity is shown; empty where it has none, or there is no quantity."""
    if quantity is None:
        return ""
    return quantity.si.removeprefix("1") if si else quantity.unit(us)


def stand_for_numbers(cells: Iterable[Cell]) -> bool:
    """Whether cells hold numbers; a sentence may stand in place of one ("any cold"), a name may not."""
    held = [cell for cell in cells if cell not in (None, "")]
    return any(shown_of(cell) is not None for cell in held) and not any(isinstance(cell, str) for cell in held)


def column_values(
    heading: str, quantity: Quantity | None, cells: Sequence[Cell], us: bool, si: bool, escape: Callable[[str], str]
) -> Iterator[tuple[str, list[Any]]]:
    """A column as floats or texts, for programs that work on with them.

    Parameters
    ----------
    heading : str
        Its words.
    quantity : Quantity, optional
        Of its numbers, where it names one.
    cells : sequence of Cell
        From top to bottom.
    us : bool
        US units instead of metric ones.
    si : bool
        SI units instead of either.
    escape : callable
        What makes texts harmless where they go.

    Yields
    ------
    tuple of (str, list)
        Heading with unit and values, the same for the lower and the upper ends of its ranges where it has any, and
        each row's unit where there are several. A word that stands in place of a number stays a word.
    """
    heading = escape(heading)
    if quantity is None and not stand_for_numbers(cells):
        yield heading, [" ".join(filter(None, in_cell(cell, "", us, escape))) or None for cell in cells]
        return
    units = units_of(cells, us, si) or (unit_of(quantity, us, si),)
    unit = f" [{units[0]}]" if len(units) == 1 and units[0] else ""
    rows = [_ends(number, us, si) if (number := shown_of(cell)) is not None else None for cell in cells]
    yield (
        heading + unit,
        [ends[1] if ends else in_cell(cell, "", us, escape)[0] or None for ends, cell in zip(rows, cells, strict=True)],
    )
    if any(isinstance(shown_of(cell), Range) for cell in cells):
        yield f"{heading} low{unit}", [ends[0] if ends else None for ends in rows]
        yield f"{heading} high{unit}", [ends[2] if ends else None for ends in rows]
    if len(units) > 1:
        yield f"{heading} unit", ["".join(units_of([cell], us, si)) or None for cell in cells]


def _ends(number: Amount | Range, us: bool, si: bool) -> tuple[float | None, float, float | None]:
    """Lower end, likely value and upper end as they are shown; an end that is not known is none."""

    def shown(value: float) -> float:
        return float(value if si else number.quantity.show(value, us))

    if isinstance(number, Amount):
        return None, shown(number.value), None
    low, high = (None if math.isnan(end) else shown(end) for end in (number.low, number.high))
    return low, shown(number.likely), high
