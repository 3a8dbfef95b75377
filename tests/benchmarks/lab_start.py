"""From ``vanwater lab PLAN`` to the start page painted in Chromium, each time in a new folder.

    python -m tests.benchmarks.lab_start
    python -m tests.benchmarks.lab_start --rounds 5 data/plans/weekend-cans.toml

The start page is worked out before JupyterLab starts, the other notebooks behind it meanwhile. Chromium runs already
and has a page of its own, with nothing kept from an earlier one. Figures, never a verdict.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from playwright.sync_api import sync_playwright

from tests.browser.pages import WAIT, started_lab
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Browser

PAINTED = """
() => new Promise(painted => requestAnimationFrame(() => requestAnimationFrame(painted)))
"""
"""Comes back when what stands in the page has been painted: the frame after the next one."""


def timed(browser: Browser, plan: Path, home: Path) -> tuple[float, float]:
    """Seconds until the address is handed to the browser, and until the start page is painted."""
    begun = time.monotonic()
    with started_lab(plan, home) as address:
        told = time.monotonic() - begun
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        try:
            page.goto(address, wait_until="commit")
            page.locator(".vw-start .vw-big").first.wait_for(timeout=WAIT)
            page.evaluate(PAINTED)
            return told, time.monotonic() - begun
        finally:
            page.close()


def main(arguments: Sequence[str]) -> None:
    """Tell the medians."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("plan", nargs="?", type=Path, default=resource("data", "plans", "family-winter.toml"))
    parser.add_argument("--rounds", type=int, default=3)
    asked = parser.parse_args(arguments)
    took = []
    load = os.getloadavg()[0]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        for _ in range(asked.rounds):
            with tempfile.TemporaryDirectory() as place:
                plan, home = Path(place, "project", "van.toml"), Path(place, "home")
                for folder in (plan.parent, home):
                    folder.mkdir()
                shutil.copyfile(asked.plan, plan)
                took.append(timed(browser, plan, home))
        browser.close()
    told, painted = (sorted(side) for side in zip(*took, strict=True))
    sys.stdout.write(
        f"painted after {statistics.median(painted):.1f} s ({painted[0]:.1f} to {painted[-1]:.1f}), the address told "
        f"after {statistics.median(told):.1f} s (medians of {len(took)}; load {load:.1f} before)\n"
    )


if __name__ == "__main__":
    main(sys.argv[1:])
