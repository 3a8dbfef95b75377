from __future__ import annotations

import html
import json
import re
import sys

import numpy as np
import plotly.graph_objects as go
import pytest

from tests.examples import NAMES, example, example_answers
from vanwater import figures
from vanwater.answers.core.chart import Bars, Line, Mark
from vanwater.answers.core.escaping import plain
from vanwater.figures.labels import lay_out
from vanwater.figures.roles import ROLES
from vanwater.figures.screen import figure, plotly_figure
from vanwater.options.sweep import sweep


def numbers(values: list[float | None]) -> np.ndarray:
    return np.array([np.nan if value is None else value for value in values])


def traces(made: dict, mode: str) -> list[dict]:
    return [trace for trace in made["data"] if trace.get("mode") == mode and trace.get("line", {}).get("width") != 0]


@pytest.mark.parametrize("us", [False, True])
def test_lines_on_the_screen_are_the_lines_of_the_chart(chart, us):
    lines = [draw for draw in chart.draws if isinstance(draw, Line)]
    for draw, trace in zip(lines, traces(figure(chart, us), "lines"), strict=True):
        np.testing.assert_allclose(numbers(trace["x"]), chart.x.quantity.show(draw.x, us), rtol=1e-8, atol=1e-12)
        np.testing.assert_allclose(numbers(trace["y"]), chart.y.quantity.show(draw.y, us), rtol=1e-8, atol=1e-12)
        assert trace["line"]["color"] == ROLES[draw.role].colour


def test_bands_are_the_bands_of_the_chart(samples):
    chart = samples.levels()
    fresh = chart.draws[0]
    low, high = (trace for trace in figure(chart)["data"][:2])
    np.testing.assert_allclose(low["y"], np.asarray(fresh.low) * 1e3, rtol=1e-8, atol=1e-9)
    np.testing.assert_allclose(high["y"], np.asarray(fresh.high) * 1e3, rtol=1e-8, atol=1e-9)
    assert (high["fill"], high["fillcolor"]) == ("tonexty", "rgba(86,180,233,0.17)")


@pytest.mark.parametrize("us", [False, True])
def test_bars_on_the_screen_are_the_bars_of_the_chart(chart, us):
    bars = [draw for draw in chart.draws if isinstance(draw, Bars)]
    found = [trace for trace in figure(chart, us)["data"] if trace["type"] == "bar"]
    for draw, trace in zip(bars, found, strict=True):
        known = np.isfinite(draw.values)
        ends = numbers(trace["base"]) + numbers(trace["x"])
        shown = np.asarray(chart.x.quantity.show(draw.values, us))
        np.testing.assert_allclose(ends[known], shown[known], rtol=1e-7)
        if draw.high is not None and draw.low is not None:
            high, low = (np.asarray(chart.x.quantity.show(end, us))[known] for end in (draw.high, draw.low))
            np.testing.assert_allclose((ends + numbers(trace["error_x"]["array"]))[known], high, rtol=1e-7)
            np.testing.assert_allclose((ends - numbers(trace["error_x"]["arrayminus"]))[known], low, rtol=1e-7)


def test_marks_and_limits_are_where_the_chart_has_them(samples):
    made = figure(samples.levels())
    (mark,) = (draw for draw in samples.levels().draws if isinstance(draw, Mark))
    assert [mark.x / 86400, mark.y * 1e3] == pytest.approx([made["data"][-1]["x"][0], made["data"][-1]["y"][0]])
    (shape,) = made["layout"]["shapes"]
    assert (shape["y0"], shape["y1"], shape["xref"]) == (55, 55, "paper")
    first, second = figure(samples.stores())["layout"]["shapes"]
    assert (first["x0"], second["x1"], first["yref"]) == (4, 4.1, "paper")


def test_plotly_takes_it_and_it_is_plain_data(chart):
    made = figure(chart)
    json.dumps(made, allow_nan=False)
    shown = go.Figure(made)
    assert len(shown.data) == len(made["data"])
    assert figure(chart) == made


def test_no_button_uploads_it_and_it_takes_the_room_that_it_gets(chart):
    layout = figure(chart)["layout"]
    assert "sendChartToCloud" in layout["template"]["layout"]["modebar"]["remove"]
    assert layout["autosize"] is True
    assert "width" not in layout


def test_axes_say_quantity_and_unit(samples):
    layout = figure(samples.pump(), us=True)["layout"]
    assert layout["xaxis"]["title"]["text"] == "Flow (gal/min)"
    assert "Pressure (psi)" in [note["text"] for note in layout["annotations"]]


def test_words_are_those_of_the_sheet_anchored_at_what_they_name(samples):
    notes = {note["text"]: note for note in figure(samples.levels())["layout"]["annotations"]}
    fresh = notes["fresh water"]
    assert (fresh["xref"], fresh["x"], fresh["yref"], fresh["y"]) == ("x", 6, "y", 0)
    sheet = lay_out(samples.levels(), width=520.0)
    word = next(word for word in sheet.words if word.lines == ("fresh water",))
    assert fresh["xshift"] == pytest.approx((word.x - sheet.right) * 4 / 3, abs=0.06)
    assert notes["<b>Grey is full after 3.4\N{NO-BREAK SPACE}days (2.6 to 4.3)</b>"]["xref"] == "paper"


