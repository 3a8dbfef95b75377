"""Bars as a table, a frame and a chart."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from tests.examples import example
from vanwater.answers.core.chart import Bars, Rule, words
from vanwater.options.tornado import tornado
from vanwater.options.tornado_bars import Tornado

FAMILY = example("family-winter")


@pytest.fixture(scope="module")
def told() -> Tornado:
    return tornado(FAMILY, "outlet.shower.flow")


def test_the_table_says_what_was_put_in_and_what_came_of_it(told: Tornado) -> None:
    text = told.table.text()
    assert text.splitlines()[2].startswith("pump")
    assert "large diaphragm pump" in text and "25 % lower" in text and "nothing sold" in text
    assert "flow at the shower" in told.table.caption.text()
    assert told.table.note is not None and "battery" in told.table.note.text()
    assert "gal/min" in told.table.text(us=True)


def test_the_frame_holds_plain_numbers_by_address(told: Tornado) -> None:
    frame, si = told.frame(), told.frame(si=True)
    assert list(frame.index) == [bar.address for bar in told.bars]
    bar = told.bars[0]
    assert si.loc[bar.address, "moves it by [m³/s]"] == pytest.approx(bar.swing)
    assert frame.loc[bar.address, "then so [L/min]"] == pytest.approx(bar.high.value * 6e4)
    assert "then [gal/min]" in told.frame(us=True)


def test_bars_begin_at_the_plan_s_number(told: Tornado) -> None:
    chart = told.chart(4)
    less, more = (draw for draw in chart.draws if isinstance(draw, Bars))
    (rule,) = (draw for draw in chart.draws if isinstance(draw, Rule))
    assert rule.x == told.number.likely
    for bars, ends in ((less, [bar.low for bar in told.bars]), (more, [bar.high for bar in told.bars])):
        assert len(bars.names) == len(bars.numbers) == 4
        assert bars.start is not None and np.all(bars.start == told.number.likely)
        for value, end in zip(bars.values, ends, strict=False):
            assert value == (told.number.likely if math.isnan(end.value) else end.value)
    assert words(chart.title, "terminal").endswith(told.bars[0].name)
    assert told.bars[0].high.put_in in words(chart.sentence, "terminal")


def test_nothing_to_draw_is_refused(told: Tornado) -> None:
    with pytest.raises(ValueError, match="nothing to draw"):
        replace(told, bars=()).chart()


def test_it_is_short_in_a_terminal_and_a_table_in_a_notebook(told: Tornado) -> None:
    assert repr(told).startswith("<what moves outlet.shower.flow: pump")
    assert told._repr_html_().startswith('<table class="vw-table" ')
