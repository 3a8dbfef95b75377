"""Three large pictures in a real JupyterLab: drawn by one script, read off, kept zoomed, in both themes."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest

from tests.browser.pages import WAIT, idle, until
from tests.examples import example_answers
from vanwater.figures.roles import DARK_FOR
from vanwater.figures.screen import figure

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

CELL = """\
from vanwater.answers.questions import QUESTIONS
from vanwater.panels.large_picture import LargePicture
from vanwater.plan.file import read
from IPython.display import display

plan = read("van.toml").plan
answer = QUESTIONS["stay"].ask(plan)
pictures = [LargePicture(answer.chart(key), plan=plan.van.name) for key in ("levels", "stores", "uses")]
display(*pictures)
"""
MOVE = 'pictures[0].show(QUESTIONS["stay"].ask(plan.changed({"household.people": people})).chart("levels"))'
MOVES = f"for people in (1, 2, 3, 6):\n    {MOVE}\n"

LARGE = 4_000_000  # letters of a message that can hold the script
PLOT = ".vw-plot.js-plotly-plot"
LEVELS = f"{PLOT} >> nth=0"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a plan and a notebook: one cell shows three pictures, the next one moves the first."""
    from vanwater.plan.tables import resource

    folder = tmp_path_factory.mktemp("large")
    (folder / "van.toml").write_bytes(resource("data", "plans", "family-winter.toml").read_bytes())
    cells = [
        {"cell_type": "code", "id": name, "metadata": {}, "execution_count": None, "outputs": [], "source": source}
        for name, source in (("show", CELL), ("move", MOVES))
    ]
    kernel = {"kernelspec": {"name": "python3", "display_name": "Python 3 (ipykernel)", "language": "python"}}
    book = {"cells": cells, "metadata": kernel, "nbformat": 4, "nbformat_minor": 5}
    (folder / "large.ipynb").write_text(json.dumps(book), encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def traffic() -> dict[str, list[Any]]:
    """Every address that the page asked for, and how long each message is that came."""
    return {"asked": [], "came": []}


@pytest.fixture(scope="module")
def page(chromium: Browser, lab: str, traffic: dict[str, list[Any]]) -> Iterator[Page]:
    """The notebook, its first cell run, three pictures in sight."""
    page = chromium.new_page(viewport={"width": 1280, "height": 1900})
    page.on("request", lambda request: traffic["asked"].append(request.url))

    def hear(socket: Any) -> None:
        traffic["asked"].append(socket.url)
        socket.on("framereceived", lambda frame: traffic["came"].append(len(frame)))

    page.on("websocket", hear)
    page.goto(f"{lab}/lab/tree/large.ipynb?reset")
    idle(page)
    page.locator(".jp-Cell .cm-content").first.click()
    page.keyboard.press("Shift+Enter")
    assert until(lambda: page.locator(PLOT).count() == 3)
    page.locator(f"{PLOT}[data-drawn]").nth(2).wait_for(timeout=WAIT)
    yield page
    page.close()


def _levels(people: int) -> dict[str, Any]:
    from vanwater.answers.questions import QUESTIONS

    plan = example_answers("family-winter")["stay"].batch.plan.changed({"household.people": people})  # type: ignore[attr-defined]
    chart = QUESTIONS["stay"].ask(plan).chart("levels")
    assert chart is not None
    return figure(chart)


def _drawn(page: Page) -> list[list[float]]:
    """The x of the named curves of the first picture, as plotly has them."""
    found: list[list[float]] = page.locator(LEVELS).evaluate(
        "plot => plot.data.filter(trace => trace.name).map(trace => [...trace.x])"
    )
    return found


def _seen(page: Page) -> list[float]:
    """The part of the days that the first picture shows."""
    found: list[float] = page.locator(LEVELS).evaluate("plot => [...plot.layout.xaxis.range]")
    return found


def _wanted(made: dict[str, Any]) -> list[list[float]]:
    return [trace["x"] for trace in made["data"] if "name" in trace]


def test_each_is_drawn_by_the_same_script_which_came_once(page: Page, traffic: dict[str, list[Any]]) -> None:
    assert _drawn(page) == _wanted(_levels(4))
    assert page.locator(".js-plotly-plot .main-svg").count() >= 3
    assert [size for size in traffic["came"] if size > LARGE] == [pytest.approx(4_816_000, rel=0.2)]
    assert page.evaluate("typeof window.Plotly") == "undefined"


def test_it_has_a_name_takes_the_focus_and_offers_no_upload(page: Page) -> None:
    plot = page.locator(LEVELS)
    plot.focus()
    assert plot.evaluate("plot => document.activeElement === plot")
    name = plot.get_attribute("aria-label") or ""
    assert "The grey tank is full first" in name and "fresh lasts" in name
    titles = [each.get_attribute("data-title") or "" for each in page.locator(f"{PLOT} .modebar-btn").all()]
    assert any("Zoom" in title for title in titles)
    assert not [title for title in titles if re.search("cloud|share|edit|studio", title, re.IGNORECASE)]
    buttons = page.locator(".vw-save").first.get_by_role("button").all()
    assert [each.inner_text() for each in buttons] == ["PNG", "SVG", "CSV", "whole"]
    assert page.locator(f"{LEVELS} >> .legend .legendtext").all_text_contents() == ["grey", "fresh", "battery"]


def test_a_pointer_is_told_value_and_unit(page: Page) -> None:
    box = page.locator(f"{PLOT} .barlayer .point").first.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    text = page.locator(f"{PLOT} .hoverlayer text").first
    text.wait_for(timeout=WAIT)
    told = page.locator(f"{PLOT} .hoverlayer").all_text_contents()
    assert any(re.search(r"fresh, as planned: 2\.7\sdays \(2\.2 to 3\.6\)", each) for each in told), told
    page.mouse.move(2, 2)


def test_it_is_drawn_once_when_the_hand_rests_and_stays_zoomed(page: Page) -> None:
    box = page.locator(f"{LEVELS} >> .nsewdrag").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 0.2 * box["width"], box["y"] + 0.5 * box["height"])
    page.mouse.down()
    page.mouse.move(box["x"] + 0.6 * box["width"], box["y"] + 0.5 * box["height"], steps=4)
    page.mouse.up()
    assert until(lambda: _seen(page) == pytest.approx([1.0, 3.0], abs=0.05))
    zoomed = _seen(page)
    before = int(page.locator(LEVELS).get_attribute("data-drawn") or 0)
    page.evaluate(
        """() => { const plot = document.querySelector('.vw-plot'); window.when = [];
            new MutationObserver(() => window.when.push(performance.now()))
                .observe(plot, {attributes: true, attributeFilter: ['data-drawn']}); }"""
    )
    page.locator(".jp-Cell .cm-content").nth(1).click()
    page.keyboard.press("Shift+Enter")
    assert until(lambda: _drawn(page) == _wanted(_levels(6)))
    page.wait_for_timeout(500)
    assert int(page.locator(LEVELS).get_attribute("data-drawn") or 0) - before == 1  # of four changes
    assert _seen(page) == zoomed
    page.locator(".vw-large").first.get_by_role("button", name="whole picture").click()
    assert until(lambda: _seen(page) == _levels(6)["layout"]["xaxis"]["range"])


