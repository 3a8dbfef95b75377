"""From a key to the changed picture, beside a panel that does no work, in the same page of the same run.

    python -m tests.benchmarks.key_press                # notebooks 01 and 05
    python -m tests.benchmarks.key_press --presses 20 01_days_off_grid.ipynb

A control of the notebook's panel and one of an idle panel are pressed in turn: the same slider, and the picture that
the panel shows first, swapped for another that is ready. What the machine, the browser, the kernel and the messages
between them take is in both; the difference of each pair is what the panel works. Figures, never a verdict.
"""

from __future__ import annotations

import argparse
import shutil
import statistics
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from playwright.sync_api import sync_playwright

from tests.browser.pages import WAIT, idle, lab_in, run, until, wheel
from vanwater.panels.notebook_format import nbformat
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Page

NOTEBOOKS = ("01_days_off_grid.ipynb", "05_pump_hoses_and_fittings.ipynb")
CONTROLS = {
    "01_days_off_grid.ipynb": "inside length along the van",
    "05_pump_hoses_and_fittings.ipynb": "volts that reach it",
}
"""The control that is pressed."""

REST = 1_200  # milliseconds in which all else follows
IDLE = """
import ipywidgets as widgets
from vanwater.figures.drawing import drawing
_chart = bench.ask({question!r}).chart({chart!r})
_pictures = [drawing(_chart, width=wide, height=300, hover=True) for wide in (620, 610)]
_slider, _picture = widgets.FloatSlider(value=50, max=100, step=1), widgets.HTML(_pictures[0])
def _turn(change):
    _picture.value = _pictures[int(change["new"]) % 2]
_slider.observe(_turn, "value")
_box = widgets.VBox([_slider, _picture])
_box.add_class("vw-idle")
_box
"""

TIMED = """
([panel, picture]) => {
    window.pressed = window.changed = 0;
    document.querySelector(panel).addEventListener('keydown', () => { window.pressed = performance.now(); }, true);
    new MutationObserver(() => { if (!window.changed) window.changed = performance.now(); })
        .observe(document.querySelector(picture), {childList: true, subtree: true});
}
"""


def timed(page: Page, panel: str, handle: str, key: str) -> float:
    """Milliseconds from a key to the first change of a panel's picture."""
    page.evaluate("window.changed = 0")
    page.locator(f"{panel} {handle}").first.focus()
    page.keyboard.press(key)
    page.wait_for_function("window.changed > 0", timeout=WAIT)
    took: float = page.evaluate("window.changed - window.pressed")
    page.wait_for_timeout(REST)
    return took


def pairs(page: Page, address: str, notebook: str, presses: int) -> list[tuple[float, float]]:
    """What the panel and the idle one took, press by press."""
    page.goto(f"{address}/lab/tree/{notebook}?reset")
    idle(page)
    run(page)
    page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    found = until(lambda: page.locator(".vw-idle .noUi-handle").count() > 0 or not wheel(page))
    assert found, "the idle panel never came"
    page.locator(".vw-idle").evaluate("panel => panel.scrollIntoView({block: 'end'})")
    idle(page)
    page.wait_for_timeout(3 * REST)
    label = CONTROLS.get(notebook, "")
    page.locator(".vw-panel .vw-control", has_text=label).first.evaluate("it => it.classList.add('vw-pressed')")
    page.evaluate(TIMED, [".vw-panel:has(.vw-pressed)", ".vw-panel:has(.vw-pressed) .vw-chart"])
    page.evaluate(TIMED, [".vw-idle", ".vw-idle .widget-html-content"])
    took = []
    for press in range(presses + 1):
        key = "ArrowRight" if press % 2 else "ArrowLeft"  # there and back, so that each state is new only once
        if press > 1 and press % 4 < 2:
            key = "ArrowLeft"
        works = timed(page, ".vw-panel:has(.vw-pressed)", ".vw-pressed .noUi-handle", key)
        took.append((works, timed(page, ".vw-idle", ".noUi-handle", key)))
    return took[1:]  # the first one finds nothing warm


def prepared(notebook: str, folder: Path) -> None:
    """The notebook with the idle panel behind its own."""
    made: Any = nbformat().read(resource("notebooks", notebook), as_version=4)
    place = next(place for place, cell in enumerate(made.cells) if "bench.panel(" in cell.source)
    question, chart = (part.strip(' "') for part in made.cells[place].source.split("(")[1].rstrip(")").split(","))
    code = IDLE.format(question=question, chart=chart)
    made.cells.insert(place + 1, nbformat().v4.new_code_cell(code, id="idle"))
    nbformat().write(made, folder / notebook)


def main(arguments: Sequence[str]) -> None:
    """Tell the medians of each notebook."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("notebooks", nargs="*", default=NOTEBOOKS)
    parser.add_argument("--presses", type=int, default=20)
    asked = parser.parse_args(arguments)
    chromium = shutil.which("chromium")
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        folder = Path(place, "notebooks")
        folder.mkdir()
        shutil.copyfile(resource("data", "plans", "family-winter.toml"), folder / "van.toml")
        for notebook in asked.notebooks:
            prepared(notebook, folder)
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        with lab_in(folder, Path(place, "home")) as address:
            for notebook in asked.notebooks:
                page = browser.new_page(viewport={"width": 1280, "height": 1600})
                took = pairs(page, address, notebook, asked.presses)
                works, idles = (statistics.median(side) for side in zip(*took, strict=True))
                more = statistics.median(panel - rest for panel, rest in took)
                sys.stdout.write(
                    f"{notebook}: {works:.0f} ms, idle {idles:.0f} ms, of each pair {more:+.0f} ms more "
                    f"(medians of {len(took)})\n"
                )
                sys.stdout.flush()
                page.close()
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1:])
