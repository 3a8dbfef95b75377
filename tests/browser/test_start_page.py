"""``vanwater lab`` as it is typed, and a real browser: the start page of one's own plan, and on into a notebook."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

import pytest

from tests.browser.pages import WAIT, started_lab
from vanwater.answers.questions import answers_to
from vanwater.plan.file import PlanFile, read
from vanwater.plan.tables import resource

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

NAME = "Van of the start page"


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> PlanFile:
    """A plan of its own, in a folder with another file."""
    folder = tmp_path_factory.mktemp("project")
    path = folder / "own van.toml"
    shutil.copyfile(resource("data", "plans", "family-winter.toml"), path)
    (folder / "notes.txt").write_text("mine", encoding="utf-8")
    revised = read(path).revised("van.name", NAME).revised("household.people", 3)
    revised.save()
    return revised


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where Jupyter keeps what is the user's."""
    return tmp_path_factory.mktemp("home")


@pytest.fixture(scope="module")
def address(plan: PlanFile, home: Path) -> Iterator[str]:
    """What the lab hands to the user's browser."""
    with started_lab(plan.path, home) as address:
        yield address


@pytest.fixture(scope="module")
def asked() -> list[str]:
    """Every address that the page asked for."""
    return []


@pytest.fixture(scope="module")
def wrong() -> list[str]:
    """What the page told its console as an error."""
    return []


@pytest.fixture(scope="module")
def start(chromium: Browser, address: str, asked: list[str], wrong: list[str]) -> Iterator[Page]:
    page = chromium.new_page(viewport={"width": 1280, "height": 800})
    page.on("request", lambda request: asked.append(request.url))
    page.on("websocket", lambda socket: asked.append(socket.url))
    page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(address)
    page.locator(".vw-start").wait_for(timeout=WAIT)
    page.get_by_text("Python 3 (ipykernel) | Idle").wait_for(timeout=WAIT)
    yield page
    page.close()


def _cut(page: Page) -> list[str]:
    found: list[str] = page.locator(".vw-start").evaluate(
        """page => [page, ...page.querySelectorAll('*')]
            .filter(part => getComputedStyle(part).display !== 'inline' && !part.closest('svg'))
            .filter(part => part.scrollWidth > part.clientWidth + 1)
            .map(part => part.className + ': ' + part.textContent.slice(0, 60))"""
    )
    return found


def test_the_start_page_opens_by_itself_with_the_plan_in_hand(start: Page, plan: PlanFile) -> None:
    shown = start.locator(".vw-start").inner_text()
    answers = answers_to(plan.plan)
    assert f"{NAME}, revision 4\nown van.toml, saved " in shown.replace("\n\n", "\n")
    assert answers.headline.text() in shown
    for finding in answers.findings:
        assert finding.statement.text() in shown or not finding.urgent
    assert start.locator(".vw-start svg[data-chart=stores]").is_visible()
    assert not start.locator(".jp-InputArea").first.is_visible(), "no code"


def test_nothing_pops_up_nothing_is_unsaved_and_nothing_is_cut(start: Page) -> None:
    assert start.locator(".Toastify__toast, .jp-Dialog").count() == 0
    assert start.locator(".lm-TabBar-tab.jp-mod-dirty").count() == 0
    for width in (768, 1280):
        start.set_viewport_size({"width": width, "height": 800})
        start.wait_for_timeout(200)
        assert _cut(start) == []


def test_a_link_opens_the_notebook_with_what_this_van_gives_before_anything_is_run(start: Page, plan: PlanFile) -> None:
    start.locator(".vw-start a", has_text="How many days can we stay out?").click()
    notebook = start.locator(".jp-NotebookPanel:not(.lm-mod-hidden)", has_text="What runs out when")
    notebook.locator(".vw-plan", has_text=NAME).wait_for(timeout=WAIT)
    assert "own van.toml, saved " in notebook.locator(".vw-plan").inner_text()
    stay = answers_to(plan.plan)["stay"]
    assert notebook.get_by_text(stay.verdict.text()).first.is_visible()
    picture = notebook.locator(".vw-shown svg").first
    picture.wait_for(timeout=WAIT)
    assert (picture.bounding_box() or {"width": 0})["width"] > 400
    notebook.locator(".vw-plan a").click()
    start.locator(".vw-start").wait_for(timeout=WAIT)


def test_run_again_it_shows_the_plan_as_it_is_by_now(start: Page, plan: PlanFile) -> None:
    changed = plan.revised("household.people", 2)
    changed.save(plan)
    start.get_by_role("menuitem", name="Run", exact=True).click()
    start.get_by_text("Run All Cells", exact=True).click()
    headline = answers_to(changed.plan).headline.text()
    assert headline != answers_to(plan.plan).headline.text()
    start.locator(".vw-start .vw-big", has_text=headline).wait_for(timeout=WAIT)
    assert start.locator(".vw-start a").count() == len(list(resource("notebooks").glob("*.ipynb")))


def test_nothing_left_the_machine_and_nothing_went_wrong(
    start: Page, asked: list[str], wrong: list[str], home: Path, plan: PlanFile
) -> None:
    assert len(asked) > 20
    outside = [url for url in asked if urlsplit(url).hostname not in ("127.0.0.1", "localhost", None)]
    assert outside == []
    assert wrong == []
    assert not (home / "settings").exists(), "the user's own settings"
    assert sorted(path.name for path in plan.path.parent.iterdir()) == [
        "notes.txt",
        "own van.toml",
        "vanwater-notebooks",
    ]
    assert (plan.path.parent / "notes.txt").read_text(encoding="utf-8") == "mine"
