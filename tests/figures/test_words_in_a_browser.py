"""Every chart in a real Chromium: no word is cut, none covers another; widths are never thought too small."""

from __future__ import annotations

import json
from types import ModuleType
from typing import TYPE_CHECKING, Any

import pytest

from tests.examples import NAMES, example_answers
from vanwater.document.pictures import WIDE
from vanwater.figures.drawing import drawing
from vanwater.figures.layout import text_width

if TYPE_CHECKING:
    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

LOOKED_AT = """
() => [...document.querySelectorAll('svg')].map(svg => {
    const sheet = svg.viewBox.baseVal, texts = [...svg.querySelectorAll('text')], problems = [];
    const boxes = texts.map(text => {
        const box = text.getBBox(), size = Number(text.getAttribute('font-size'));
        const y = Number(text.getAttribute('y'));
        return [box.x, y - 0.72 * size, box.x + box.width, y + 0.1 * size];
    });
    boxes.forEach(([left, top, right, bottom], row) => {
        if (left < -0.1 || top < -0.1 || right > sheet.width + 0.1 || bottom > sheet.height + 0.1)
            problems.push(['cut', texts[row].textContent]);
        boxes.slice(0, row).forEach((other, place) => {
            const wide = Math.min(right, other[2]) - Math.max(left, other[0]);
            const tall = Math.min(bottom, other[3]) - Math.max(top, other[1]);
            if (wide > 0.5 && tall > 0.5) problems.push([texts[place].textContent, texts[row].textContent]);
        });
    });
    return [svg.dataset.chart, texts.length, problems];
})
"""
"""The ink of letters reaches from the line up to 0.72 of their size; a little may hang below."""

TEXTS = ("fresh water", "5.82\N{NO-BREAK SPACE}L/min", "MMMM WWWW", "handset, litres at 1 bar", "100", "−20", "Über")


def test_no_word_is_cut_and_none_covers_another(chromium: Browser, samples: ModuleType) -> None:
    drawn = [drawing(make(), us) for make in samples.ALL for us in (False, True)]
    for name in NAMES:
        for answer in example_answers(name).values():
            asked = [answer.chart(key) for key in answer.question.on_demand]
            charts = [*answer.charts, *(chart for chart in asked if chart is not None)]
            drawn += [drawing(chart, width=wide) for chart in charts for wide in (WIDE, 405.0, 470.0)]
    assert len(drawn) > 100
    page = chromium.new_page()
    page.set_content("".join(drawn))
    seen: list[Any] = page.evaluate(LOOKED_AT)
    page.close()
    assert len(seen) == len(drawn)
    assert all(texts >= 4 for _, texts, _ in seen)
    assert {(key, json.dumps(problems)) for key, _, problems in seen if problems} == set()


def test_widths_are_on_the_generous_side(chromium: Browser) -> None:
    """Judge: DejaVu Sans, among the widest of the common sans-serif types, as the browser sets it."""
    page = chromium.new_page()
    page.set_content("<canvas></canvas>")
    for size in (8.0, 11.0):
        script = (
            "([texts, size]) => { const pen = document.querySelector('canvas').getContext('2d');"
            "pen.font = `${size}px 'DejaVu Sans'`; return texts.map(text => pen.measureText(text).width); }"
        )
        for text, wide in zip(TEXTS, page.evaluate(script, [list(TEXTS), size]), strict=True):
            assert wide <= text_width(text, size) <= 1.6 * wide + size, text
    page.close()
