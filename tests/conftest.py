"""What tests of several floors share."""

from __future__ import annotations

import gc
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import tests.drawn  # noqa: F401 - how much is drawn everywhere

if TYPE_CHECKING:
    from playwright.sync_api import Browser

collect_ignore = ["peers"]
"""They have an environment and a run of their own: see README.md."""

ROOT = Path(__file__).parents[1]

LONG = (
    "tests/browser/test_planner.py",
    "tests/test_notebooks.py",
    "tests/browser/test_start_page.py",
    "tests/browser/test_supply_planner.py",
    "tests/browser/test_whole_van.py",
    "tests/browser/test_people.py",
    "tests/browser/test_papers.py",
    "tests/test_command.py",
    "tests/test_checks.py",
    "tests/document/",
    "tests/options/test_rows.py",
    "tests/system/test_rows.py",
    "tests/test_every_plan.py",
    "tests/test_half_plans.py",
    "notebooks/",
)
"""Files that take long: they are begun first, so that at the end no worker is left alone with one of them."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    def place(item: pytest.Item) -> int:
        name = item.path.relative_to(ROOT).as_posix()
        return next((number for number, long in enumerate(LONG) if name.startswith(long)), len(LONG))

    items.sort(key=place)


gc.disable()  # nothing of what is collected goes before the end, so no circle is looked for among it: see below


def pytest_collection_finish() -> None:
    gc.enable()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)  # answers are large, and hardly any of them hangs in a circle


QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""What keeps a browser from asking anybody anything by itself."""

ABSENT = "no Chromium here; apt-get install -y --no-install-recommends chromium fonts-dejavu-core"


def chromium_path() -> str | None:
    names = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
    return next((found for name in names if (found := shutil.which(name))), None)


@pytest.fixture(scope="module")
def chromium() -> Iterator[Browser]:
    """A real browser. One a module, since its loop would stand in the way of tests that run one of their own."""
    path = chromium_path()
    if path is None:
        (pytest.fail if os.environ.get("CI") else pytest.skip)(ABSENT)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=path, args=list(QUIET))
        yield browser
        browser.close()
