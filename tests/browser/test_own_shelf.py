"""A plan with a shelf of its own and a finding that was agreed, in a real JupyterLab: money beside the variants."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.browser.pages import WAIT, idle, run, until, wheel
from vanwater.options.prices import PRICE, price_of
from vanwater.options.variants import compare
from vanwater.panels.notebook_format import nbformat
from vanwater.plan.file import read
from vanwater.plan.overlay import Overlay
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Browser

pytestmark = pytest.mark.browser

NOTEBOOK = "08_compare_and_choose.ipynb"
SHELF = """
[accumulators."small vessel"]
volume = "0.5 L"
price = "30 EUR"

[accumulators."large vessel"]
volume = "2 L"
price = "55 EUR"
"""
AGREED = """
[agreed."a day less"]
finding = "stay.days"
on = "20 November 2026"
words = "The third day is on a campsite."
"""
LARGE = {"accumulators.accumulator.stock": "large vessel"}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A notebook that keeps the large vessel as a variant, a plan with the small one, and their shelf."""
    folder = tmp_path_factory.mktemp("lab")
    notebook = nbformat().read(resource("notebooks", NOTEBOOK), as_version=4)
    (keeps,) = (cell for cell in notebook.cells if "bench.keep(" in cell.source and cell.cell_type == "code")
    keeps.source = f'bench.keep("large vessel", {LARGE!r})\nbench.variants()'
    nbformat().write(notebook, folder / NOTEBOOK)
    text = resource("data", "plans", "family-winter.toml").read_text(encoding="utf-8")
    vessel = re.compile(r"(\[accumulators\.accumulator\]\n)[^\[]*")
    text, count = vessel.subn(r'\1at = "tee"\nstock = "small vessel"\n\n', text)
    assert count == 1
    (folder / "van.toml").write_text(f'shelf = "shelf.toml"\n{text}{AGREED}', encoding="utf-8")
    (folder / "shelf.toml").write_text(SHELF, encoding="utf-8")
    return folder


def test_money_stands_beside_the_variants_and_what_was_agreed_is_told_as_agreed(
    chromium: Browser, lab: str, folder: Path
) -> None:
    plan = read(folder / "van.toml").plan
    costs = price_of(plan)
    (more,) = compare(plan, [Overlay("large", LARGE)])[PRICE].differences
    assert costs is not None and more is not None and (costs.likely, more.likely) == (30.0, 25.0)
    page = chromium.new_page(viewport={"width": 1280, "height": 1000})
    try:
        page.goto(f"{lab}/lab/tree/{NOTEBOOK}?reset")
        idle(page)
        run(page)
        line = page.locator("tr", has_text="price of the parts that name one").first
        assert until(lambda: line.count() > 0 or not wheel(page))
        cells = [" ".join(text.split()) for text in line.locator("td").all_inner_texts()]
        assert cells[1] == " ".join(costs.text().split())
        assert "55" in cells and "+25" in cells, cells
        told = page.locator(".vw-panel .vw-finding.vw-agreed")
        assert until(lambda: told.count() > 0 or not wheel(page))
        told.first.wait_for(timeout=WAIT)
        assert re.match(r"~\sagreed ", told.first.inner_text())
        assert "Agreed 20 November 2026: The third day is on a campsite." in told.first.inner_text()
    finally:
        page.close()
