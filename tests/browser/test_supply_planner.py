"""The notebook on pump, hoses and fittings in a real JupyterLab: a slider moves the pump's curve."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest

from tests.browser.pages import WAIT, WATCH, choose_theme, contrasts, idle, until
from vanwater.answers.outlets.answer import outlets
from vanwater.answers.outlets.pump_chart import pump_against_system
from vanwater.plan.file import read

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

pytestmark = pytest.mark.browser

NOTEBOOK = "05_pump_hoses_and_fittings.ipynb"
PANEL = ".vw-panel:has(svg[data-chart=pump])"
PLOT = f"{PANEL} svg[data-chart=pump]"
PATHS = "svg => [...svg.querySelectorAll('path.vw-line')].map(one => [one.dataset.name, one.getAttribute('d')])"


@pytest.fixture(scope="module")
def planner(chromium: Browser, lab: str, asked: list[str]) -> Iterator[Page]:
    """The notebook, run, its panel of pump and system in sight."""
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{lab}/lab/tree/{NOTEBOOK}?reset")
    idle(page)
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_text("Run All Cells", exact=True).click()
    page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    assert until(lambda: _scrolled_to(page)), "the panel never came"
    page.locator(PANEL).evaluate("panel => panel.scrollIntoView()")
    page.locator(PLOT).wait_for(timeout=WAIT)
    yield page
    page.close()


def _scrolled_to(page: Page) -> bool:
    if page.locator(PLOT).count():
        return True
    page.mouse.move(800, 500)
    page.mouse.wheel(0, 250)
    page.wait_for_timeout(100)
    return False


def _slider(page: Page, label: str) -> Locator:
    return page.locator(f"{PANEL} .vw-control", has_text=label).first.locator(".noUi-handle")


def _lines(page: Page) -> dict[str, str]:
    found: dict[str, Any] = dict(page.locator(PLOT).evaluate(PATHS))
    return found


def test_the_pumps_curve_follows_its_volts_and_no_systems_curve_does(planner: Page, folder: Path) -> None:
    before = _lines(planner)
    assert {"shower", "evening"} < before.keys()
    planner.evaluate(WATCH.replace(".vw-chart", f"{PANEL} .vw-chart"))
    _slider(planner, "volts that reach it").focus()
    planner.keyboard.press("ArrowLeft")
    planner.wait_for_function("window.mutations > 0", timeout=WAIT)
    box = planner.locator(f"{PANEL} .vw-control", has_text="volts that reach it").first.locator("input")
    assert until(lambda: float(box.input_value()) < 12.7)
    plan = read(folder / "van.toml").plan.changed({"pumps.pump.volts": float(box.input_value())}, si=True)
    chart = pump_against_system(outlets(plan))
    assert chart is not None
    planner.locator(f"{PANEL} .vw-verdict", has_text=outlets(plan).verdict.text()).wait_for(timeout=WAIT)
    after = _lines(planner)
    assert [name for name in after if name and name.startswith("pump at")] == [
        f"pump at {float(box.input_value()):g}\N{NO-BREAK SPACE}V"
    ]
    assert after["rated 13.6\N{NO-BREAK SPACE}V"] == before["rated 13.6\N{NO-BREAK SPACE}V"]
    assert after["shower"] == before["shower"]
    assert planner.locator(f"{PLOT} text", has_text="meets the pump").count() == 1


def test_a_pointer_over_the_curves_is_told_their_pressures(planner: Page) -> None:
    frame = planner.locator(PLOT).bounding_box()
    assert frame is not None
    planner.mouse.move(frame["x"] + 0.3 * frame["width"], frame["y"] + 0.5 * frame["height"])
    told = planner.locator(f"{PANEL} .vw-slice:hover .vw-told text")
    told.wait_for(timeout=WAIT)
    assert re.search(r"shower: \d\.\d+\sbar", told.text_content() or "")
    planner.mouse.move(5, 5)


def test_no_label_and_no_button_is_cut(planner: Page) -> None:
    cut = planner.locator(PANEL).evaluate(
        """panel => [...panel.querySelectorAll('.vw-label span, .vw-big, button')]
            .filter(one => one.offsetParent && getComputedStyle(one).display !== 'inline')
            .filter(one => one.scrollWidth > one.clientWidth + 1)
            .map(one => one.textContent)"""
    )
    assert cut == []


def test_it_can_be_read_in_the_dark_and_in_the_light_theme(planner: Page) -> None:
    light = _contrasts_of(planner)
    choose_theme(planner, "JupyterLab Dark")
    for found in (light, _contrasts_of(planner)):
        assert len(found) > 20
        assert {text: round(value, 2) for text, value in found.items() if value < 4.5} == {}


def _contrasts_of(page: Page) -> dict[str, float]:
    """Those of the panel in sight: the other ones are taken out of the page first."""
    page.evaluate(
        f"[...document.querySelectorAll('.vw-panel')].filter(one => !one.matches('{PANEL}')).forEach(one => "
        "one.classList.remove('vw-panel'))"
    )
    return contrasts(page)


def test_nothing_left_the_machine(planner: Page, asked: list[str]) -> None:
    assert planner.url.startswith("http://127.0.0.1")
    assert len(asked) > 20
    assert [url for url in asked if urlsplit(url).hostname not in ("127.0.0.1", None)] == []
