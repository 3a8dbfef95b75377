"""The whole van on one page in a real JupyterLab: a slider moves picture, numbers and findings together."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest

from tests.browser.pages import WAIT, idle, panel_in_sight, rgb, run, until
from vanwater.answers.questions import answers_to
from vanwater.figures.roles import DARK, ROLES
from vanwater.plan.file import read

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

NOTEBOOK = "00_the_whole_van.ipynb"


@pytest.fixture(scope="module")
def page(chromium: Browser, lab: str, asked: list[str]) -> Iterator[Page]:
    """The notebook, run, the van in sight."""
    page = chromium.new_page(viewport={"width": 1280, "height": 800})
    page.on("request", lambda request: asked.append(request.url))
    page.on("websocket", lambda socket: asked.append(socket.url))
    page.goto(f"{lab}/lab/tree/{NOTEBOOK}?reset")
    idle(page)
    run(page)
    panel_in_sight(page)
    yield page
    page.close()


def tiles(page: Page) -> str:
    return page.locator(".vw-strip").inner_text()


def test_a_slider_moves_picture_numbers_and_findings(page: Page, folder: Path) -> None:
    plan = read(folder / "van.toml").plan
    saved = answers_to(plan).numbers["stay.days"].amount.text(False)
    assert until(lambda: saved in tiles(page))
    page.locator(".vw-control", has_text="people who live in the van").locator(".noUi-handle").focus()
    page.keyboard.press("ArrowRight")
    more = answers_to(plan.changed({"household.people": 5}))
    days = more.numbers["stay.days"].amount.text(False)
    assert days != saved
    assert until(lambda: days in tiles(page))
    assert days in (page.locator(".vw-panel svg[data-chart=stores] desc").text_content() or "")
    wanted = next(finding for finding in more.findings if finding.key == "stay.days")
    page.locator(".vw-finding", has_text=wanted.statement.text()).first.wait_for(timeout=WAIT)


@pytest.mark.parametrize("width", [1280, 1000])
def test_picture_and_knobs_are_large_enough_and_nothing_is_cut(page: Page, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 800})
    picture = page.locator(".vw-panel svg[data-chart]")
    assert until(lambda: (picture.bounding_box() or {"width": 0})["width"] > 420)
    frame = page.locator(".vw-panel").bounding_box()
    assert frame is not None and frame["x"] + frame["width"] <= width
    cut = page.locator(".vw-panel").evaluate(
        """panel => [...panel.querySelectorAll('.vw-tile b, .vw-big, .vw-label i, button')]
            .filter(one => one.offsetParent && one.scrollWidth > one.clientWidth + 1)
            .filter(one => getComputedStyle(one).display !== 'inline')
            .map(one => one.textContent)"""
    )
    assert cut == []


def test_large_is_drawn_by_plotly_and_follows_and_nothing_leaves_the_machine(page: Page, asked: list[str]) -> None:
    page.set_viewport_size({"width": 1280, "height": 1400})
    assert page.locator(".vw-plot").count() == 0
    page.get_by_role("button", name="large").click()
    plot = page.locator(".vw-panel .vw-plot.js-plotly-plot[data-drawn]")
    plot.wait_for(timeout=WAIT)
    drawn = int(plot.get_attribute("data-drawn") or 0)
    told = plot.get_attribute("aria-label")
    page.locator(".vw-control", has_text="people who live in the van").locator(".noUi-handle").focus()
    page.keyboard.press("ArrowLeft")
    assert until(lambda: int(plot.get_attribute("data-drawn") or 0) > drawn)
    assert plot.get_attribute("aria-label") != told
    assert page.evaluate("typeof window.Plotly") == "undefined"
    with page.expect_download(timeout=WAIT) as saving:
        page.locator(".vw-panel .vw-csv").click()
    assert saving.value.suggested_filename == "family-van-winter-use-stores.csv"
    assert saving.value.path().read_bytes().startswith(b"\xef\xbb\xbfkind")
    page.get_by_role("button", name="large").click()
    page.locator(".vw-plot").wait_for(state="detached", timeout=WAIT)
    assert len(asked) > 20
    assert [url for url in asked if urlsplit(url).hostname not in ("127.0.0.1", None)] == []


def test_the_plumbing_is_drawn_in_the_colours_of_the_theme(page: Page) -> None:
    page.locator(".vw-tabs").get_by_role("button", name="Drawing").click()
    run = page.locator(".vw-panel .vw-schematic [data-key='runs.trunk']")
    run.wait_for(timeout=WAIT)
    title = run.locator("title").text_content() or ""
    assert "0.7" in title and "takes" in title and "with shower open" in title

    def cold() -> str:
        return str(run.locator("path").first.evaluate("path => getComputedStyle(path).stroke"))

    assert cold() == rgb(ROLES["cold"].colour)
    page.evaluate("document.body.dataset.jpThemeLight = 'false'")
    assert until(lambda: cold() == rgb(DARK["cold"]))
    page.evaluate("document.body.dataset.jpThemeLight = 'true'")


def test_another_picture_and_another_part_are_one_press_away(page: Page) -> None:
    page.set_viewport_size({"width": 1280, "height": 800})
    page.locator(".vw-tabs").get_by_role("button", name="Frost").click()
    page.locator("svg[data-chart=freezing]").wait_for(timeout=WAIT)
    page.get_by_role("button", name="tanks").click()
    page.locator(".vw-sizes", has_text="payload left").first.wait_for(timeout=WAIT)


def test_a_list_is_handed_on_from_the_fold(page: Page, folder: Path) -> None:
    page.get_by_role("button", name="hand it on").click()
    what = page.get_by_role("combobox", name="what", exact=True)
    what.select_option(label="the list of parts, for an order")
    assert until(lambda: page.get_by_role("combobox", name="as", exact=True).is_disabled())
    page.get_by_role("button", name="write", exact=True).click()
    page.locator(".vw-fold", has_text="Written: van parts.csv").wait_for(timeout=WAIT)
    assert (folder / "van parts.csv").read_text(encoding="utf-8-sig").startswith("what,size,quantity")
