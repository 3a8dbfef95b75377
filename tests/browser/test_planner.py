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
from urllib.parse import urlsplit

import pytest

from vanwater.answers.stay.answer import Stay, stay
from vanwater.figures.roles import contrast
from vanwater.plan.file import read
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

pytestmark = pytest.mark.browser

NOTEBOOK = "01_days_off_grid.ipynb"
WAIT = 30_000
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
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_text("Run All Cells", exact=True).click()
    _panel_in_sight(page)
    yield page
    page.close()


def _idle(page: Page) -> None:
    page.locator(".jp-Notebook .jp-Cell").first.wait_for(timeout=WAIT)
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for(timeout=WAIT)


def _panel_in_sight(page: Page) -> None:
    """Scroll the panel to the top; cells far away are not even in the page."""
    page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    until = time.monotonic() + WAIT / 1000
    while not page.locator(PLOT).count():
        assert time.monotonic() < until, "the panel never came"
        page.mouse.move(800, 500)
        page.mouse.wheel(0, 250)
        page.wait_for_timeout(100)
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
    places = [".vw-verdict", ".vw-controls", ".vw-chart svg", ".vw-slot >> nth=0", ".vw-slot >> nth=2", ".vw-folds"]
    planner.get_by_role("button", name="back to the plan").click()
    planner.get_by_text("As the plan stands").wait_for(timeout=WAIT)

    def boxes() -> list[tuple[float, ...] | None]:
        """Within the panel: a key may scroll the page to its slider. None of what is not in sight."""
        panel = planner.locator(".vw-panel").bounding_box()
        within = [planner.locator(place).first.bounding_box() for place in places]
        assert panel is not None
        return [
            box and (round(box["x"] - panel["x"], 1), round(box["y"] - panel["y"], 1), box["width"], box["height"])
            for box in within
        ]

    before = boxes()
    assert sum(box is not None for box in before) >= 5
    for key in ("ArrowRight", "ArrowRight", "ArrowRight"):
        _press(planner, "people who live in the van", key)
        assert _until(lambda: boxes() == before)
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


def test_a_number_nobody_believes_shows_an_alert_and_no_picture(planner: Page, folder: Path) -> None:
    box = _control(planner, "inside length along the van").locator("input")
    box.fill("99")
    box.press("Enter")
    alert = planner.get_by_role("alert")
    alert.wait_for(timeout=WAIT)
    assert "not believable" in alert.inner_text()
    assert planner.locator(PLOT).count() == 0
    planner.get_by_role("button", name="back to the plan").click()
    planner.locator(PLOT).wait_for(timeout=WAIT)
    assert planner.get_by_role("alert").count() == 0
    _shows(planner, _wanted(folder, {}))


def test_a_pointer_over_a_bar_is_told_its_value(planner: Page) -> None:
    bar = planner.locator(f"{PLOT} .vw-bar[data-role=grey]").first
    frame = bar.bounding_box()
    assert frame is not None
    planner.mouse.move(frame["x"] + 0.3 * frame["width"], frame["y"] + 0.5 * frame["height"])
    assert planner.locator(f"{PLOT} .vw-bar:hover").count() == 1
    told = planner.locator(f"{PLOT} .vw-bar:hover title").text_content() or ""
    assert re.search(r"grey.*: \d\.\d\sdays \(\d\.\d to \d\.\d\)", told)
    planner.mouse.move(5, 5)


def test_after_a_reload_the_picture_is_fresh(planner: Page, folder: Path) -> None:
    _press(planner, "people who live in the van", "ArrowRight")
    fresh = _wanted(folder, {"household.people": 5})
    _shows(planner, fresh)
    planner.keyboard.press("Control+s")
    planner.locator(".jp-NotebookPanel.jp-mod-dirty, .lm-TabBar-tab.jp-mod-dirty").wait_for(
        state="detached", timeout=WAIT
    )
    planner.reload()
    _idle(planner)
    _panel_in_sight(planner)
    _shows(planner, fresh)
    assert _control(planner, "people who live in the van").locator("input").input_value() == "5"
    _press(planner, "people who live in the van", "ArrowRight")
    _shows(planner, _wanted(folder, {"household.people": 6}))


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
