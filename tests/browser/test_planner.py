"""The planner in a real JupyterLab and a real browser: a slider moves the picture to the library's answer."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

import pytest

from tests.browser.pages import (
    PLOT,
    WAIT,
    WATCH,
    choose_theme,
    contrasts,
    idle,
    panel_in_sight,
    run,
    saved,
    until,
    wheel,
)
from vanwater.answers.stay.answer import Stay, stay
from vanwater.plan.file import read

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

pytestmark = pytest.mark.browser

NOTEBOOK = "01_days_off_grid.ipynb"
POINTS = """
svg => ({
    plot: svg.dataset.plot.split(' ').map(Number),
    seen: svg.dataset.seen.split(' ').map(Number),
    bars: [...svg.querySelectorAll('rect.vw-bar')].filter(bar => !bar.closest('[fill-opacity]')).map(bar => [
        bar.dataset.name, Number(bar.getAttribute('x')), Number(bar.getAttribute('width'))]),
})
"""


@pytest.fixture(scope="module")
def planner(chromium: Browser, lab: str, asked: list[str]) -> Iterator[Page]:
    """The notebook, run, its panel in sight."""
    page = chromium.new_page(viewport={"width": 1280, "height": 800})
    page.on("request", lambda request: asked.append(request.url))
    page.on("websocket", lambda socket: asked.append(socket.url))
    page.goto(f"{lab}/lab/tree/{NOTEBOOK}?reset")
    idle(page)
    run(page)
    panel_in_sight(page)
    yield page
    page.close()


def _back_to_the_plan(page: Page) -> None:
    """Undo what the tests before moved; where nothing is moved the button is dead."""
    button = page.get_by_role("button", name="back to the plan", exact=True)
    if button.is_enabled():
        button.click()
    page.get_by_text("As the plan stands").wait_for(timeout=WAIT)


def _control(page: Page, label: str) -> Locator:
    return page.locator(".vw-control", has_text=label).first


def _press(page: Page, label: str, key: str) -> None:
    """Press a key on a slider and wait until the picture has changed."""
    page.evaluate(WATCH)
    _control(page, label).locator(".noUi-handle").focus()
    page.keyboard.press(key)
    page.wait_for_function("window.mutations > 0", timeout=WAIT)


def _ends(page: Page) -> dict[str, float]:
    """Where each bar of the picture ends, in days."""
    found: dict[str, Any] = page.locator(PLOT).evaluate(POINTS)
    left, right, *_ = found["plot"]
    low, high, *_ = found["seen"]
    assert low == 0.0
    assert {x for _, x, _ in found["bars"]} == {round(left, 1)}  # a drawing's places are told in tenths of a point
    return {name: wide / (right - left) * high for name, _, wide in found["bars"]}


def _wanted(folder: Path, values: dict[str, Any]) -> Stay:
    return stay(read(folder / "van.toml").plan.changed(values, si=True))


def _shows(page: Page, answer: Stay) -> None:
    page.locator(".vw-verdict", has_text=answer.verdict.text()).wait_for(timeout=WAIT)
    assert _ends(page) == pytest.approx({store.name: store.days.likely / 86400 for store in answer.stores}, abs=0.02)


def test_the_first_picture_is_the_plans(planner: Page, folder: Path) -> None:
    _shows(planner, _wanted(folder, {}))


def test_a_key_on_a_slider_moves_the_picture_to_the_librarys_answer(planner: Page, folder: Path) -> None:
    _press(planner, "people who live in the van", "ArrowRight")
    _shows(planner, _wanted(folder, {"household.people": 5}))
    assert until(lambda: _control(planner, "people who live in the van").locator("input").input_value() == "5")
    _press(planner, "people who live in the van", "ArrowLeft")
    _press(planner, "people who live in the van", "ArrowLeft")
    _shows(planner, _wanted(folder, {"household.people": 3}))
    assert "household, people who live in the van: 4 → 3" in planner.locator(".vw-verdict").inner_text()


def test_a_held_key_is_followed_by_pictures_and_ends_at_its_last_press(planner: Page, folder: Path) -> None:
    _back_to_the_plan(planner)
    control = _control(planner, "inside length along the van")
    before = control.locator("input").input_value()
    planner.evaluate(
        """() => {
            const chart = document.querySelector('.vw-chart');
            window.pictures = [chart.innerHTML];
            new MutationObserver(() => {
                if (chart.querySelector('svg') && chart.innerHTML !== window.pictures.at(-1))
                    window.pictures.push(chart.innerHTML);
            }).observe(chart, {childList: true, subtree: true});
        }"""
    )
    control.locator(".noUi-handle").focus()
    held = 0
    while (
        held < 200 and planner.evaluate("window.pictures.length") < 4
    ):  # a key that is held is pressed again and again
        planner.keyboard.down("ArrowRight")
        planner.wait_for_timeout(33)
        held += 1
    planner.keyboard.up("ArrowRight")
    assert planner.evaluate("window.pictures.length") >= 4, "no picture came while the key was held"

    def at_rest() -> bool:
        value = control.locator("input").input_value()
        planner.wait_for_timeout(1000)
        return value == control.locator("input").input_value() != before

    assert until(at_rest)
    plan = read(folder / "van.toml").plan
    value = f"{control.locator('input').input_value()} m"
    _shows(planner, stay(plan.changed({"tanks.grey.length": value})))
    _back_to_the_plan(planner)


def test_nothing_jumps_and_nothing_is_cut(planner: Page) -> None:
    named = [".vw-verdict", ".vw-controls", ".vw-chart svg", ".vw-slot", ".vw-folds"]
    places = [*((place, 0) for place in named), (".vw-slot", 2)]
    _back_to_the_plan(planner)

    def boxes() -> list[list[float] | None]:
        """Within the panel, read in one go: a key may scroll the page to its slider. None of what is not in sight."""
        read: list[list[float] | None] = planner.locator(".vw-panel").evaluate(
            """(panel, places) => places.map(([place, nth]) => {
                const one = panel.querySelectorAll(place)[nth];
                if (!one || !one.getClientRects().length) return null;
                const box = one.getBoundingClientRect(), frame = panel.getBoundingClientRect();
                const sides = [box.x - frame.x, box.y - frame.y, box.width, box.height];
                return sides.map(side => Math.round(10 * side) / 10);
            })""",
            places,
        )
        return read

    before = boxes()
    assert sum(box is not None for box in before) >= 5
    for key in ("ArrowRight", "ArrowRight", "ArrowRight"):
        _press(planner, "people who live in the van", key)
        assert until(lambda: boxes() == before), (before, boxes())
    cut = planner.locator(".vw-panel").evaluate(
        """panel => [...panel.querySelectorAll('.vw-label span, .vw-big, button')]
            .filter(one => one.offsetParent && getComputedStyle(one).display !== 'inline')
            .filter(one => one.scrollWidth > one.clientWidth + 1)
            .map(one => one.textContent)"""
    )
    assert cut == []
    frame = planner.locator(".vw-panel").bounding_box()
    assert frame is not None
    assert frame["x"] + frame["width"] <= 1280


def test_every_cell_follows_a_slider_and_a_step_back(planner: Page, folder: Path) -> None:
    _back_to_the_plan(planner)
    _press(planner, "people who live in the van", "ArrowRight")
    answer = _wanted(folder, {"household.people": 5})
    more = answer.verdict.text()
    planner.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    cell = planner.locator(".jp-Cell", has_text="days.verdict()").locator(".jp-OutputArea-output")
    cell.filter(has_text=more).wait_for(timeout=WAIT)
    planner.locator(".jp-OutputArea-output", has_text="Moved and not saved").first.wait_for(timeout=WAIT)
    chart = planner.locator(".jp-Cell", has_text='days.chart("stores")').locator(".vw-shown svg")
    lasts = "grey lasts " + more.split(" (")[0].partition("after ")[2]
    assert until(lambda: lasts in (chart.text_content() or ""))
    panel_in_sight(planner)
    planner.get_by_role("button", name="undo").click()
    _shows(planner, _wanted(folder, {}))
    planner.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    cell.filter(has_text=_wanted(folder, {}).verdict.text()).wait_for(timeout=WAIT)
    panel_in_sight(planner)


def test_a_number_nobody_believes_is_told_at_its_box_and_the_value_stays(planner: Page, folder: Path) -> None:
    control = _control(planner, "inside length along the van")
    box = control.locator("input")
    box.fill("99")
    box.press("Enter")
    alert = planner.get_by_role("alert")
    alert.wait_for(timeout=WAIT)
    assert "not believable" in alert.inner_text()
    assert until(lambda: box.input_value() == "0.8")
    _shows(planner, _wanted(folder, {}))
    box.fill("90 cm")
    box.press("Enter")
    alert.wait_for(state="detached", timeout=WAIT)
    _shows(planner, _wanted(folder, {"tanks.grey.length": 0.9}))
    assert until(lambda: box.input_value() == "0.9")
    home = control.get_by_role("button", name=re.compile("back to the plan's 0.8"))
    home.wait_for(timeout=WAIT)
    home.press("Enter")
    _shows(planner, _wanted(folder, {}))


def test_sliders_and_boxes_have_names(planner: Page) -> None:
    control = _control(planner, "inside length along the van")
    name = "grey tank, inside length along the van, of a lying cylinder along its axis (m)"
    assert until(lambda: control.get_by_role("slider", name=name).count() == 1)
    assert control.get_by_role("textbox", name=name).count() == 1


def test_a_pointer_over_a_bar_is_told_its_value(planner: Page) -> None:
    bar = planner.locator(f"{PLOT} .vw-bar[data-role=grey]").first
    frame = bar.bounding_box()
    assert frame is not None
    planner.mouse.move(frame["x"] + 0.3 * frame["width"], frame["y"] + 0.5 * frame["height"])
    assert planner.locator(f"{PLOT} .vw-bar:hover").count() == 1
    told = planner.locator(f"{PLOT} .vw-bar:hover title").text_content() or ""
    assert re.search(r"grey.*: \d\.\d\sdays \(\d\.\d to \d\.\d\)", told)
    planner.mouse.move(5, 5)


def test_after_a_reload_the_panel_goes_on_and_says_that_cells_do_not(planner: Page, folder: Path) -> None:
    _press(planner, "people who live in the van", "ArrowRight")
    fresh = _wanted(folder, {"household.people": 5})
    _shows(planner, fresh)
    assert planner.locator(".vw-anew").count() == 0
    planner.wait_for_timeout(2500)  # the cells follow when the hand rests; what they show then is what is saved
    saved(planner)
    planner.reload()
    idle(planner)
    panel_in_sight(planner)
    _shows(planner, fresh)
    assert _control(planner, "people who live in the van").locator("input").input_value() == "5"
    planner.locator(".vw-anew", has_text="Run > Run All Cells").wait_for(timeout=WAIT)
    _press(planner, "people who live in the van", "ArrowRight")
    _shows(planner, _wanted(folder, {"household.people": 6}))


def test_a_second_tab_shows_the_same_picture_and_both_follow(
    planner: Page, chromium: Browser, lab: str, folder: Path
) -> None:
    second = chromium.new_page(viewport={"width": 1280, "height": 800})
    second.goto(f"{lab}/lab/workspaces/second/tree/{NOTEBOOK}?reset")
    idle(second)
    panel_in_sight(second)
    _shows(second, _wanted(folder, {"household.people": 6}))
    second.locator(".vw-anew", has_text="Run > Run All Cells").wait_for(timeout=WAIT)
    _press(second, "people who live in the van", "ArrowRight")
    for page in (second, planner):
        _shows(page, _wanted(folder, {"household.people": 7}))
    second.close()
    _press(planner, "people who live in the van", "ArrowLeft")
    _shows(planner, _wanted(folder, {"household.people": 6}))


def test_after_a_restart_the_saved_page_says_what_to_run_and_then_follows_again(planner: Page, folder: Path) -> None:
    planner.get_by_role("menuitem", name="Kernel", exact=True).click()
    planner.get_by_text("Restart Kernel…", exact=True).first.click()
    planner.locator(".jp-Dialog button.jp-mod-accept").click()
    asleep = planner.locator(".vw-asleep")
    asleep.filter(has_text="Run All Cells").first.wait_for(timeout=WAIT)  # above the panel that nothing moves any more
    idle(planner)
    planner.reload()
    idle(planner)
    assert until(lambda: bool(asleep.count()) or not wheel(planner))
    asleep.first.scroll_into_view_if_needed()
    assert until(lambda: "Run All Cells" in asleep.first.inner_text())  # what is out of sight has no text yet
    assert "people who live in the van: 4 → 5" in asleep.first.inner_text()
    assert asleep.first.is_visible()
    assert planner.get_by_text("model not found").count() == 0 or planner.get_by_text("model not found").is_hidden()
    run(planner)
    panel_in_sight(planner)
    _shows(planner, _wanted(folder, {}))
    assert until(lambda: planner.locator(".vw-anew").count() == 0)
    assert asleep.first.is_hidden()


def test_it_can_be_read_in_the_dark_and_in_the_light_theme(
    planner: Page, tmp_path_factory: pytest.TempPathFactory
) -> None:
    pictures = tmp_path_factory.mktemp("screens")
    planner.screenshot(path=pictures / "light.png")
    light = contrasts(planner)
    choose_theme(planner, "JupyterLab Dark")
    planner.screenshot(path=pictures / "dark.png")
    for found in (light, contrasts(planner)):
        assert len(found) > 20
        assert {text: round(value, 2) for text, value in found.items() if value < 4.5} == {}


def test_nothing_left_the_machine(planner: Page, asked: list[str]) -> None:
    assert len(asked) > 20
    outside = [url for url in asked if urlsplit(url).hostname not in ("127.0.0.1", None)]
    assert outside == []
    assert {urlsplit(url).scheme for url in asked} <= {"http", "ws", "data", "blob"}
