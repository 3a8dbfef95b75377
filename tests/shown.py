"""What the example vans are shown beside sentences, line by line, as ``tests/told/*.shown.txt`` holds it.

Every cell of every table as it is laid out, every address that sliders turn or that a finding leads to, what is told at
a glance and what goes with the van, every number with its digits, its range and the pieces of its sum, every chart with
the ends, the extremes and the mean of what it draws; metric, and the tables in US units too.
``python -m tests.sentences`` writes the files anew; ``tests/test_sentences.py`` compares them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields

import numpy as np

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.chart import Bars, Chart, Line, words
from vanwater.answers.core.handover import Handed
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Piece
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say
from vanwater.answers.questions import Answers

NOTHING = 1e-9
"""Relative: less is the rounding of a curve that ends at zero."""


def shown(answers: Answers) -> list[str]:
    """Every table, number and chart of a plan's answers."""
    lines: list[str] = []
    for key, answer in answers.items():
        lines += (f"{key} control: {address}" for address in answer.question.controls(answers.plan, answer))
        lines += (f"{key} {line}" for line in _leads(answer))
        lines += (f"{key} fits {at}: {part}" for at, part in answer.question.fits(answers.plan, answer).items())
        lines += (f"{key} glance: {key_text(number.key)}" for number in answer.question.glance(answer))
        lines += (f"{key} {_handed(each)}" for each in answer.question.handover(answers.plan, answer))
        lines += (f"{key} {line}" for line in _tables(answer))
        lines += (f"{key} {line}" for chart in _charts(answer) for line in _chart(chart))
    lines += (_number(key, number) for key, number in answers.numbers.items())
    return lines


def _leads(answer: Answer) -> Iterator[str]:
    """Findings in their order, each with what it was judged by and where it leads; where an assumption leads."""
    for finding in answer.findings:
        judged = [_value(each) for each in (finding.value, finding.limit, finding.side) if each is not None]
        yield f"leads {finding.key}: {finding.address} | {finding.bound} | {' | '.join(judged)}"
    for assumption in answer.assumptions:
        yield f"leads {assumption.key}: {assumption.address}"


def _handed(handed: Handed) -> str:
    values = (getattr(handed, each.name) for each in fields(handed))
    return f"{type(handed).__name__}: " + " | ".join(map(_value, values))


def _tables(answer: Answer) -> Iterator[str]:
    for table in answer.tables:
        for us in (False, True):
            laid = table.cells(us)
            yield f"table {table.key}: " + " | ".join(f"{head.text} {head.unit}".strip() for head in laid.heads)
            yield from (
                f"table {table.key}: " + " | ".join(f"{cell.text} {cell.ends}".strip() for cell in row)
                for row in laid.rows
            )


def _charts(answer: Answer) -> Iterator[Chart]:
    makers = {**answer.question.charts, **answer.question.on_demand}
    yield from (chart for make in makers.values() if (chart := make(answer)) is not None)


def _chart(chart: Chart) -> Iterator[str]:
    """A chart in words, and each thing that it draws in one line."""
    yield f"chart {chart.key}: {words(chart.title, 'terminal')} | {chart.x.label} | {chart.y.label}"
    yield f"chart {chart.key}: {words(chart.sentence, 'terminal')}"
    for draw in chart.draws:
        roles = " ".join(draw.roles) if isinstance(draw, Bars) else draw.role
        names = [words(name, "terminal") for name in draw.names] if isinstance(draw, Bars) else []
        said = " | ".join([type(draw).__name__, roles, words(draw.label, "terminal"), *names])
        kinds = ("x", "y", "low", "high") if isinstance(draw, Line) else ("x", "y", "values", "start", "low", "high")
        held = {kind: getattr(draw, kind, None) for kind in kinds}
        numbers = " | ".join(f"{kind} {_few(values)}" for kind, values in held.items() if values is not None)
        yield f"chart {chart.key}: {said} | {numbers}"


def _few(values: object) -> str:
    """One to four numbers as they are; of more the first, the last, the least, the greatest, the mean and the count.

    What is nothing beside the greatest is nothing.
    """
    array = np.atleast_1d(np.asarray(values, dtype=np.float64))
    known = array[np.isfinite(array)]
    array = np.where(np.abs(array) < NOTHING * np.max(np.abs(known), initial=0.0), 0.0, array)
    known = array[np.isfinite(array)]
    if array.size > 4 and known.size:
        array = np.array([array[0], array[-1], known.min(), known.max(), known.mean(), known.size])
    return " ".join(f"{value + 0.0:.5g}" for value in array)


def _number(key: str, number: Number) -> str:
    ends = number.unranged or " to ".join(f"{end:.4g}" for end in number.range or ())
    pieces = " | ".join(_piece(piece) for piece in (*number.given, *number.facts))
    return f"number {key}: {number.name} = {number.result.text()} ({number.digits}) [{ends}] {pieces}".rstrip()


def _piece(piece: Piece) -> str:
    return f"{piece.name} {_value(piece.value)}"


def _value(value: object) -> str:
    return value.text() if isinstance(value, Amount | Range | Say | Number) else str(value)
