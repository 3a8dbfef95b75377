from __future__ import annotations

import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from types import ModuleType

import numpy as np
import pytest

from tests.answered import stay
from tests.examples import NAMES, example_answers
from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark, Rule, words
from vanwater.answers.core.escaping import plain
from vanwater.answers.stay.charts import days_of_stores, levels, litres_by_use
from vanwater.figures.drawing import DARK_STYLE, drawing
from vanwater.figures.roles import ROLES, contrast
from vanwater.figures.way import SEEN
from vanwater.plan.file import PlanFile, read
from vanwater.plan.tables import resource
from vanwater.quantities import FLOW, PRESSURE, SHARE, STAY

SVG = "{http://www.w3.org/2000/svg}"
NO_BREAK = "\N{NO-BREAK SPACE}"
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
    chart = levels(answer)
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
    chart = levels(stay(family.plan))
    assert chart is not None
    text = drawing(chart, hover=True)
    assert text == drawing(chart, hover=True)
    assert text.count("http") == text.count('xmlns="http://www.w3.org/2000/svg"') == 1
    assert "href" not in text
    assert "<script" not in text


def test_hovering_tells_every_curve_that_is_there_with_its_unit(family: PlanFile) -> None:
    chart = levels(stay(family.plan))
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


def test_a_bend_is_drawn_with_few_points_and_lies_where_its_numbers_lie() -> None:
    x = np.linspace(0.0, 86400.0, 400)
    y = 0.5 + 0.1 * np.sin(x / 8640.0)
    chart = Chart("c", "t", Axis("x", STAY), Axis("y", SHARE), (Line("fresh", x, y, "a"),))
    svg = ET.fromstring(drawing(chart))
    drawn = np.array(read_back(svg, lines_of(svg)["a"]))
    assert 10 < len(drawn) < len(x) / 2
    between = np.interp(x / 86400, drawn[:, 0], drawn[:, 1])
    *_, bottom, top = map(float, svg.attrib["data-plot"].split())
    *_, low, high = map(float, svg.attrib["data-seen"].split())
    assert between == pytest.approx(y * 100, abs=0.2 * abs((high - low) / (top - bottom)))  # a fifth of a point
    assert drawn[:, 1].max() == pytest.approx(60.0, abs=0.2)


def test_a_single_point_and_two_are_drawn() -> None:
    for count in (1, 2):
        x = np.arange(float(count)) * 86400
        chart = Chart(
            "c", "t", Axis("x", STAY, high=2 * 86400.0), Axis("y", SHARE), (Line("fresh", x, x * 0 + 0.5, "a"),)
        )
        assert len(read_back(ET.fromstring(drawing(chart)), lines_of(ET.fromstring(drawing(chart)))["a"])) == count


# --- every kind of chart -----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def family() -> PlanFile:
    return read(resource("data", "plans", "family-winter.toml"))


def bars_of(svg: ET.Element) -> list[ET.Element]:
    return [bar for bar in svg.iter(f"{SVG}rect") if bar.get("class") == "vw-bar"]


def ends_of(svg: ET.Element, bar: ET.Element) -> tuple[float, float]:
    """Where a bar starts and ends, in display units."""
    left, right, _, _ = map(float, svg.attrib["data-plot"].split())
    low, high, _, _ = map(float, svg.attrib["data-seen"].split())
    x, wide = float(bar.attrib["x"]), float(bar.attrib["width"])
    return tuple(low + (place - left) / (right - left) * (high - low) for place in (x, x + wide))  # type: ignore[return-value]


@pytest.mark.parametrize("name", NAMES)
def test_the_numbers_of_every_bar_can_be_read_back_out_of_the_picture(name: str) -> None:
    charts = [chart for answer in example_answers(name).values() for chart in answer.charts if chart.bars]
    assert charts
    for chart in charts:
        svg = ET.fromstring(drawing(chart))
        low, high, _, _ = map(float, svg.attrib["data-seen"].split())
        left, right, _, _ = map(float, svg.attrib["data-plot"].split())
        assert chart.x.quantity is not None
        wanted = []
        for bars in chart.bars:
            starts = np.zeros_like(bars.values) if bars.start is None else bars.start
            begin, end = (
                np.clip(np.nan_to_num(np.asarray(chart.x.quantity.show(side)), nan=0.0), low, high)
                for side in (starts, bars.values)
            )
            pairs = zip(np.minimum(begin, end).tolist(), np.maximum(begin, end).tolist(), strict=True)
            wanted += [pair for pair in pairs if pair[1] > pair[0] or not (bars.pale or bars.start is not None)]
        found = [ends_of(svg, bar) for bar in bars_of(svg)]
        drawn = 1.01 * SEEN * (high - low) / (right - left)  # half of the finest step of a drawing
        assert np.array(found) == pytest.approx(np.array(wanted), abs=drawn)


