from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from tests.examples import example_answers
from vanwater.figures.drawing import drawing
from vanwater.figures.roles import DARK
from vanwater.figures.schematic.drawing import schematic
from vanwater.figures.themed import shown, themed


@pytest.fixture(scope="module")
def drawings() -> list[str]:
    answers = example_answers("family-winter")
    charts = [chart for answer in answers.values() if (chart := answer.chart()) is not None]
    return [*(drawing(chart) for chart in charts), schematic(answers)]


def test_every_colour_of_a_drawing_has_a_dark_one_and_no_other_does(drawings: list[str]) -> None:
    assert len(drawings) > 5
    for svg in drawings:
        (rule,) = re.findall(r"svg\{(--vw-[^}]*)\}", themed(svg))
        dark = dict(re.findall(r"--vw-([\w-]+):light-dark\(#\w+,(#\w+)\);", rule))
        used = set(re.findall(r"var\(--vw-([\w-]+),(#\w+)\)", svg))
        assert dark == {name: DARK[name] for name, colour in used if DARK[name] != colour}
        ET.fromstring(themed(svg))


def test_on_a_page_it_is_seen_or_its_words_are(drawings: list[str]) -> None:
    piece = shown(drawings[0], "fresh &lt; grey")
    assert drawings[0] in piece
    bare = re.sub(r"<style>.*?</style>", "", piece)  # as a page shows it that takes style sheets out
    assert '<div class="vw-shown" hidden>' in bare
    assert bare.endswith('<p class="vw-words">fresh &lt; grey</p>')
