"""The walk over every number of an answer: each has a key, a range or a reason, a sum with its source."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.chart import Bars, Chart
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say
from vanwater.answers.core.table import Table
from vanwater.answers.core.working import recomputed


def shown(*things: Any) -> Iterator[Amount | Range | Number]:
    """Every amount and range that sentences, findings, tables and charts show, and every number of a bar."""
    for thing in things:
        if isinstance(thing, Amount | Range | Number):
            yield thing
        elif isinstance(thing, Say):
            yield from shown(*(given for _, given in thing.given))
        elif isinstance(thing, tuple | list):
            yield from shown(*thing)
        elif isinstance(thing, Finding):
            yield from shown(thing.statement, thing.value, thing.limit, thing.change, thing.gain)
        elif isinstance(thing, Table):
            yield from shown(thing.caption, thing.rows, thing.note)
        elif isinstance(thing, Chart):
            yield from shown(thing.title, thing.sentence)
            for draw in thing.draws:
                yield from shown(draw.label)
                if isinstance(draw, Bars):
                    assert len(draw.numbers) == len(draw.names), f"{thing.key}: bars that are no numbers"
                    yield from draw.numbers


def walk(answer: Answer) -> int:
    """Hold every number that an answer shows, and every one behind it, to what a number must be; how many there were.

    What an answer assumes is told with shares that are its own, so assumptions are left out.
    """
    seen: dict[str, Number] = {}
    for view in shown(answer.verdict, answer.findings, answer.tables, answer.charts):
        number = view if isinstance(view, Number) else view.number
        assert number is not None, f"{answer.key}: {view} is no view of a number"
        assert number.key, f"{answer.key}: {number.name} has no key"
        key = key_text(number.key)
        assert key in answer.numbers or number.unranged in ("as planned", "a limit"), f"{key} is shown but not listed"
        assert seen.setdefault(key, number) is number or seen[key].likely == pytest.approx(
            number.likely, rel=1e-12, nan_ok=True
        ), f"{key} is held twice"
    for key, number in answer.numbers.items():
        assert key == key_text(number.key)
        ends = number.range
        assert (ends is None) == bool(number.unranged), f"{key}: a range or a reason"
        if ends is not None and not math.isnan(ends[0] + number.likely + ends[1]):
            assert ends[0] <= number.likely <= ends[1], f"{key}: {ends} around {number.likely}"
        assert number.lines()
        for _, inner in number.walk():
            assert inner.meaning and inner.source, f"{key}: {inner.name} has no meaning or no source"
            again = recomputed(inner)
            if again is not None:
                assert np.ravel(again)[0] == pytest.approx(inner.likely, rel=1e-9, abs=1e-300, nan_ok=True), inner.name
    return len(answer.numbers)