def test_no_note_is_hidden_for_lying_outside_by_a_hair(chart):
    layout = figure(chart)["layout"]
    for note in layout["annotations"]:
        for name in ("x", "y"):
            if note[f"{name}ref"] == name:
                low, high = sorted(layout[f"{name}axis"]["range"])
                assert low <= note[name] <= high


def test_hover_shows_value_and_unit(samples):
    line = next(trace for trace in figure(samples.pump(), us=True)["data"] if trace.get("mode") == "lines")
    assert line["hovertemplate"] == "pump at 12.8 V<br>%{y:,.3~r} psi at %{x:,.3~r} gal/min<extra></extra>"
    (bars,) = (trace for trace in figure(samples.days())["data"] if trace["type"] == "bar")
    assert bars["hovertext"][1].replace("\N{NO-BREAK SPACE}", " ") == "grey tank: 3.4 days (2.6 to 4.3)"


def strings(value: object) -> list[str]:
    if isinstance(value, dict):
        return [text for inner in value.values() for text in strings(inner)]
    if isinstance(value, list):
        return [text for inner in value for text in strings(inner)]
    return [value] if isinstance(value, str) else []


def test_hostile_names_stay_text(samples):
    ours = re.compile(r'<br>|</?b>|<extra></extra>|<span style="color:#[0-9a-f]{6}">|</span>')
    for make in (samples.named_badly, samples.bars_named_badly):
        texts = strings(figure(make()))
        assert any(plain(samples.NASTY, "plotly") in text for text in texts)
        for text in texts:
            left = ours.sub("", text)
            assert not set(left) & set("<>$"), text
            assert not re.search(r"%{(?![xy]:,\.3~r})", left)
            assert "alert" not in text or "&lt;script&gt;" in html.escape(html.unescape(left))


def test_curves_are_named_in_a_legend_where_there_are_several(samples):
    def named(made: dict) -> list[str]:
        shown = [trace.get("name") for trace in made["data"] if trace.get("showlegend", True)]
        return shown if made["layout"]["showlegend"] else []

    assert named(figure(samples.levels())) == ["fresh water", "grey water"]
    assert named(figure(samples.frost())) == named(figure(samples.uses())) == []
    groups = [trace["legendgroup"] for trace in figure(samples.levels())["data"] if "legendgroup" in trace]
    assert groups == ["0"] * 4 + ["1"] * 4  # the band's two edges, the curve, its end


@pytest.mark.parametrize("name", NAMES)
def test_the_picture_of_the_days_has_the_answers_numbers(name):
    answer = example_answers(name)["stay"]
    chart = answer.chart("stores")
    made = figure(chart)
    lasts, *stops = made["data"]
    known = np.isfinite(chart.bars[0].values)
    assert np.array(lasts["x"])[known] == pytest.approx(chart.bars[0].values[known] / 86400)
    assert [lasts["marker"]["opacity"], *(stop["marker"]["opacity"] for stop in stops)] == [1.0, 0.35][: 1 + len(stops)]
    for stop in stops:
        ends = np.array(stop["base"]) + np.array(stop["x"])
        assert ends[known] == pytest.approx(chart.bars[1].values[known] / 86400)
    assert made["layout"]["xaxis"]["range"] == [0, chart.x.high / 86400]
    assert made["layout"]["uirevision"] == "stores"


def test_kinds_of_bars_are_named_beside_a_square_as_they_are_drawn():
    texts = [note["text"] for note in figure(example_answers("family-winter")["stay"].chart())["layout"]["annotations"]]
    assert '<span style="color:#222222">■</span> as planned' in texts
    assert '<span style="color:#222222">□</span> the stay with one stop to empty it' in texts


def test_a_figure_of_plotlys_own_holds_the_same(chart):
    shown = plotly_figure(chart)
    assert isinstance(shown, go.Figure)
    made = figure(chart)
    assert [trace.type for trace in shown.data] == [trace["type"] for trace in made["data"]]
    for trace, wanted in zip(shown.data, made["data"], strict=True):
        assert list(trace.x) == wanted["x"]
    assert shown.layout.xaxis.title.text == made["layout"]["xaxis"]["title"]["text"]
    assert plotly_figure is figures.plotly_figure


def test_a_sweep_is_a_figure_too():
    swept = sweep(example("family-winter"), {"tanks.grey.length": ["0.5 m", "0.6 m", "0.7 m"]}, "tank.grey.days")
    shown = plotly_figure(swept.chart("tank.grey.days"))
    curve = next(trace for trace in shown.data if trace.mode == "lines")
    assert shown.layout.xaxis.title.text.endswith("(m)")
    assert list(curve.x) == pytest.approx([0.5, 0.6, 0.7])
    assert list(curve.y) == pytest.approx(swept["tank.grey.days"] / 86400, rel=1e-6)


def test_without_plotly_it_says_what_to_install(samples, monkeypatch):
    monkeypatch.setitem(sys.modules, "plotly.graph_objects", None)
    with pytest.raises(ImportError, match=r'pip install "vanwater\[lab\]"'):
        plotly_figure(samples.levels())
