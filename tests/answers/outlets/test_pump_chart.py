from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.answered import outlets, simultaneous
from tests.examples import NAMES, example
from vanwater.answers.core.chart import Chart, Line, Mark, Rule, words
from vanwater.answers.outlets.pump_chart import pump_against_system
from vanwater.figures.labels import lay_out

FAMILY = example("family-winter")
L_MIN = 1e-3 / 60


def lines(chart: Chart | None) -> dict[str, Line]:
    assert chart is not None
    return {said(draw): draw for draw in chart.draws if isinstance(draw, Line)}


def said(draw: Line | Rule) -> str:
    return words(draw.label, "terminal").replace("\xa0", " ")


def test_the_pumps_curve_stands_at_its_real_and_at_its_rated_volts_and_the_switch_beside_it() -> None:
    chart = pump_against_system(outlets(FAMILY))
    assert list(lines(chart)) == ["rated 13.6 V", "pump at 12.7 V", "shower", "evening", "galley tap", "basin tap"]
    assert chart is not None
    rules = {said(draw): draw.y for draw in chart.draws if isinstance(draw, Rule)}
    assert rules == {"cut-in 1.4 bar": 1.4e5, "cut-out 2.6 bar": 2.6e5}


def test_each_curve_is_marked_where_it_meets_the_pump_at_both_voltages() -> None:
    answer = outlets(FAMILY)
    chart = pump_against_system(answer)
    assert chart is not None
    marks = [draw for draw in chart.draws if isinstance(draw, Mark)]
    named = lines(chart)
    for curve in list(named.values())[2:]:
        rated, real = [mark for mark in marks if mark.role == curve.role]
        for mark, pump in ((rated, named["rated 13.6 V"]), (real, named["pump at 12.7 V"])):
            assert np.interp(mark.x, pump.x, pump.y) == pytest.approx(mark.y, rel=2e-3)
            assert np.interp(mark.x, curve.x, curve.y) == pytest.approx(mark.y, rel=3e-3)
    shower = answer.outlets["shower"]
    assert (shower.flow.likely, shower.discharge.likely) in [(mark.x, mark.y) for mark in marks]
    assert words(chart.title, "terminal") == "The shower meets the pump at 6.8\xa0L/min and 1.8\xa0bar"
    assert "Above 2.6\xa0bar the switch stops the pump" in words(chart.sentence, "terminal")
    assert "evening 8.84\xa0L/min at 1.1\xa0bar" in words(chart.sentence, "terminal")


def test_one_pump_curve_is_enough_where_its_volts_are_the_rated_ones() -> None:
    chart = pump_against_system(outlets(FAMILY.changed({"pumps.pump.volts": 13.6}, si=True)))
    assert list(lines(chart))[:2] == ["pump at 13.6 V", "shower"]


def test_the_main_outlet_comes_first_and_no_more_are_drawn_than_can_be_told_apart() -> None:
    changed: dict[str, Any] = {"outlets.basin tap.flow": 9 * L_MIN, "outlets.basin tap.at": 1e5}
    chart = pump_against_system(outlets(FAMILY.changed({"outlets.basin tap.type": None} | changed, si=True)))
    assert list(lines(chart))[2:] == ["shower", "evening", "basin tap", "galley tap"]
    assert chart is not None
    assert len(chart.colours) == 5


def test_a_pump_too_weak_is_told_in_the_title() -> None:
    weak = FAMILY.changed({"pumps.pump.curve": ((0.0, 0.21e5), (10 * L_MIN, 0.0)), "pumps.pump.volts": 10.0}, si=True)
    chart = pump_against_system(outlets(weak))
    assert chart is not None
    assert words(chart.title, "terminal") == "At 10\xa0V the pump does not reach the shower"


@pytest.mark.parametrize("width", [470.0, 405.0])
@pytest.mark.parametrize("name", NAMES)
def test_no_word_of_the_pumps_chart_covers_another(name: str, width: float) -> None:
    chart = pump_against_system(outlets(example(name)))
    assert chart is not None
    boxes = [word.box for word in lay_out(chart, width=width, height=300.0).words if not word.scale]
    for place, (left, bottom, right, top) in enumerate(boxes):
        assert left >= 0
        assert right <= width + 1
        for other in boxes[:place]:
            wide, tall = min(right, other[2]) - max(left, other[0]), min(top, other[3]) - max(bottom, other[1])
            assert wide <= 0 or tall <= 0.5, (left, bottom, other)


def test_the_set_meets_the_pump_where_the_answer_says() -> None:
    answer = outlets(FAMILY)
    (evening,) = simultaneous(FAMILY).sets
    chart = pump_against_system(answer)
    assert chart is not None
    meets = [(mark.x, mark.y) for mark in chart.draws if isinstance(mark, Mark)]
    point = evening.pumps["pump"]
    assert any(place == pytest.approx((point.flow.likely, point.discharge.likely), rel=1e-6) for place in meets)
