"""Charts of several plans in one."""

from __future__ import annotations

import pytest

from tests.compared import BARE, LONGER, family
from vanwater.answers.core.chart import Bars, Line, Rule, words
from vanwater.options.variants_chart import bars_of, drawn_together


def test_the_stay_s_picture_holds_the_curves_of_every_plan() -> None:
    told = family()
    chart = told.chart("stay")
    assert chart is not None and words(chart.title, "terminal") == "Days off-grid, side by side"
    lines = [draw for draw in chart.draws if isinstance(draw, Line)]
    for name, answers in (("as planned", told.base), *told.possible.items()):
        own = answers["stay"].chart("stores")
        assert own is not None
        curves = {words(line.label, "terminal"): line for line in own.draws if isinstance(line, Line)}
        for label, curve in curves.items():
            (drawn,) = [line for line in lines if words(line.label, "terminal") == f"{name}: {label}"]
            assert drawn.y.tolist() == curve.y.tolist() and drawn.low is None
    assert {line.role for line in lines} == {"plain", "fresh", "hot"}
    assert sum(isinstance(draw, Rule) for draw in chart.draws) == 1  # the stay wanted, once
    assert chart.x.high is not None and chart.x.high >= max(line.x.max() for line in lines if line.role == "plain")


def test_bars_stand_below_the_same_names() -> None:
    chart = family().chart("stay", "uses")
    assert chart is not None
    assert [words(bars.label, "terminal") for bars in chart.bars] == ["as planned", LONGER.name, BARE.name]
    assert all(len(bars.numbers) == len(bars.names) for bars in chart.bars)
    assert chart.bars[0].values.tolist() == chart.bars[1].values.tolist()


def test_one_number_of_all_plans_is_one_row_of_bars() -> None:
    told = family()
    (bars,) = told.bars("tank.grey.days").draws
    assert isinstance(bars, Bars) and bars.names == ("as planned", LONGER.name, BARE.name)
    assert bars.values.tolist() == [
        answers.numbers["tank.grey.days"].likely for answers in (told.base, *told.possible.values())
    ]
    assert bars.low is not None and (bars.low <= bars.values).all()


def test_what_no_plan_has_is_not_drawn() -> None:
    first = family().base.numbers["stay.days"]
    assert drawn_together("Days", {"as planned": None}) is None
    assert family().chart("stay", "none such") is None
    with pytest.raises(KeyError, match="not decided"):
        bars_of(first, {"as planned": None})
