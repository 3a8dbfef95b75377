"""What the browser tests do with JupyterLab and a page of it."""

from __future__ import annotations

import json
import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from tests.lean_start import START_OF_JUPYTERLAB
from vanwater.figures.roles import contrast

if TYPE_CHECKING:
    from playwright.sync_api import Page

WAIT = 60_000
PLOT = ".vw-panel svg[data-chart]"
WATCH = """
() => {
    window.mutations = 0;
    new MutationObserver(() => { window.mutations += 1; })
        .observe(document.querySelector('.vw-chart'), {childList: true, subtree: true});
}
"""


_UNBUILT = {"page_config_data": {"buildCheck": False, "buildAvailable": False}}
"""Nobody asks node and npm whether the lab should be built anew."""


@contextmanager
def lab_in(folder: Path, home: Path) -> Iterator[str]:
    """A JupyterLab on this machine only, with settings of its own: no news, no look for updates."""
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
    line = [sys.executable, "-c", START_OF_JUPYTERLAB, "--allow-root", "--no-browser", "--ServerApp.ip=127.0.0.1"]
    line += ["--ServerApp.token=", "--ServerApp.password=", f"--port={port}", "--ServerApp.port_retries=0"]
    line += ["--LabApp.extension_manager=readonly", f"--ServerApp.tornado_settings={_UNBUILT}"]
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


@contextmanager
def started_lab(plan: Path, home: Path) -> Iterator[str]:
    """The address that `vanwater lab` hands to the user's browser, called beside a plan with settings of its own."""
    browser, told, log = home / "browser.sh", home / "address", home / "log"
    browser.write_text(f'#!/bin/sh\nprintf %s "$1" > "{told}.new" && mv "{told}.new" "{told}"\n', encoding="utf-8")
    browser.chmod(0o755)
    told.unlink(missing_ok=True)
    places = {
        "BROWSER": str(browser),
        "JUPYTERLAB_SETTINGS_DIR": str(home / "settings"),
        "JUPYTER_CONFIG_DIR": str(home / "config"),
        "JUPYTER_DATA_DIR": str(home / "data"),
        "JUPYTER_RUNTIME_DIR": str(home / "runtime"),
        "IPYTHONDIR": str(home / "ipython"),
    }
    line = [sys.executable, "-m", "vanwater", "lab", plan.name]
    with log.open("w", encoding="utf-8") as out:
        lab = subprocess.Popen(
            line, cwd=plan.parent, env=os.environ | places, stdout=out, stderr=out, start_new_session=True
        )
        try:
            end = time.monotonic() + 4 * WAIT / 1000
            while not told.exists():
                assert lab.poll() is None and time.monotonic() < end, log.read_text(encoding="utf-8")
                time.sleep(0.02)
            yield told.read_text(encoding="utf-8")
        finally:
            _ended(lab)


def _ended(lab: subprocess.Popen[bytes]) -> None:
    """End a lab with all that it started, before the folder in which it stands is taken away."""
    with suppress(ProcessLookupError):
        os.killpg(lab.pid, signal.SIGTERM)
        lab.wait(timeout=30)
        for _ in range(100):  # the server of a lab goes on for a moment behind it
            os.killpg(lab.pid, 0)
            time.sleep(0.1)
        os.killpg(lab.pid, signal.SIGKILL)
    lab.wait(timeout=30)


def _ready(address: str, server: subprocess.Popen[bytes], log: Path) -> None:
    for _ in range(600):
        assert server.poll() is None, log.read_text(encoding="utf-8")
        try:
            with urllib.request.urlopen(address, timeout=5):
                return
        except OSError:
            time.sleep(0.1)
    raise AssertionError(f"JupyterLab does not answer:\n{log.read_text(encoding='utf-8')}")


def run(page: Page) -> None:
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_text("Run All Cells", exact=True).click()


def saved(page: Page) -> None:
    """Save, and once more where cells followed a move only behind it."""
    dirty = page.locator(".jp-NotebookPanel.jp-mod-dirty, .lm-TabBar-tab.jp-mod-dirty")

    def clean() -> bool:
        page.get_by_role("menuitem", name="File", exact=True).click()
        page.get_by_text("Save Notebook", exact=True).click()
        page.wait_for_timeout(1000)
        return not dirty.count()

    assert until(clean)


def wheel(page: Page) -> bool:
    """Scroll a little further down."""
    page.mouse.move(800, 500)
    page.mouse.wheel(0, 250)
    page.wait_for_timeout(100)
    return True


def idle(page: Page) -> None:
    page.locator(".jp-Notebook .jp-Cell").first.wait_for(timeout=WAIT)
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for(timeout=WAIT)


def panel_in_sight(page: Page) -> None:
    """Scroll the panel to the top; cells far away are not even in the page."""
    page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    end = time.monotonic() + WAIT / 1000
    while not page.locator(PLOT).count():
        assert time.monotonic() < end, "the panel never came"
        wheel(page)
    page.locator(".vw-panel").evaluate("panel => panel.scrollIntoView()")
    page.locator(PLOT).wait_for(timeout=WAIT)


def until(true: Callable[[], bool]) -> bool:
    """Whether something comes true: the pieces of a panel arrive one after the other."""
    end = time.monotonic() + WAIT / 1000
    while not true():
        if time.monotonic() > end:
            return False
        time.sleep(0.02)
    return True


def rgb(colour: str) -> str:
    """A colour as "#rrggbb" in the words of a page."""
    return f"rgb({', '.join(str(int(colour[place : place + 2], 16)) for place in (1, 3, 5))})"


def contrasts(page: Page) -> dict[str, float]:
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
            const drawn = [...panel.querySelectorAll('svg[data-chart] text')]
                .filter(one => !one.closest('.vw-told'))
                .map(one => [one.textContent, getComputedStyle(one).fill, paper]);
            return [...html, ...drawn];
        }"""
    )
    return {text: contrast(mixed(ink, ground), mixed(ground, ground)) for text, ink, ground in found}


def mixed(ink: str, ground: str) -> str:
    """The colour that is seen of a half clear one on its ground."""
    over, under = ([float(part) for part in re.findall(r"[\d.]+", colour)] for colour in (ink, ground))
    share = over[3] if len(over) > 3 else 1.0
    seen = (share * one + (1 - share) * other for one, other in zip(over[:3], under[:3], strict=True))
    return "#" + "".join(f"{round(part):02x}" for part in seen)


def choose_theme(page: Page, name: str) -> None:
    page.get_by_role("menuitem", name="Settings", exact=True).click()
    page.locator(".lm-Menu-item[data-type=submenu]", has_text=re.compile("^Theme$")).hover()
    page.locator(".lm-Menu-item", has_text=name).first.click()
    light = str(name != "JupyterLab Dark").lower()
    page.locator(f"body[data-jp-theme-light={light}]").wait_for(state="attached", timeout=WAIT)
    page.wait_for_timeout(500)
