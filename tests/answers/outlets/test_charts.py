from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given

from tests.answered import outlets
from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from vanwater.answers.core.chart import Bars, Chart, Line, Rule, words
from vanwater.answers.core.escaping import plain
from vanwater.answers.outlets.answer import Outlets
from vanwater.answers.outlets.charts import (
    pressure_along_the_way,
    pressure_budget,
)
from vanwater.answers.outlets.pump_chart import pump_against_system
from vanwater.figures.data import csv
from vanwater.figures.drawing import drawing
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
L_MIN = 1e-3 / 60
MADE = (pump_against_system, pressure_along_the_way, pressure_budget)


def lines(chart: Chart | None) -> dict[str, Line]:
    assert chart is not None
    return {said(draw): draw for draw in chart.draws if isinstance(draw, Line)}


def said(draw: Line | Rule) -> str:
    return words(draw.label, "terminal").replace("\xa0", " ")


def bars(chart: Chart | None) -> list[Bars]:
    assert chart is not None
    return list(chart.bars)


def test_bars_along_the_way_lead_from_nothing_below_zero_and_back_to_nothing() -> None:
    answer = outlets(FAMILY)
    chart = pressure_along_the_way(answer)
    lift, *lost = bars(chart)
    assert lift.start is not None
    assert lift.start[0] == 0.0
    at = {name: place for place, name in enumerate(lift.names)}
    ends = np.stack([one.values for one in lost])
    ends = np.where(ends != lift.values, ends, np.nan)  # one kind a piece, the others have no length there
    after = np.nansum(ends, axis=0)
    assert after[at["suction"]] < 0
    assert after[at["pump"]] == pytest.approx(answer.outlets["shower"].discharge.likely)
    assert after[at["shower"]] == 0.0
    np.testing.assert_allclose(lift.start[1:], after[:-1])
    assert [words(one.label, "terminal") for one in lost] == ["lost, cold", "lost, hot", "lost, mixed", "", ""]


def test_the_title_tells_suction_pressure_and_what_is_left() -> None:
    chart = pressure_along_the_way(outlets(FAMILY))
    assert chart is not None
    text = words(chart.title, "terminal")
    assert text == "The pump lifts the pressure from −0.055\xa0bar to 1.8\xa0bar; 1.2\xa0bar reach the shower"
    assert "psi" in words(chart.title, "terminal", us=True)


def test_suction_is_spoken_of_where_the_pump_sucks() -> None:
    for name, sucks in (("family-winter", True), ("touring-campsites", False)):  # its pump hangs in the tank
        chart = pressure_along_the_way(outlets(example(name)))
        assert chart is not None
        assert ("the pump sucks" in words(chart.sentence, "terminal")) is sucks


def test_the_budget_is_the_answers_largest_first() -> None:
    answer = outlets(FAMILY)
    (one,) = bars(pressure_budget(answer))
    assert one.values.sum() == pytest.approx(answer.outlets["shower"].rise.likely, abs=1e-3)
    assert np.all(np.diff(one.values) <= 0)
    role = dict(zip(one.names, one.roles, strict=True))
    assert role["lift"] == "plain"
    assert role["hot trunk"] == "hot"
    assert role["trunk"] == role["suction"] == "cold"
    assert role["handset hose"] == "heat"
    assert role["shower"] == "fresh"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("us", [False, True])
def test_every_example_is_drawn_told_and_tabled_in_both_units(name: str, us: bool) -> None:
    answer = outlets(example(name))
    for make in MADE:
        chart = make(answer)
        assert chart is not None
        assert drawing(chart, us, hover=True).startswith("<svg")
        table = csv(chart, us)
        assert ("[psi]" in table) is us
        assert "nan" not in table
        assert len(words(chart.sentence, "terminal", us)) > 60


def test_nothing_decided_draws_nothing() -> None:
    empty = outlets(Plan.of({"van": {"name": "t"}, "household": {"people": 1}}))
    assert [make(empty) for make in MADE] == [None] * 3


def test_without_a_pump_the_way_is_still_told() -> None:
    raw: dict[str, Any] = {
        "van": {"name": "t"},
        "household": {"people": 1},
        "tanks": {"can": {"holds": "fresh", "capacity": "20 L", "z": "1.2 m"}},
        "outlets": {"tap": {"flow": "4 L/min", "at": "0.1 bar", "z": "0.5 m"}},
        "runs": {"hose": {"from": "can", "to": "tap", "bore": "10 mm", "length": "1 m"}},
    }
    answer = outlets(Plan.of(raw))
    assert pump_against_system(answer) is None
    chart = pressure_along_the_way(answer)
    assert chart is not None
    assert words(chart.title, "terminal").endswith("are left before the tap")


@WHOLE_PLANS
@given(plans())
def test_every_plan_is_drawn(raw: dict[str, Any]) -> None:
    answer = outlets(Plan.of(raw, file=True))
    for make in MADE if isinstance(answer, Outlets) else ():  # what is drained has no outlet to draw
        chart = make(answer)
        if chart is not None:
            assert drawing(chart, answer.plan.us).startswith("<svg")
            assert plain(words(chart.title, "terminal"), "terminal")


def test_without_a_pump_no_budget_of_a_pump_is_drawn() -> None:
    raw = {
        "van": {"name": "can on the roof"},
        "household": {"people": 1},
        "tanks": {"can": {"holds": "fresh", "capacity": "20 L", "z": "1.8 m"}},
        "runs": {"hose": {"from": "can", "to": "tap", "length": "2 m", "bore": "10 mm"}},
        "outlets": {"tap": {"flow": "5 L/min", "at": "1 bar", "z": "0.8 m"}},
    }
    answer = outlets(Plan.of(raw))
    assert answer.outlets["tap"].flow.likely > 0
    assert pressure_budget(answer) is None
    along = pressure_along_the_way(answer)
    assert along is not None
    assert "are left before the tap" in words(along.title, "terminal")
