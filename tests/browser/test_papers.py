"""The papers by axe-core in a real browser, on a desk and on a telephone: nothing against WCAG 2 A and AA."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.examples import NAMES, example, example_answers
from vanwater.document.change_order import render_change
from vanwater.document.papers import paper
from vanwater.figures.schematic.drawing import schematic
from vanwater.options.variants import compare_plans

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

DESK, TELEPHONE = 1280, 390

DAY = dt.date(2026, 11, 25)
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
THIN = """
() => {
    for (const selector of ['.sums > p[id]', '.answer', '.listing', '.findings > li'])
        [...document.querySelectorAll(selector)].slice(4).forEach(each => each.remove());
}
"""
"""The file says the same kinds of things hundreds of times, and axe looks at each with each: four of each are kept."""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    page = chromium.new_page()
    yield page
    page.close()


def violations(page: Page, folder: Path, text: str, *widths: int) -> dict[str, list[str]]:
    place = folder / "paper.html"
    place.write_text(text, encoding="utf-8")
    told: dict[str, list[str]] = {}
    for width in widths:
        page.set_viewport_size({"width": width, "height": 900})
        page.goto(place.as_uri())
        page.evaluate(THIN)
        found = Axe().run(page, options={"resultTypes": ["violations"], "runOnly": RULES}).response
        assert len(found["passes"]) > 15
        for each in found["violations"]:
            told[f"{width} {each['id']}"] = [node["html"][:120] for node in each["nodes"][:3]]
    return told


@pytest.mark.parametrize(("us", "width"), [(False, DESK), (True, TELEPHONE)])
@pytest.mark.parametrize("who", ["customer", "workshop"])
def test_the_short_papers(page: Page, tmp_path: Path, who: str, us: bool, width: int) -> None:
    for name in NAMES:
        assert violations(page, tmp_path, paper(who, example_answers(name), us=us, date=DAY), width) == {}, name


def test_the_file(page: Page, tmp_path: Path) -> None:
    assert (
        violations(page, tmp_path, paper("file", example_answers("touring-campsites"), date=DAY), DESK, TELEPHONE) == {}
    )


def test_the_change_order(page: Page, tmp_path: Path) -> None:
    plan = example("family-winter")
    change = compare_plans("now", plan, {"bare": plan.changed({"accumulators.accumulator": None})}, keys=())
    assert violations(page, tmp_path, render_change(change, date=DAY), DESK, TELEPHONE) == {}


def test_a_drawing_that_stands_alone_has_its_name_and_its_words(page: Page, tmp_path: Path) -> None:
    place = tmp_path / "van.svg"
    place.write_text(schematic(example_answers("family-winter")), encoding="utf-8")
    page.goto(place.as_uri())
    told = page.locator("svg").aria_snapshot()
    assert told.startswith('- img "The plumbing of Family van, winter use')


def test_the_first_tab_leads_past_the_first_page_and_is_seen(page: Page, tmp_path: Path) -> None:
    place = tmp_path / "van.html"
    place.write_text(paper("file", example_answers("weekend-cans"), date=DAY), encoding="utf-8")
    page.set_viewport_size({"width": 1280, "height": 900})
    page.goto(place.as_uri())
    page.keyboard.press("Tab")
    box = page.locator("a.skip:focus").bounding_box()
    assert box is not None and box["x"] >= 0 and box["y"] >= 0
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('nav .contents') !== null")
