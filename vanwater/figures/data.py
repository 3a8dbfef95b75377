"""The numbers of a chart as a table file."""

from __future__ import annotations

import csv as table_file
import io
from collections.abc import Iterator

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Words, words
from vanwater.quantities import Quantity

__all__ = ["csv", "rows"]

Cell = str | float | None


def csv(chart: Chart, us: bool = False) -> str:
    """Write what a chart shows as comma-separated values, one point a line.

    Parameters
    ----------
    chart : Chart
        The chart.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    str
        The table with one line of headings that name the units; names of a plan cannot act as formulas.
    """
    file = io.StringIO()
    writer = table_file.writer(file, lineterminator="\n")
    for row in rows(chart, us):
        writer.writerow(["" if cell is None else f"{cell:.9g}" if isinstance(cell, float) else cell for cell in row])
    return file.getvalue()


def rows(chart: Chart, us: bool = False) -> Iterator[tuple[Cell, ...]]:
    """What a chart shows, the headings first.

    Parameters
    ----------
    chart : Chart
        The chart.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    iterator of tuple
        What is drawn, its numbers in display units, and the ends of its band or range.
    """

    def name(text: Words) -> str:
        return words(text, "csv", us)

    def shown(axis: Axis, value: float | None) -> float | None:
        quantity: Quantity | None = axis.quantity
        return None if value is None or quantity is None else float(quantity.show(value, us))

    if chart.bars:
        yield "kind", chart.y.text(us), chart.x.text(us), "start", "low", "high"
    else:
        yield "name", chart.x.text(us), chart.y.text(us), "low", "high"
    for draw in chart.draws:
        if isinstance(draw, Line):
            ends = [[None] * draw.x.size if end is None else end.tolist() for end in (draw.low, draw.high)]
            for x, y, low, high in zip(draw.x.tolist(), draw.y.tolist(), *ends, strict=True):
                yield name(draw.label), shown(chart.x, x), *(shown(chart.y, value) for value in (y, low, high))
        elif isinstance(draw, Bars):
            columns = [
                [None] * len(draw.names) if values is None else values.tolist()
                for values in (draw.values, draw.start, draw.low, draw.high)
            ]
            for bar, *values in zip(draw.names, *columns, strict=True):
                yield name(draw.label), name(bar), *(shown(chart.x, value) for value in values)
        elif chart.bars:
            yield name(draw.label), "", shown(chart.x, draw.x), None, None, None
        else:
            yield name(draw.label), shown(chart.x, draw.x), shown(chart.y, draw.y), None, None
