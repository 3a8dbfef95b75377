"""Charts of several plans in one."""

from __future__ import annotations

import numpy as np
import pytest

from tests.compared import BARE, LONGER, family
from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark, Rule, words
from vanwater.options.variants_chart import bars_of, drawn_together
from vanwater.quantities import SHARE, STAY


def test_the_stay_s_picture_holds_the_curves_of_every_plan_each_once() -> None:
    told = family()
    chart = told.chart("stay", "levels")
    assert chart is not None and words(chart.title, "terminal") == "Days off-grid, side by side"
    lines = {words(draw.label, "terminal"): draw for draw in chart.draws if isinstance(draw, Line)}
    assert list(lines) == [
        *(f"as planned: {store}" for store in ("grey", "fresh", "battery")),
        f"{LONGER.name}: grey",  # its fresh tank and its battery last as long as the plan's
        f"{BARE.name}: battery",
    ]
    assert [line.role for line in lines.values()] == ["plain"] * 3 + ["fresh", "hot"]
    for name, answers in (("as planned", told.base), *told.possible.items()):
        own = answers["stay"].chart("levels")
        assert own is not None
        for curve in own.draws:
            if not isinstance(curve, Line):
                continue
            store = words(curve.label, "terminal")
            drawn = lines.get(f"{name}: {store}", lines[f"as planned: {store}"])
            x = curve.x[curve.x <= drawn.x.max()]
            assert np.interp(x, drawn.x, drawn.y) == pytest.approx(curve.y[: x.size], abs=1e-2)
            assert drawn.low is None
    assert sum(isinstance(draw, Rule) for draw in chart.draws) == 1  # the stay wanted, once
    assert chart.x.high is not None and chart.x.high >= max(line.x.max() for line in lines.values()) * 0.99


def test_variants_that_lie_on_each_other_share_a_curve() -> None:
    def chart(slope: float) -> Chart:
        x = np.linspace(0.0, 1.0, 5)
        line = Line("fresh", x, slope * x, "tank")
        return Chart("c", "t", Axis("time", STAY), Axis("left", SHARE), (line, Mark("fresh", 1.0, slope, "end")))

    drawn = drawn_together("Days", {"as planned": chart(1.0), "a": chart(2.0), "b": chart(2.0), "c": chart(1.0)})
    assert drawn is not None
    labels = [words(draw.label, "terminal") for draw in drawn.draws]
    assert labels == ["as planned: tank", "as planned: end", "a, b: tank", "a, b: end"]


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