@pytest.mark.parametrize(("button", "begins"), [("PNG", b"\x89PNG"), ("SVG", b"<svg"), ("CSV", b"\xef\xbb\xbfname")])
def test_it_can_be_saved(page: Page, button: str, begins: bytes) -> None:
    with page.expect_download(timeout=WAIT) as saving:
        page.locator(".vw-large").first.get_by_role("button", name=button).click()
    assert saving.value.suggested_filename == f"family-van-winter-use-levels.{button.lower()}"
    assert saving.value.path().read_bytes().startswith(begins)


def test_it_takes_the_room_of_its_cell(page: Page) -> None:
    def wide() -> float:
        return float(page.locator(f"{LEVELS} >> .main-svg >> nth=0").evaluate("svg => svg.clientWidth"))

    before = wide()
    page.set_viewport_size({"width": 1000, "height": 1900})
    assert until(lambda: 200 < wide() < before - 100)
    page.set_viewport_size({"width": 1280, "height": 1900})
    assert until(lambda: wide() == before)


def test_it_follows_the_theme(page: Page) -> None:
    def paper() -> str:
        tones = "plot => plot.layout.paper_bgcolor + plot.layout.shapes[0].line.color"
        return str(page.locator(LEVELS).evaluate(tones))

    bright, dim = "#ffffff#000000", DARK_FOR["#ffffff"] + DARK_FOR["#000000"]

    def square() -> str:
        spans = page.locator(f"{PLOT} .annotation-text tspan[style*='fill']")
        return str(spans.first.evaluate("span => getComputedStyle(span).fill"))

    assert paper() == bright
    assert square() == "rgb(34, 34, 34)"
    page.evaluate("document.body.dataset.jpThemeLight = 'false'")
    assert until(lambda: paper() == dim)
    assert until(lambda: square() == "rgb(228, 228, 228)")
    page.evaluate("document.body.dataset.jpThemeLight = 'true'")
    assert until(lambda: paper() == bright)
    page.evaluate("delete document.body.dataset.jpThemeLight")  # a page that is no JupyterLab
    page.emulate_media(color_scheme="dark")
    assert until(lambda: paper() == dim)
    page.emulate_media(color_scheme="light")
    assert until(lambda: paper() == bright)


def test_a_page_that_is_loaded_again_has_all_of_them_by_one_more_sending(
    page: Page, traffic: dict[str, list[Any]]
) -> None:
    page.keyboard.press("Control+s")
    page.locator(".jp-NotebookPanel.jp-mod-dirty, .lm-TabBar-tab.jp-mod-dirty").wait_for(state="detached", timeout=WAIT)
    page.reload()
    idle(page)
    assert until(lambda: page.locator(f"{PLOT}[data-drawn]").count() == 3)
    assert _drawn(page) == _wanted(_levels(6))
    assert len([size for size in traffic["came"] if size > LARGE]) == 2


def test_nothing_left_the_machine(page: Page, traffic: dict[str, list[Any]]) -> None:
    asked = traffic["asked"]
    assert page.url.startswith("http://127.0.0.1")
    assert len(asked) > 20
    assert [url for url in asked if urlsplit(url).hostname not in ("127.0.0.1", None)] == []
    assert {urlsplit(url).scheme for url in asked} <= {"http", "ws", "data", "blob"}
