from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from itertools import combinations
from xml.etree import ElementTree as ET

import matplotlib as mpl
import pytest
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from vanwater.answers.core.escaping import plain
from vanwater.figures.paper import svg
from vanwater.figures.roles import ROLES

SVG = "{http://www.w3.org/2000/svg}"
TRANSLATED = re.compile(r"(translate|rotate)\(([-\d.]+)(?:[ ,]+([-\d.]+))?\)")


def drawn_texts(picture: str) -> Iterator[tuple[str, tuple[float, float, float, float]]]:
    """Each text with its box, by the outlines of DejaVu Sans as a judge that the program does not use."""
    for element in ET.fromstring(picture).iter(f"{SVG}text"):
        text = "".join(element.itertext())
        style = element.get("style", "")
        size = re.search(r"([\d.]+)px", style)
        assert size is not None
        weight = "bold" if "bold" in style or " 700 " in style else "normal"
        outline = TextPath((0, 0), text, size=float(size[1]), prop=FontProperties(family="DejaVu Sans", weight=weight))
        wide = outline.get_extents().width
        x, y = float(element.get("x", 0)), float(element.get("y", 0))
        for kind, first, second in TRANSLATED.findall(element.get("transform", "")):
            if kind == "translate":
                x, y = x + float(first), y + float(second)
        anchor = re.search(r"text-anchor: (\w+)", style)
        left = x - wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor[1] if anchor else "start"]
        yield text, (left, y - 0.72 * float(size[1]), left + wide, y + 0.1 * float(size[1]))


@pytest.mark.parametrize("us", [False, True])
def test_no_text_of_the_picture_covers_another(chart, us):
    texts = list(drawn_texts(svg(chart, us)))
    assert len(texts) > 5
    for (one, first), (other, second) in combinations(texts, 2):
        wide, tall = (
            min(first[2], second[2]) - max(first[0], second[0]),
            min(first[3], second[3]) - max(first[1], second[1]),
        )
        assert wide <= 0.5 or tall <= 0.5, (one, other)


def test_no_text_runs_over_the_edge(chart):
    picture = svg(chart)
    box = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', picture)
    assert box is not None
    for text, (left, top, right, bottom) in drawn_texts(picture):
        assert left >= 0, text
        assert top >= 0, text
        assert right <= float(box[1]), text
        assert bottom <= float(box[2]), text


def test_the_same_chart_gives_the_same_bytes(chart):
    assert svg(chart) == svg(chart)


def test_another_process_gives_the_same_bytes(samples):
    script = (
        "import sys, runpy; made = runpy.run_path(sys.argv[1]); from vanwater.figures.paper import svg;"
        "sys.stdout.buffer.write(svg(made['levels']()).encode())"
    )
    other = subprocess.run(
        [sys.executable, "-c", script, samples.__file__], capture_output=True, check=True, env={"PYTHONHASHSEED": "7"}
    )
    assert other.stdout.decode() == svg(samples.levels())


def test_nothing_outside_is_referred_to(chart):
    picture = svg(chart)
    names = {"http://www.w3.org/2000/svg", "http://www.w3.org/1999/xlink"}
    assert set(re.findall(r"\w+://[^\"'<>) ]+", picture)) <= names
    for reference in re.findall(r'(?:url\(|href=")([^")]*)', picture):
        assert reference.startswith(f"#{chart.key}-")
    assert "<script" not in picture
    assert "<metadata" not in picture
    assert picture.startswith("<svg")


def test_every_id_is_the_charts_own_and_every_reference_is_met(chart):
    picture = svg(chart)
    ids = re.findall(r'\bid="([^"]*)"', picture)
    assert ids
    assert all(one.startswith(f"{chart.key}-") for one in ids)
    assert len(set(ids)) == len(ids)
    assert set(re.findall(r'(?:url\(|href=")#([^")]*)', picture)) <= set(ids)
    label = re.search(r'aria-labelledby="([^"]*)"', picture)
    assert label is not None
    assert set(label[1].split()) <= set(ids)


def test_those_who_do_not_see_it_are_told(samples):
    root = ET.fromstring(svg(samples.levels()))
    assert root.get("role") == "img"
    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert desc is not None
    assert (title.text or "").replace("\N{NO-BREAK SPACE}", " ") == "Grey is full after 3.4 days (2.6 to 4.3)"
    assert desc.text == "Water in both tanks over six days."


def test_pointing_at_a_thing_tells_its_name_and_numbers(samples):
    hints = {
        text.replace("\N{NO-BREAK SPACE}", " ") for text in re.findall("<title>(.*?)</title>", svg(samples.levels()))
    }
    assert "fresh water: 90 L to 0 L" in hints
    assert "full: 55 L at 3.4 days" in hints
    bars = svg(samples.days()).replace("\N{NO-BREAK SPACE}", " ")
    assert "<title>grey tank: 3.4 days (2.6 to 4.3)</title>" in bars
    assert svg(samples.uses()).replace("\N{NO-BREAK SPACE}", " ").count("<title>careful, shower: 4 L/day</title>") == 1


def test_axes_say_quantity_and_unit(samples):
    texts = [text for text, _ in drawn_texts(svg(samples.pump(), us=True))]
    assert "Pressure (psi)" in texts
    assert "Flow (gal/min)" in texts


def test_each_role_has_its_colour_and_dash(samples):
    picture = svg(samples.pump())
    for role in ("plain", "saved", "cold", "hot"):
        style = ROLES[role]
        dash = ",".join(f"{length * style.width:g}" for length in style.dash)
        assert re.search(rf"stroke-dasharray: {dash};[^\"]*stroke: {style.colour}", picture), role


def test_hostile_names_stay_text(samples):
    for make in (samples.named_badly, samples.bars_named_badly):
        picture = svg(make())
        root = ET.fromstring(picture)
        assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
            "svg", "title", "desc", "defs", "style", "g", "path", "use", "text", "tspan", "clipPath", "rect", "pattern",
        }  # fmt: skip
        assert not any(name.lower().startswith("on") for element in root.iter() for name in element.attrib)
        shown = plain(samples.NASTY, "terminal")
        words = " ".join(text for text, _ in drawn_texts(picture))
        assert "$x^2$" in words
        assert all(word in words for word in shown.split())
        assert "\x1b" not in picture
        assert "\u202e" not in picture


def test_it_leaves_matplotlib_as_it_found_it(chart):
    svg(chart)
    for name in ("svg.fonttype", "svg.hashsalt", "font.family", "hatch.linewidth"):
        assert mpl.rcParams[name] == mpl.rcParamsDefault[name]


def test_drawing_libraries_are_imported_only_when_something_is_drawn(samples):
    script = (
        "import sys, runpy; made = runpy.run_path(sys.argv[1]); import vanwater.figures.paper as paper,"
        "vanwater.figures.screen; assert not {'matplotlib', 'plotly'} & set(sys.modules);"
        "paper.svg(made['levels']()); assert 'matplotlib.pyplot' not in sys.modules; print('fine')"
    )
    done = subprocess.run([sys.executable, "-c", script, samples.__file__], capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "fine", done.stderr


def test_a_size_can_be_asked_for(samples):
    picture = svg(samples.levels(), width=300.0, height=200.0)
    assert 'width="300pt" height="200pt"' in picture
    assert 'viewBox="0 0 300 200"' in picture
