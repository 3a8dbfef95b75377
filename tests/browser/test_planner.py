"""The planner in a real JupyterLab and a real browser: a slider moves the picture to the library's answer."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote, urlsplit

import pytest

from vanwater.answers.stay.answer import Stay, stay
from vanwater.figures.roles import contrast
from vanwater.plan.file import read
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

pytestmark = pytest.mark.browser

NOTEBOOK = "01_days_off_grid.ipynb"
WAIT = 60_000
PLOT = ".vw-panel svg[data-chart]"
POINTS = """
svg => ({
    plot: svg.dataset.plot.split(' ').map(Number),
    seen: svg.dataset.seen.split(' ').map(Number),
    bars: [...svg.querySelectorAll('rect.vw-bar:not([fill-opacity])')].map(bar => [
        bar.dataset.name, Number(bar.getAttribute('x')), Number(bar.getAttribute('width'))]),
})
"""
WATCH = """
() => {
    window.mutations = 0;
    new MutationObserver(() => { window.mutations += 1; })
        .observe(document.querySelector('.vw-chart'), {childList: true, subtree: true});
}
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the notebook and a plan of its own."""
    folder = tmp_path_factory.mktemp("planner")
    shutil.copyfile(resource("notebooks", NOTEBOOK), folder / NOTEBOOK)
    shutil.copyfile(resource("data", "plans", "family-winter.toml"), folder / "van.toml")
    return folder


@pytest.fixture(scope="module")
def lab(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A JupyterLab on this machine only, with settings of its own: no news, no look for updates."""
    home = tmp_path_factory.mktemp("home")
    settings = home / "settings" / "@jupyterlab" / "apputils-extension"
    settings.mkdir(parents=True)
    quiet = {"fetchNews": "false", "checkForUpdates": False}
    (settings / "notification.jupyterlab-settings").write_text(json.dumps(quiet), encoding="utf-8")
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    places = {
        "JUPYTERLAB_SETTINGS_DIR": str(home / "settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(home / "workspaces"),
        "JUPYTER_CONFIG_DIR": str(home / "config"),
        "JUPYTER_RUNTIME_DIR": str(home / "runtime"),
        "IPYTHONDIR": str(home / "ipython"),
        "VANWATER_PLAN": str(folder / "van.toml"),
    }
    line = [sys.executable, "-m", "jupyterlab", "--allow-root", "--no-browser", "--ServerApp.ip=127.0.0.1"]
    line += ["--ServerApp.token=", "--ServerApp.password=", f"--port={port}", "--ServerApp.port_retries=0"]
    with (home / "log").open("w", encoding="utf-8") as log:
        server = subprocess.Popen(
            line, cwd=folder, env=os.environ | places, stdout=log, stderr=subprocess.STDOUT, start_new_session=True
        )
        try:
            _ready(f"http://127.0.0.1:{port}/api", server, home / "log")
            yield f"http://127.0.0.1:{port}"
        finally:
            os.killpg(server.pid, signal.SIGTERM)
            server.wait(timeout=30)


def _ready(address: str, server: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(600):
        assert server.poll() is None, log.read_text(encoding="utf-8")
        try:
            with urllib.request.urlopen(address, timeout=5):
                return
        except OSError:
            time.sleep(0.1)
    pytest.fail(f"JupyterLab does not answer:\n{log.read_text(encoding='utf-8')}")


@pytest.fixture(scope="module")
def asked() -> list[str]:
    """Every address that the page asked for."""
    return []


@pytest.fixture(scope="module")
def planner(chromium: Browser, lab: str, asked: list[str]) -> Iterator[Page]:
    """The notebook, run, its panel in sight."""
    page = chromium.new_page(viewport={"width": 1280, "height": 800})
    page.on("request", lambda request: asked.append(request.url))
    page.on("websocket", lambda socket: asked.append(socket.url))
    page.goto(f"{lab}/lab/tree/{NOTEBOOK}?reset")
    _idle(page)
    _run(page)
    _panel_in_sight(page)
    yield page
    page.close()


def _run(page: Page) -> None:
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_text("Run All Cells", exact=True).click()


def _saved(page: Page) -> None:
    page.get_by_role("menuitem", name="File", exact=True).click()
    page.get_by_text("Save Notebook", exact=True).click()
    page.locator(".jp-NotebookPanel.jp-mod-dirty, .lm-TabBar-tab.jp-mod-dirty").wait_for(state="detached", timeout=WAIT)


def _wheel(page: Page) -> bool:
    """Scroll a little further down."""
    page.mouse.move(800, 500)
    page.mouse.wheel(0, 250)
    page.wait_for_timeout(100)
    return True


def _idle(page: Page) -> None:
    page.locator(".jp-Notebook .jp-Cell").first.wait_for(timeout=WAIT)
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for(timeout=WAIT)


def _panel_in_sight(page: Page) -> None:
    """Scroll the panel to the top; cells far away are not even in the page."""
    page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    until = time.monotonic() + WAIT / 1000
    while not page.locator(PLOT).count():
        assert time.monotonic() < until, "the panel never came"
        _wheel(page)
    page.locator(".vw-panel").evaluate("panel => panel.scrollIntoView()")
    page.locator(PLOT).wait_for(timeout=WAIT)


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
    assert {x for _, x, _ in found["bars"]} == {left}
    return {name: wide / (right - left) * high for name, _, wide in found["bars"]}


def _wanted(folder: Path, values: dict[str, Any]) -> Stay:
    return stay(read(folder / "van.toml").plan.changed(values, si=True))


def _until(true: Callable[[], bool]) -> bool:
    """Whether something comes true: the pieces of a panel arrive one after the other."""
    until = time.monotonic() + WAIT / 1000
    while not true():
        if time.monotonic() > until:
            return False
        time.sleep(0.02)
    return True


def _shows(page: Page, answer: Stay) -> None:
    page.locator(".vw-verdict", has_text=answer.verdict.text()).wait_for(timeout=WAIT)
    assert _ends(page) == pytest.approx({store.name: store.days.likely / 86400 for store in answer.stores}, abs=0.02)


def test_the_first_picture_is_the_plans(planner: Page, folder: Path) -> None:
    _shows(planner, _wanted(folder, {}))


def test_a_key_on_a_slider_moves_the_picture_to_the_librarys_answer(planner: Page, folder: Path) -> None:
    _press(planner, "people who live in the van", "ArrowRight")
    _shows(planner, _wanted(folder, {"household.people": 5}))
    assert _until(lambda: _control(planner, "people who live in the van").locator("input").input_value() == "5")
    _press(planner, "people who live in the van", "ArrowLeft")
    _press(planner, "people who live in the van", "ArrowLeft")
    _shows(planner, _wanted(folder, {"household.people": 3}))
    assert "household, people who live in the van: 4 → 3" in planner.locator(".vw-verdict").inner_text()


def test_nothing_jumps_and_nothing_is_cut(planner: Page) -> None:
    named = [".vw-verdict", ".vw-controls", ".vw-chart svg", ".vw-slot", ".vw-folds"]
    places = [*((place, 0) for place in named), (".vw-slot", 2)]
    planner.get_by_role("button", name="back to the plan", exact=True).click()
    planner.get_by_text("As the plan stands").wait_for(timeout=WAIT)

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
        assert _until(lambda: boxes() == before), (before, boxes())
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
    planner.get_by_role("button", name="back to the plan", exact=True).click()
    planner.get_by_text("As the plan stands").wait_for(timeout=WAIT)
    _press(planner, "people who live in the van", "ArrowRight")
    answer = _wanted(folder, {"household.people": 5})
    more, days = answer.verdict.text(), answer.numbers["stay.days"].amount.text()
    planner.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    cell = planner.locator(".jp-Cell", has_text="days.verdict()").locator(".jp-OutputArea-output")
    cell.filter(has_text=more).wait_for(timeout=WAIT)
    planner.locator(".jp-OutputArea-output", has_text="Moved and not saved").first.wait_for(timeout=WAIT)
    chart = planner.locator(".jp-Cell", has_text='days.chart("stores")').locator(".jp-RenderedSVG img")
    assert f"lasts {days}" in unquote(chart.get_attribute("src") or "")
    _panel_in_sight(planner)
    planner.get_by_role("button", name="undo").click()
    _shows(planner, _wanted(folder, {}))
    planner.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    cell.filter(has_text=_wanted(folder, {}).verdict.text()).wait_for(timeout=WAIT)
    _panel_in_sight(planner)


def test_a_number_nobody_believes_is_told_at_its_box_and_the_value_stays(planner: Page, folder: Path) -> None:
    control = _control(planner, "inside length along the van")
    box = control.locator("input")
    box.fill("99")
    box.press("Enter")
    alert = planner.get_by_role("alert")
    alert.wait_for(timeout=WAIT)
    assert "not believable" in alert.inner_text()
    assert _until(lambda: box.input_value() == "0.8")
    _shows(planner, _wanted(folder, {}))
    box.fill("90 cm")
    box.press("Enter")
    alert.wait_for(state="detached", timeout=WAIT)
    _shows(planner, _wanted(folder, {"tanks.grey.length": 0.9}))
    assert _until(lambda: box.input_value() == "0.9")
    home = control.get_by_role("button", name=re.compile("back to the plan's 0.8"))
    home.wait_for(timeout=WAIT)
    home.press("Enter")
    _shows(planner, _wanted(folder, {}))


def test_sliders_and_boxes_have_names(planner: Page) -> None:
    control = _control(planner, "inside length along the van")
    name = "grey tank, inside length along the van, of a lying cylinder along its axis (m)"
    assert _until(lambda: control.get_by_role("slider", name=name).count() == 1)
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
    planner.wait_for_timeout(2000)  # the cells follow when the hand rests; what they show then is what is saved
    _saved(planner)
    planner.reload()
    _idle(planner)
    _panel_in_sight(planner)
    _shows(planner, fresh)
    assert _control(planner, "people who live in the van").locator("input").input_value() == "5"
    planner.locator(".vw-anew", has_text="Run > Run All Cells").wait_for(timeout=WAIT)
    _press(planner, "people who live in the van", "ArrowRight")
    _shows(planner, _wanted(folder, {"household.people": 6}))


def test_after_a_restart_the_saved_page_says_what_to_run_and_then_follows_again(planner: Page, folder: Path) -> None:
    planner.get_by_role("menuitem", name="Kernel", exact=True).click()
    planner.get_by_text("Restart Kernel…", exact=True).first.click()
    planner.locator(".jp-Dialog button.jp-mod-accept").click()
    _idle(planner)
    planner.reload()
    _idle(planner)
    asleep = planner.locator(".vw-asleep")
    assert _until(lambda: bool(asleep.count()) or not _wheel(planner))
    asleep.first.scroll_into_view_if_needed()
    assert _until(lambda: "Run All Cells" in asleep.first.inner_text())  # what is out of sight has no text yet
    assert "people who live in the van: 4 → 5" in asleep.first.inner_text()
    assert asleep.first.is_visible()
    assert planner.get_by_text("model not found").count() == 0 or planner.get_by_text("model not found").is_hidden()
    _run(planner)
    _panel_in_sight(planner)
    _shows(planner, _wanted(folder, {}))
    assert _until(lambda: planner.locator(".vw-anew").count() == 0)
    assert asleep.first.is_hidden()


def test_it_can_be_read_in_the_dark_and_in_the_light_theme(
    planner: Page, tmp_path_factory: pytest.TempPathFactory
) -> None:
    pictures = tmp_path_factory.mktemp("screens")
    planner.screenshot(path=pictures / "light.png")
    light = _contrasts(planner)
    planner.get_by_role("menuitem", name="Settings", exact=True).click()
    planner.locator(".lm-Menu-item[data-type=submenu]", has_text=re.compile("^Theme$")).hover()
    planner.locator(".lm-Menu-item", has_text="JupyterLab Dark").first.click()
    planner.locator("body[data-jp-theme-light=false]").wait_for(state="attached", timeout=WAIT)
    planner.wait_for_timeout(500)
    planner.screenshot(path=pictures / "dark.png")
    for found in (light, _contrasts(planner)):
        assert len(found) > 20
        assert {text: round(value, 2) for text, value in found.items() if value < 4.5} == {}


def _contrasts(page: Page) -> dict[str, float]:
    """The contrast of every text of the panel to the ground behind it."""
    found: list[list[str]] = page.locator(".vw-panel").evaluate(
        """panel => {
            const ground = one => {
                for (; one; one = one.parentElement) {
                    const colour = getComputedStyle(one).backgroundColor;
                    if (colour !== 'rgba(0, 0, 0, 0)') return colour;
                }
                return 'rgb(255, 255, 255)';
            };
            const words = '.vw-big, .vw-small, .vw-label span, h4, .vw-finding, .vw-advice, .vw-mark, .vw-grave li';
            const html = [...panel.querySelectorAll(words)]
                .map(one => [one.textContent, getComputedStyle(one).color, ground(one)]);
            const paper = getComputedStyle(panel.querySelector('svg rect')).fill;
            const drawn = [...panel.querySelectorAll('svg[data-chart] > text')]
                .map(one => [one.textContent, getComputedStyle(one).fill, paper]);
            return [...html, ...drawn];
        }"""
    )
    return {text: contrast(_mixed(ink, ground), _mixed(ground, ground)) for text, ink, ground in found}


def _mixed(ink: str, ground: str) -> str:
    """The colour that is seen of a half clear one on its ground."""
    over, under = ([float(part) for part in re.findall(r"[\d.]+", colour)] for colour in (ink, ground))
    share = over[3] if len(over) > 3 else 1.0
    seen = (share * one + (1 - share) * other for one, other in zip(over[:3], under[:3], strict=True))
    return "#" + "".join(f"{round(part):02x}" for part in seen)


def test_nothing_left_the_machine(planner: Page, asked: list[str]) -> None:
    assert len(asked) > 20
    outside = [url for url in asked if urlsplit(url).hostname not in ("127.0.0.1", None)]
    assert outside == []
    assert {urlsplit(url).scheme for url in asked} <= {"http", "ws", "data", "blob"}
