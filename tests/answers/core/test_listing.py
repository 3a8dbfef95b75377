from __future__ import annotations

import math

import numpy as np
import pytest

from tests.examples import example_answers
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.listing import FindingList, Numbers
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Working
from vanwater.answers.core.statement import say
from vanwater.quantities import VOLUME

HOSTILE = "<img src=x>"
ANSWERS = example_answers("weekend-cans")


def number(name: str, value: float, **more: object) -> Number:
    return Number(name, VOLUME, np.asarray(value), Working("m", source="s"), key=("tank", name), **more)  # type: ignore[arg-type]


def test_numbers_as_a_frame_in_the_units_that_are_asked_for() -> None:
    numbers = Numbers({"a": number("a", 0.1, bracket=(0.09, 0.12)), "b": number("b", math.inf)})
    frame = numbers.frame()
    assert list(frame.index) == ["a", "b"] and frame.index.name == "key"
    assert frame.loc["a", ["value", "low", "high", "unit"]].tolist() == [100.0, 90.0, 120.0, "L"]
    assert math.isnan(frame.loc["b", "low"]) and frame.loc["b", "no range"] and not frame.loc["a", "no range"]
    assert numbers.frame(si=True).loc["a", ["value", "unit"]].tolist() == [0.1, "m³"]
    assert numbers.frame(us=True).loc["a", "value"] == pytest.approx(26.417, rel=1e-4)


def test_the_frame_of_a_plan_holds_every_number_as_the_library_has_it() -> None:
    frame = ANSWERS.numbers.frame(si=True)
    assert list(frame.index) == list(ANSWERS.numbers)
    for key, own in ANSWERS.numbers.items():
        assert frame.loc[key, "value"] == pytest.approx(own.likely, nan_ok=True)


def test_short_in_a_terminal_and_a_table_in_a_notebook() -> None:
    assert len(repr(ANSWERS)) < 1500 and repr(ANSWERS).count("\n") == len(ANSWERS)
    assert "Days off-grid" in repr(ANSWERS) and "<table>" in ANSWERS._repr_html_()
    assert repr(ANSWERS["stay"]) == f"<Days off-grid: {ANSWERS.headline.text().rstrip('.')}>"
    assert "<table>" in ANSWERS["stay"]._repr_html_() and len(repr(ANSWERS.numbers)) < 120
    assert ANSWERS.numbers._ipython_key_completions_() == list(ANSWERS.numbers)
    many = Numbers({f"n{place}": number(f"n{place}", 1.0) for place in range(99)})
    assert "and 39 more" in many._repr_html_()


def test_a_plans_own_words_are_only_text() -> None:
    told = FindingList((Finding(HOSTILE, Verdict.WATCH, say("{x}", x=HOSTILE), change=say("{x}", x=HOSTILE)),))
    assert "<img" not in told._repr_html_() and "<img" not in Numbers({HOSTILE: number(HOSTILE, 1.0)})._repr_html_()


def test_findings_as_a_frame() -> None:
    frame = ANSWERS.findings.frame()
    assert frame.index.is_unique and list(frame.columns) == ["verdict", "finding", "change", "address", "source"]
    assert ANSWERS.findings == worst_first(ANSWERS.findings)
    assert frame["verdict"].iloc[0] == ANSWERS.findings[0].verdict.word
    assert repr(FindingList()) == "<no findings>" and FindingList().frame().empty


def test_a_sum_prints_and_shows_as_a_tree() -> None:
    own = ANSWERS.numbers["stay.days"]
    assert own.unit == "s" and repr(own).startswith("<stay.days = ")
    assert repr(own.sum()) == "\n".join(own.lines()) and own.sum()._repr_html_().startswith("<pre>days off-grid")
    assert own.sum(us=True) == "\n".join(own.lines(us=True))
