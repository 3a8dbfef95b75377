from __future__ import annotations

import xml.etree.ElementTree as ET

import numpy as np
import pytest

from tests.answered import stay
from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark, Rule, words
from vanwater.answers.stay.charts import litres_by_use, stores_running_out
from vanwater.figures.roles import ROLES, contrast
from vanwater.panels.drawing import DARK_STYLE, drawing
from vanwater.plan.file import PlanFile
from vanwater.quantities import FLOW, PRESSURE, SHARE, STAY

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "<script>alert(1)</script>&\"'"


def read_back(svg: ET.Element, path: ET.Element) -> list[tuple[float, float]]:
    """The points of a path as numbers of its axes, in display units."""
    left, right, bottom, top = map(float, svg.attrib["data-plot"].split())
    x_low, x_high, y_low, y_high = map(float, svg.attrib["data-seen"].split())
    points = (map(float, place.split(",")) for place in path.attrib["d"].replace("M", "L").split("L")[1:])
    return [
        (
            x_low + (x - left) / (right - left) * (x_high - x_low),
            y_low + (y - bottom) / (top - bottom) * (y_high - y_low),
        )
        for x, y in points
    ]


def lines_of(svg: ET.Element) -> dict[str, ET.Element]:
    return {path.attrib["data-name"]: path for path in svg.iter(f"{SVG}path") if path.get("class") == "vw-line"}


def test_the_numbers_of_a_curve_can_be_read_back_out_of_the_picture(family: PlanFile) -> None:
    answer = stay(family.plan)
    chart = stores_running_out(answer)
    assert chart is not None
    svg = ET.fromstring(drawing(chart))
    found = lines_of(svg)
    assert set(found) == {store.name for store in answer.stores}
    for store in answer.stores:
        points = read_back(svg, found[store.name])
        assert points[0] == pytest.approx((0.0, 100.0), abs=0.1)
        assert points[-1][0] == pytest.approx(store.days.likely / 86400, abs=0.01)
    for draw in chart.draws:
        if isinstance(draw, Line):
            drawn = np.array(read_back(svg, found[words(draw.label, "html")]))
            between = np.interp(draw.x / 86400, drawn[:, 0], drawn[:, 1])  # what is straight needs no points
            assert between == pytest.approx(draw.y * 100, abs=0.2)
            assert len(drawn) < len(draw.x) / 4


def test_the_same_chart_gives_the_same_bytes_without_anything_from_outside(family: PlanFile) -> None:
    chart = stores_running_out(stay(family.plan))
    assert chart is not None
    text = drawing(chart, hover=True)
    assert text == drawing(chart, hover=True)
    assert text.count("http") == text.count('xmlns="http://www.w3.org/2000/svg"') == 1
    assert "href" not in text
    assert "<script" not in text


def test_hovering_tells_every_curve_that_is_there_with_its_unit(family: PlanFile) -> None:
    chart = stores_running_out(stay(family.plan))
    assert chart is not None
    svg = ET.fromstring(drawing(chart, hover=True))
    told = ["".join(group.itertext()) for group in svg.iter(f"{SVG}g") if group.get("class") == "vw-slice"]
    assert len(told) >= 30
    assert all("day" in text for text in told)
    first = told[0]
    assert {name for name in ("fresh", "grey", "battery") if f"{name}: 9" in first} == {"fresh", "grey", "battery"}
    assert "grey:" not in told[-1]  # it ended before
    assert not list(ET.fromstring(drawing(chart)).iterfind(f".//{SVG}g[@class='vw-slice']"))


def test_bars_are_as_long_as_their_values(family: PlanFile) -> None:
    answer = stay(family.plan)
    chart = litres_by_use(answer)
    assert chart is not None
    svg = ET.fromstring(drawing(chart))
    bars = {bar.attrib["data-name"]: float(bar.attrib["width"]) for bar in svg.iter(f"{SVG}rect") if bar.get("class")}
    values = {use.name: float(use.fresh.value) for use in answer.uses if use.name in bars}
    longest = max(values, key=lambda name: values[name])
    for name, value in values.items():
        assert bars[name] / bars[longest] == pytest.approx(value / values[longest], abs=2e-3)


def test_a_name_is_only_ever_text() -> None:
    x = np.array([0.0, 86400.0, 2 * 86400.0])
    draws = (
        Line("fresh", x, np.array([1.0, np.nan, 0.5]), HOSTILE, x * 0, x * 0 + 1),
        Mark("hot", 86400.0, 0.5, HOSTILE),
        Rule(HOSTILE, x=43200.0),
        Rule(HOSTILE, y=0.25),
    )
    chart = Chart("hostile", HOSTILE, Axis(HOSTILE, STAY), Axis("left", SHARE), draws, HOSTILE)
    text = drawing(chart, hover=True)
    assert "<script" not in text
    svg = ET.fromstring(text)
    assert HOSTILE in svg.attrib["aria-label"]
    (line,) = lines_of(svg).values()
    assert line.attrib["d"].count("M") == 2  # a gap where a value is not known
    assert line.attrib["data-name"] == HOSTILE


def test_every_role_marker_and_range_can_be_drawn() -> None:
    for role in ROLES:
        chart = Chart("one", "t", Axis("p", PRESSURE), Axis("q", FLOW), (Mark(role, 1e5, 1e-4, role),))
        assert f"var(--vw-{role}," in drawing(chart)
    bars = Bars(("hot", "cold"), ("a", "b"), np.array([1.0, 2.0]), low=np.array([0.5, 1.0]), high=np.array([2.0, 3.0]))
    ET.fromstring(drawing(Chart("bars", "t", Axis("p", PRESSURE), Axis("piece"), (bars,))))


def test_words_can_be_read_on_a_dark_page() -> None:
    tones = dict(pair.rstrip(";").split(":") for pair in DARK_STYLE.replace("--vw-", "").rstrip(";").split(";"))
    for name, colour in tones.items():
        if name.endswith("-text") or name in ("ink", "faint"):
            assert contrast(colour, tones["paper"]) >= 4.5, name


def test_a_bend_keeps_every_point_however_slight() -> None:
    x = np.linspace(0.0, 86400.0, 90)
    y = 0.5 + 0.1 * np.sin(x / 86400.0)
    chart = Chart("c", "t", Axis("x", STAY), Axis("y", SHARE), (Line("fresh", x, y, "a"),))
    svg = ET.fromstring(drawing(chart))
    drawn = np.array(read_back(svg, lines_of(svg)["a"]))
    assert len(drawn) == len(x)
    assert drawn[:, 1] == pytest.approx(y * 100, abs=0.1)


def test_a_single_point_and_two_are_drawn() -> None:
    for count in (1, 2):
        x = np.arange(float(count)) * 86400
        chart = Chart(
            "c", "t", Axis("x", STAY, high=2 * 86400.0), Axis("y", SHARE), (Line("fresh", x, x * 0 + 0.5, "a"),)
        )
        assert len(read_back(ET.fromstring(drawing(chart)), lines_of(ET.fromstring(drawing(chart)))["a"])) == count
