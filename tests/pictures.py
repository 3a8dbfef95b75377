"""The pictures of README.md: ``python -m tests.pictures`` draws them anew, ``tests/test_pictures.py`` compares them.

The one of the screen is taken in a real JupyterLab by ``python -m tests.pictures --screen``; it hangs on the letters of
the machine and is not compared.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path

from tests.examples import PLANS, example_answers
from vanwater.figures.drawing import drawing
from vanwater.figures.schematic.drawing import schematic
from vanwater.figures.themed import themed
from vanwater.plan.tables import resource

PICTURES = Path(__file__).parents[1] / "data" / "pictures"
VAN = "family-winter"
SCREEN = "whole-van.png"
_WIDE, _HIGH = 1180, 960
_NOTEBOOK = "00_the_whole_van.ipynb"


def drawings() -> Mapping[str, str]:
    """Every drawing by the name of its file."""
    answers = example_answers(VAN)
    days = answers["stay"].chart("stores")
    assert days is not None
    return {"days.svg": themed(drawing(days)) + "\n", "plumbing.svg": themed(schematic(answers)) + "\n"}


def screen(path: Path) -> None:
    """Take the picture of the whole van's panel."""
    from playwright.sync_api import sync_playwright

    from tests.browser.pages import idle, lab_in, panel_in_sight, run
    from tests.conftest import QUIET, chromium_path

    with tempfile.TemporaryDirectory() as home, tempfile.TemporaryDirectory() as folder:
        shutil.copyfile(resource("notebooks", _NOTEBOOK), Path(folder) / _NOTEBOOK)
        shutil.copyfile(PLANS / f"{VAN}.toml", Path(folder) / "van.toml")
        with lab_in(Path(folder), Path(home)) as address, sync_playwright() as play:
            browser = play.chromium.launch(executable_path=chromium_path(), args=list(QUIET))
            page = browser.new_page(viewport={"width": _WIDE, "height": _HIGH + 200})
            page.goto(f"{address}/lab/tree/{_NOTEBOOK}?reset")
            idle(page)
            page.keyboard.press("Control+b")
            run(page)
            panel_in_sight(page)
            page.locator(".vw-tile").first.wait_for()
            page.wait_for_timeout(1500)  # what follows when the hand rests
            panel = page.locator(".vw-panel").bounding_box()
            assert panel is not None
            page.screenshot(
                path=path, clip={"x": panel["x"], "y": panel["y"], "width": panel["width"], "height": _HIGH}
            )
            browser.close()


def main() -> None:
    """Draw them anew, and take the picture of the screen where that is asked for."""
    PICTURES.mkdir(exist_ok=True)
    for name, svg in drawings().items():
        (PICTURES / name).write_text(svg, encoding="utf-8", newline="\n")
    if "--screen" in sys.argv[1:]:
        screen(PICTURES / SCREEN)


if __name__ == "__main__":
    main()
