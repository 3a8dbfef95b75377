from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Rule
from vanwater.figures.labels import lay_out
from vanwater.figures.sheet import Word
from vanwater.quantities import DAY, PRESSURE, STAY

SLACK = 1.5  # points by which generous boxes may touch


def covering(words: tuple[Word, ...]) -> list[tuple[str, str]]:
    found = []
    for one, other in combinations(words, 2):
        (left, bottom, right, top), box = one.box, other.box
        wide, tall = min(right, box[2]) - max(left, box[0]), min(top, box[3]) - max(bottom, box[1])
        if wide > SLACK and tall > SLACK:
            found.append((" ".join(one.lines), " ".join(other.lines)))
    return found


@pytest.mark.parametrize("us", [False, True])
def test_no_word_covers_another(chart, us):
    assert covering(lay_out(chart, us).words) == []


@pytest.mark.parametrize("us", [False, True])
def test_every_word_is_on_the_sheet(chart, us):
    sheet = lay_out(chart, us)
    for word in sheet.words:
        left, bottom, right, top = word.box
        assert left >= -SLACK
        assert bottom >= -SLACK
        assert top <= sheet.height + SLACK
        assert right <= sheet.width + SLACK


@settings(deadline=None)
@given(
    st.lists(st.tuples(st.floats(0, 4e5), st.floats(0.3, 1.0)), min_size=1, max_size=5),
    st.lists(st.floats(0, 4e5), max_size=3),
)
def test_names_at_the_ends_of_lines_never_cover_each_other(ends, limits):
    lines = [
        Line("fresh", np.array([0.0, share]) * DAY, np.array([1e5, end]), f"line number {place}")
        for place, (end, share) in enumerate(ends)
    ]
    rules = [Rule(f"limit {place}", y=limit) for place, limit in enumerate(limits)]
    chart = Chart("c", "t", Axis("Time", STAY, high=DAY), Axis("Pressure", PRESSURE), (*lines, *rules))
    words = [word for word in lay_out(chart).words if word.tip is not None and word.x > lay_out(chart).right]
    assert covering(tuple(words)) == []


def texts(chart: Chart, us: bool = False) -> list[str]:
    return [" ".join(word.lines).replace("\N{NO-BREAK SPACE}", " ") for word in lay_out(chart, us).words]


def test_axes_say_quantity_and_unit_in_both_systems(samples):
    assert {"Time (days)", "Water in the tank (L)"} <= set(texts(samples.levels()))
    assert {"Pressure (psi)", "Flow (gal/min)"} <= set(texts(samples.pump(), us=True))
    assert "Temperature (°F)" in texts(samples.frost(), us=True)


def test_lines_are_named_at_their_ends_and_limits_by_name(samples):
    sheet = lay_out(samples.levels())
    named = {" ".join(word.lines): word for word in sheet.words}
    assert named["fresh water"].x > sheet.right
    assert named["fresh water"].tip == pytest.approx((sheet.right, sheet.bottom))
    assert named["grey tank full"].x > sheet.right


def test_a_line_that_ends_early_is_named_at_its_end_within_the_plot(samples):
    sheet = lay_out(samples.stores())
    word = next(word for word in sheet.words if word.lines == ("battery store",))
    assert word.box[2] < sheet.right
    assert word.tip == pytest.approx((sheet.left + 3.1 / 6 * (sheet.right - sheet.left), sheet.bottom))


def test_a_name_away_from_its_point_has_a_line_that_leads_there(samples):
    sheet = lay_out(samples.stores())
    for word in sheet.words:
        if word.lead is not None:
            begin, end = word.lead
            left, bottom, right, top = word.box
            assert begin == word.tip
            assert left <= end[0] <= right
            assert bottom <= end[1] <= top
    close = Word(("x",), 10.0, 10.0, tip=(6.0, 10.0))
    assert close.lead is None
    assert Word(("x",), 10.0, 10.0, tip=(6.0, 60.0)).lead is not None
    assert Word(("x",), 10.0, 10.0).lead is None


def test_bars_have_their_values_with_ranges(samples):
    shown = texts(samples.days())
    assert {"4.7 days (3.9 to 5.5)", "3.4 days (2.6 to 4.3)", "unlimited (from 6 days)", "not known"} <= set(shown)


def test_a_bar_between_two_values_has_one_at_each_end(samples):
    assert {"5 L/min", "6.6 L/min"} <= set(texts(samples.tornado()))


def test_stacked_bars_are_explained_instead(samples):
    words = [word for word in lay_out(samples.uses()).words if word.swatch]
    assert [(word.lines, word.swatch) for word in words] == [
        (("shower",), "fresh"),
        (("dishes",), "cold"),
        (("cooking",), "heat"),
    ]
    assert "9 L/day" not in texts(samples.uses())


def test_a_negative_bar_has_its_value_at_its_left():
    bars = Bars("cold", ("day", "night"), np.array([1.0, -2.0]) * 1e5)
    sheet = lay_out(Chart("c", "t", Axis("Gain", PRESSURE), Axis("When"), (bars,)))
    word = next(word for word in sheet.words if word.lines[0].startswith("−2\N{NO-BREAK SPACE}bar"))
    assert word.align == "right"
    assert word.x < sheet.points(-2.0, 1.0)[0, 0]


def test_more_bars_need_a_higher_sheet_and_a_height_can_be_asked_for(samples):
    assert lay_out(samples.days()).height > lay_out(samples.tornado()).height
    assert lay_out(samples.days(), height=300.0).height == 300.0


@pytest.mark.parametrize("letter", ["水", "W", "m"])
def test_the_plot_keeps_its_room_beside_the_longest_names(letter: str) -> None:
    names = tuple(f"{letter * 40}{place}" for place in range(3))
    bars = Bars("fresh", names, np.array([1e5, 2e5, 9.87654e8]))
    chart = Chart("long", letter * 90, Axis("pressure", PRESSURE), Axis("piece"), (bars,))
    x = np.array([0.0, DAY])
    lines = tuple(Line("fresh", x, np.array([1e5, 2e5 + place]), name) for place, name in enumerate(names))
    curves = Chart("ends", "t", Axis("time", STAY), Axis("pressure", PRESSURE), lines)
    for drawn in (chart, curves):
        for width in (160.0, 300.0, 470.0):
            sheet = lay_out(drawn, width=width)
            assert sheet.right - sheet.left >= 0.19 * width
            assert 0 < sheet.left < sheet.right <= width
