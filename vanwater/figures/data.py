"""The numbers of a chart as a table, and as a table file."""

from __future__ import annotations

import csv as table_file
import io
import itertools
import math
from collections.abc import Iterator

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.chart import Axis, Bars, Chart, Draw, Line
from vanwater.answers.core.escaping import harmless
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.quantities import Array

__all__ = ["csv", "table_of"]


def csv(chart: Chart, us: bool = False, digits: int = 9) -> str:
    """Write what a chart shows as comma-separated values, one point a line.

    Parameters
    ----------
    chart : Chart
        The chart.
    us : bool
        US units instead of metric ones.
    digits : int
        Of each number.

    Returns
    -------
    str
        The table with one line of headings that name the units; names of a plan cannot act as formulas.
    """
    file = io.StringIO()
    writer = table_file.writer(file, lineterminator="\n")
    headings, columns = zip(*table_of(chart).values(us, escape=harmless("csv")), strict=True)
    writer.writerow(headings)
    for row in zip(*columns, strict=True):
        writer.writerow(
            ["" if cell is None else f"{cell:.{digits}g}" if isinstance(cell, float) else cell for cell in row]
        )
    return file.getvalue()


def table_of(chart: Chart) -> Table:
    """What a chart shows, one point a row.

    Parameters
    ----------
    chart : Chart
        The chart.

    Returns
    -------
    Table
        What is drawn, where, and its numbers with the ends of their band or range; bars also say where they start.
    """
    axes = (chart.y, chart.x, Axis("start", chart.x.quantity)) if chart.bars else (chart.x, chart.y)
    columns = (Column("kind" if chart.bars else "name"), *(Column(axis.label, axis.quantity) for axis in axes))
    rows = tuple(row for draw in chart.draws for row in _rows(chart, draw))
    title = chart.title if isinstance(chart.title, Say) else say("{title}", title=chart.title)
    return Table(chart.key, title, columns, rows)


def _rows(chart: Chart, draw: Draw) -> Iterator[tuple[Cell, ...]]:
    if isinstance(draw, Bars):
        ends = _numbers(chart.x, draw.values, draw.low, draw.high)
        starts = [None] * len(draw.names) if draw.start is None else _numbers(chart.x, draw.start)
        yield from ((draw.label, *bar) for bar in zip(draw.names, ends, starts, strict=True))
    elif isinstance(draw, Line):
        for x, y in zip(_numbers(chart.x, draw.x), _numbers(chart.y, draw.y, draw.low, draw.high), strict=True):
            yield draw.label, x, y
    elif chart.bars:
        yield draw.label, None, _number(chart.x, draw.x), None
    else:
        yield draw.label, _number(chart.x, draw.x), _number(chart.y, draw.y)


def _number(axis: Axis, value: float | None, low: float | None = None, high: float | None = None) -> Cell:
    """A number of an axis, with its ends where it has any."""
    if value is None or axis.quantity is None:
        return None
    if low is None and high is None:
        return Amount(value, axis.quantity)
    ends = [math.nan if end is None else end for end in (low, high)]
    return Range(ends[0], value, ends[1], axis.quantity)


def _numbers(axis: Axis, values: Array, low: Array | None = None, high: Array | None = None) -> Iterator[Cell]:
    lows, highs = (itertools.repeat(None) if ends is None else ends.tolist() for ends in (low, high))
    return map(_number, itertools.repeat(axis), values.tolist(), lows, highs)
