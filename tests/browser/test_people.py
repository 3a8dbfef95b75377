"""The whole van for people: on screens of every width, in both themes, by keyboard alone, read out."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.browser.pages import PLOT, WAIT, choose_theme, contrasts, idle, panel_in_sight, rgb, run, saved, until
from vanwater.figures.roles import DARK, PAPER
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

NOTEBOOK = "00_the_whole_van.ipynb"
HIGH = 1100
WIDTHS = (640, 700, 1000, 1280, 1920)
"""Of the page; 640 is a page of 1280 at 200 % zoom."""

OUT = """
panel => [...panel.querySelectorAll('.vw-tile *, .vw-verdict *, .vw-label i, .vw-label span:last-child, button')]
    .filter(each => each.offsetParent && getComputedStyle(each).display !== 'inline')
    .filter(each => each.scrollWidth > each.clientWidth + 1 || each.getBoundingClientRect().right >
        (each.closest('.vw-tile') ?? panel).getBoundingClientRect().right + 1)
    .map(each => each.className + ': ' + each.textContent)
"""
LETTERS = "svg => Math.min(...[...svg.querySelectorAll('text')].map(each => each.getBoundingClientRect().height))"
FOCUS = """
() => {
    const each = document.activeElement, look = getComputedStyle(each);
    const name = each.getAttribute('aria-label') || each.labels?.[0]?.textContent || each.textContent;
    return [name, look.outlineStyle !== 'none' && parseFloat(look.outlineWidth) >= 2, each.tagName];
}
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the notebook, a picture in a cell above its panel, and a plan of its own."""
    folder = tmp_path_factory.mktemp("people")
    book = json.loads(resource("notebooks", NOTEBOOK).read_text(encoding="utf-8"))
    bench = next(place for place, cell in enumerate(book["cells"]) if "bench = " in "".join(cell["source"]))
    source = 'bench.page("stay").chart()'
    book["cells"].insert(bench + 1, {**book["cells"][bench], "id": "picture", "outputs": [], "source": source})
    (folder / NOTEBOOK).write_text(json.dumps(book), encoding="utf-8")
    shutil.copyfile(resource("data", "plans", "family-winter.toml"), folder / "van.toml")
    return folder


@pytest.fixture(scope="module")
def page(chromium: Browser, lab: str) -> Iterator[Page]:
    """The notebook, run, the list of files folded away, the van in sight."""
    page = chromium.new_page(viewport={"width": 1280, "height": HIGH})
    page.goto(f"{lab}/lab/tree/{NOTEBOOK}?reset")
    idle(page)
    page.keyboard.press("Control+b")
    run(page)
    panel_in_sight(page)
    page.locator(".vw-tile").first.wait_for(timeout=WAIT)
    yield page
    page.close()


def _wide(page: Page, selector: str) -> float:
    return (page.locator(selector).first.bounding_box() or {"width": 0.0})["width"]


@pytest.mark.parametrize("width", WIDTHS)
def test_on_every_screen_nothing_is_cut_and_the_picture_can_be_read(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": HIGH})
    assert until(lambda: _wide(page, PLOT) >= 300 and page.locator(PLOT).evaluate(LETTERS) >= 7)
    panel = page.locator(".vw-panel")
    assert panel.evaluate("panel => panel.scrollWidth - panel.clientWidth") <= 0
    frame = panel.bounding_box()
    assert frame is not None and frame["x"] >= 0 and frame["x"] + frame["width"] <= width
    assert until(lambda: panel.evaluate(OUT) == []), panel.evaluate(OUT)


def test_a_tile_and_a_verdict_keep_their_place_while_a_slider_moves(page: Page) -> None:
    page.set_viewport_size({"width": 700, "height": HIGH})
    places = "panel => ['.vw-verdict', '.vw-strip', '.vw-middle'].map(each => panel.querySelector(each).offsetHeight)"
    axis = f"document.querySelector('{PLOT}').dataset.seen"
    assert until(lambda: _wide(page, PLOT) >= 300)
    before, seen = page.locator(".vw-panel").evaluate(places), page.evaluate(axis)
    page.locator(".vw-control .noUi-handle").first.focus()
    page.keyboard.press("ArrowRight")
    page.locator(".vw-verdict", has_text="4 → 5").wait_for(timeout=WAIT)
    assert page.locator(".vw-panel").evaluate(places) == before
    assert page.evaluate(axis) == seen
    page.get_by_role("button", name="undo").press("Enter")
    page.locator(".vw-verdict", has_text="As the plan stands.").wait_for(timeout=WAIT)


def test_the_keyboard_alone_goes_through_the_panel_and_deletes_no_cell(page: Page) -> None:
    page.set_viewport_size({"width": 1280, "height": HIGH})
    page.locator(".vw-bar select").focus()
    reached = [page.evaluate(FOCUS)]
    for _ in range(60):
        page.keyboard.press("Tab")
        reached.append(page.evaluate(FOCUS))
    names = [name for name, *_ in reached]
    order = ["situation", "household, people who live in the van", "▸ tanks", "Days off-grid", "why: "]
    assert [next(each for each in names if each.startswith(begins)) for begins in order]
    places = [next(place for place, name in enumerate(names) if name.startswith(begins)) for begins in order]
    assert places == sorted(places), names
    within = reached[: places[-1] + 1]
    assert [each for each in within if not each[1]] == []
    assert all(name.strip() for name, *_ in within)
    cells = page.locator(".jp-Cell").count()
    handle = page.locator(".vw-control .noUi-handle").first
    handle.focus()
    for key in ("m", "d", "d", "ArrowRight"):
        page.keyboard.press(key)
    page.locator(".vw-verdict", has_text="4 → 5").wait_for(timeout=WAIT)
    assert (page.locator(".jp-Cell").count(), page.locator(".vw-panel").count()) == (cells, 1)
    home = page.locator(".vw-control .vw-reset:visible").first
    home.focus()
    page.keyboard.press("Enter")
    page.locator(".vw-verdict", has_text="As the plan stands.").wait_for(timeout=WAIT)
    assert until(lambda: handle.evaluate("handle => document.activeElement === handle")), "the focus is lost"


def test_situations_pictures_and_folds_answer_to_keys_and_say_how_they_stand(page: Page) -> None:
    page.locator(".vw-bar select").focus()
    page.keyboard.press("ArrowDown")
    assert until(lambda: page.locator(".vw-bar select").input_value() == "ski week")
    page.keyboard.press("ArrowUp")
    assert until(lambda: page.locator(".vw-bar select").input_value() == "as written")
    frost = page.locator(".vw-tabs").get_by_role("button", name="Frost")
    frost.press("Enter")
    page.locator("svg[data-chart=freezing]").wait_for(timeout=WAIT)
    assert until(lambda: frost.get_attribute("aria-pressed") == "true")
    page.locator(".vw-tabs").get_by_role("button", name="Days off-grid").press("Enter")
    tanks = page.get_by_role("button", name="tanks")
    tanks.press("Enter")
    people = page.get_by_role("button", name="people and habits")
    assert until(lambda: [each.get_attribute("aria-expanded") for each in (people, tanks)] == ["false", "true"])
    people.press("Enter")
    assert until(lambda: tanks.get_attribute("aria-expanded") == "false")


def test_it_is_read_out_with_names_values_and_units(page: Page) -> None:
    page.locator(".vw-panel svg[data-chart=stores]").wait_for(timeout=WAIT)
    read = page.locator(".vw-panel").aria_snapshot()
    roles = re.findall(r"^ *- (slider|combobox|textbox|button|img|heading)\b(.*)$", read, re.MULTILINE)
    assert {role for role, _ in roles} == {"slider", "combobox", "textbox", "button", "img", "heading"}
    assert [(role, rest) for role, rest in roles if not re.match(r' "[^"]+', rest)] == []
    assert 'slider "household, days to stay out (days)"' in read
    assert page.locator(".noUi-handle").first.get_attribute("aria-valuetext") == "4"
    assert page.locator("[aria-live=polite] .vw-verdict").count() == 1


def test_in_the_dark_theme_words_can_be_read_and_no_picture_is_a_white_card(page: Page) -> None:
    cell = page.locator(".jp-Cell", has_text='bench.page("stay").chart()').locator(".vw-shown svg[data-chart]")

    def paper() -> str:
        page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
        cell.wait_for(timeout=WAIT)
        return str(cell.locator("rect").first.evaluate("paper => getComputedStyle(paper).fill"))

    assert paper() == rgb(PAPER)
    assert 300 < _wide(page, ".vw-shown svg[data-chart]") <= 541
    choose_theme(page, "JupyterLab Dark")
    assert paper() == rgb(DARK["paper"])
    panel_in_sight(page)
    read = contrasts(page)
    assert len(read) > 20
    assert {text: round(value, 2) for text, value in read.items() if value < 4.5} == {}


def test_saved_and_converted_it_shows_the_last_picture_with_nothing_from_elsewhere(
    page: Page, folder: Path, chromium: Browser
) -> None:
    page.locator(".vw-control .noUi-handle").first.focus()
    page.keyboard.press("ArrowRight")
    page.locator(".vw-verdict", has_text="4 → 5").wait_for(timeout=WAIT)
    saved(page)
    line = [sys.executable, "-m", "nbconvert", "--to", "html", NOTEBOOK]
    subprocess.run(line, cwd=folder, capture_output=True, check=True, timeout=120)
    paper = chromium.new_page()
    paper.route(re.compile("^http"), lambda route: route.abort())
    paper.goto((folder / NOTEBOOK).with_suffix(".html").as_uri())
    asleep = paper.locator(".vw-asleep")
    assert "people who live in the van: 4 → 5" in asleep.inner_text()
    assert asleep.locator("svg[data-chart=stores]").is_visible()
    assert _wide(paper, ".vw-asleep svg") > 300
    assert asleep.locator(".vw-words").is_hidden()
    assert "Error displaying widget" not in paper.content()
    paper.close()