def test_another_process_gives_the_same_bytes(samples: ModuleType) -> None:
    script = (
        "import sys, runpy; made = runpy.run_path(sys.argv[1]); from vanwater.figures.drawing import drawing;"
        "sys.stdout.buffer.write(drawing(made['levels']()).encode())"
    )
    other = subprocess.run(
        [sys.executable, "-c", script, samples.__file__], capture_output=True, check=True, env={"PYTHONHASHSEED": "7"}
    )
    assert other.stdout.decode() == drawing(samples.levels())


def test_every_id_is_the_charts_own_and_nothing_outside_is_referred_to(chart: Chart) -> None:
    for text in (drawing(chart), drawing(chart, us=True, hover=True)):
        ids = re.findall(r'\bid="([^"]*)"', text)
        assert all(each.startswith(f"{chart.key}-") for each in ids)
        assert len(set(ids)) == len(ids)
        assert set(re.findall(r"url\(#([^)]*)\)", text)) == set(ids)
        assert text.count("url(") == text.count("url(#")
        assert text.count("://") - text.count("http://www.w3.org/2000/svg") == text.count("alert(1)://")
        assert "href" not in text


def test_several_kinds_of_bars_are_hatched_and_one_is_not(samples: ModuleType) -> None:
    svg = ET.fromstring(drawing(samples.uses()))
    hatches = {pattern.attrib["id"] for pattern in svg.iter(f"{SVG}pattern")}
    assert hatches == {"uses-cold", "uses-heat"}  # fresh is plain
    hatched = {
        kind: [each for each in svg.iter(f"{SVG}{kind}") if each.get("fill", "").startswith("url(")]
        for kind in ("rect", "path")
    }
    assert len(hatched["rect"]) == 2  # beside the names of the kinds
    outlines = re.findall(r"M([\d.]+),([\d.]+)h", "".join(path.attrib["d"] for path in hatched["path"]))
    bars = [bar for bar in bars_of(svg) if bar.get("data-role") in ("cold", "heat")]
    assert len(outlines) == 2 * 2  # two households
    assert {(bar.attrib["x"], bar.attrib["y"]) for bar in bars} == set(outlines)
    assert "pattern" not in drawing(samples.days())


def test_those_who_do_not_see_it_are_told(samples: ModuleType) -> None:
    root = ET.fromstring(drawing(samples.levels()))
    assert root.get("role") == "img"
    assert root.attrib["aria-label"].replace(NO_BREAK, " ") == "Grey is full after 3.4 days (2.6 to 4.3)"
    assert root.findtext(f"{SVG}desc") == "Water in both tanks over six days."
    assert "<desc>" not in drawing(samples.days())  # which says nothing more


def test_pointing_at_a_thing_tells_its_name_and_numbers(samples: ModuleType) -> None:
    def hints(text: str) -> list[str]:
        return re.findall("<title>(.*?)</title>", text.replace(NO_BREAK, " "))

    told = hints(drawing(samples.levels()))
    assert {"fresh water: 90 L to 0 L", "full: 55 L at 3.4 days"} <= set(told)
    assert "fresh water: 90 L to 0 L" not in hints(drawing(samples.levels(), hover=True))  # told where the pointer is
    assert "grey tank: 3.4 days (2.6 to 4.3)" in hints(drawing(samples.days()))
    assert hints(drawing(samples.uses())).count("careful, shower: 4 L/day") == 1


