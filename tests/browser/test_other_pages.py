"""A panel in a page that is not JupyterLab's: light or dark as its reader wants all pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.browser.pages import contrasts
from vanwater.panels.bench import Bench
from vanwater.plan.file import read
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

GROUND = "panel => getComputedStyle(panel).backgroundColor"
DARK, LIGHT = "rgb(28, 28, 28)", "rgba(0, 0, 0, 0)"


@pytest.fixture(scope="module")
def panel() -> str:
    """What a panel shows, without its controls."""
    panel = Bench(read(resource("data", "plans", "family-winter.toml"))).panel("stay", "stores")
    head, *_ = panel.widget.children
    slots = "".join(slot.text.value for slot in panel.findings.slots)
    inside = f'{panel.verdict.value}<div class="vw-chart">{panel.picture.value}</div>{slots}{panel.grave.value}'
    return f'{head.value}<div class="vw-panel">{inside}</div>'


@pytest.mark.parametrize(
    ("body", "wanted", "ground"),
    [
        ("<body>", "dark", DARK),
        ("<body>", "light", LIGHT),
        ('<body data-jp-theme-light="true">', "dark", LIGHT),
        ('<body data-jp-theme-light="false" style="background:#111">', "light", LIGHT),
    ],
)
def test_it_follows_the_reader_and_jupyterlabs_own_switch_wins(
    chromium: Browser, panel: str, body: str, wanted: str, ground: str
) -> None:
    page = chromium.new_page(color_scheme=wanted)  # type: ignore[arg-type]
    try:
        page.set_content(f"<!doctype html><html>{body}{panel}</body></html>")
        assert page.locator(".vw-panel").evaluate(GROUND) == ground
        dark = ground == DARK or "false" in body
        paper = page.locator(".vw-panel svg rect").first.evaluate("rect => getComputedStyle(rect).fill")
        assert paper == (DARK if dark else "rgb(255, 255, 255)")
        if "false" not in body:  # there JupyterLab gives the colours of the letters
            found = contrasts(page)
            assert len(found) > 10
            assert {text: round(value, 2) for text, value in found.items() if value < 4.5} == {}
    finally:
        page.close()