def test_axes_say_quantity_and_unit(samples: ModuleType) -> None:
    texts = [text.text for text in ET.fromstring(drawing(samples.pump(), us=True)).iter(f"{SVG}text")]
    assert {"flow (gal/min)", "Flow (gal/min)"} & set(texts)
    assert {"pressure (psi)", "Pressure (psi)"} & set(texts)


def test_each_role_has_its_colour_and_dash(samples: ModuleType) -> None:
    svg = ET.fromstring(drawing(samples.pump()))
    lines = {path.attrib["data-role"]: path for path in svg.iter(f"{SVG}path") if path.get("class") == "vw-line"}
    for role in ("plain", "saved", "cold", "hot"):
        style = ROLES[role]
        assert lines[role].attrib["stroke-dasharray"] == " ".join(f"{length:g}" for length in style.dash)
        assert style.colour in lines[role].attrib["style"]


def test_hostile_names_stay_text(samples: ModuleType) -> None:
    for make in (samples.named_badly, samples.bars_named_badly):
        for hover in (False, True):
            text = drawing(make(), hover=hover)
            root = ET.fromstring(text)
            assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
                "svg", "title", "desc", "g", "path", "text", "tspan", "rect", "circle", "pattern",
            }  # fmt: skip
            assert not any(name.lower().startswith("on") for element in root.iter() for name in element.attrib)
            assert "\x1b" not in text
            assert "\u202e" not in text
            shown = " ".join("".join(each.itertext()) for each in root.iter(f"{SVG}text"))
            assert all(word in shown for word in plain(samples.NASTY, "terminal").split())


def test_a_size_can_be_asked_for(samples: ModuleType) -> None:
    picture = drawing(samples.levels(), width=300.0, height=200.0)
    assert 'width="300pt" height="200pt"' in picture
    assert 'viewBox="0 0 300 200"' in picture


def test_a_bar_that_goes_beyond_a_firm_axis_is_cut_where_it_shows() -> None:
    bars = Bars(("fresh", "battery"), ("water", "battery"), np.array([2.0, 30.0]) * 86400)
    chart = Chart("c", "t", Axis("days", STAY, low=0.0, high=5 * 86400.0, firm=True), Axis("store"), (bars,))
    svg = ET.fromstring(drawing(chart))
    first, second = (ends_of(svg, bar) for bar in bars_of(svg))
    assert (first[1], second[1]) == pytest.approx((2.0, 5.0), abs=0.01)
    assert len([path for path in svg.iter(f"{SVG}path") if path.get("class") == "vw-cut"]) == 1
    assert f"30{NO_BREAK}days" in drawing(chart)


def test_a_value_that_a_rule_runs_through_stands_on_paper() -> None:
    def papers(wanted: float) -> int:
        bars = Bars("fresh", ("water", "more"), np.array([1.0, 4.0]) * 86400, notes=("empty first", ""))
        axis = Axis("days", STAY, low=0.0, high=5 * 86400.0, firm=True)
        chart = Chart("c", "t", axis, Axis("store"), (bars, Rule("wanted", x=wanted * 86400)))
        text = drawing(chart)
        assert "1 day, empty first".replace(" day", f"{NO_BREAK}day") in text
        return text.count('fill-opacity="0.85"')

    assert papers(1.5) == 1  # the first value's
    assert papers(4.3) == 1  # the second's
    assert papers(0.5) == 0  # through the bars alone


def test_the_scale_stays_while_a_value_moves_a_little(family: PlanFile) -> None:
    """Judge: the plot and its ends, as the picture itself tells them, over a slider's small moves."""
    places = set()
    for seconds in range(60, 121, 10):
        chart = days_of_stores(stay(family.plan.changed({"uses.shower.duration": float(seconds)}, si=True)))
        assert chart is not None
        svg = ET.fromstring(drawing(chart, width=405.0))
        places.add((svg.attrib["data-plot"], svg.attrib["data-seen"]))
    assert len(places) == 1


def test_it_is_drawn_without_any_other_library(samples: ModuleType) -> None:
    script = (
        "import sys, runpy; made = runpy.run_path(sys.argv[1]); from vanwater.figures.drawing import drawing;"
        "drawing(made['levels']()); print(sorted({'matplotlib', 'plotly', 'scipy', 'pandas'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script, samples.__file__], capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "[]", done.stderr
