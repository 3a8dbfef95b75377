"""Notebooks: whole, run, alike on every machine, live. Their outputs are compared by nbval, in the same test run."""

from __future__ import annotations

import atexit
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from IPython.core.interactiveshell import InteractiveShell
from traitlets.config import Config

from tests.panels.published_cells import Caught, caught
from vanwater.answers.core.key import key_text
from vanwater.answers.pump_starts.answer import PumpStarts
from vanwater.panels import Bench, guard, initial_plan
from vanwater.panels.control import Choice, Control
from vanwater.panels.initial_plan import PLAN_VARIABLE
from vanwater.panels.live import Live
from vanwater.panels.panel import Panel
from vanwater.panels.sliders import Slid
from vanwater.panels.whole import Whole
from vanwater.plan.tables import resource

nbformat: Any = import_module("nbformat")

ROOT = Path(__file__).parents[1]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
PATHS = re.compile(r"(?:/(?:home|root|tmp|work|usr|Users|opt)/|[A-Z]:\\\\)")


def read(path: Path) -> Any:
    return json.loads(path.read_text(encoding="utf-8"))


def code(path: Path) -> list[Any]:
    return [cell for cell in read(path)["cells"] if cell["cell_type"] == "code"]


def source(cell: Any) -> str:
    return "".join(cell["source"])


each = pytest.mark.parametrize("path", NOTEBOOKS, ids=[path.stem for path in NOTEBOOKS])


def test_there_are_notebooks_and_they_are_numbered() -> None:
    assert [path.stem for path in NOTEBOOKS] == [
        "00_the_whole_van",
        "01_days_off_grid",
        "02_pump_starts_and_accumulator",
        "03_hot_water",
        "04_frost",
        "05_pump_hoses_and_fittings",
        "06_from_python",
        "07_power",
        "08_compare_and_choose",
    ]
    assert all(re.fullmatch(r"\d\d_[a-z0-9_]+\.ipynb", path.name) for path in NOTEBOOKS)


@each
def test_every_cell_was_run_once_in_order_and_most_show_something(path: Path) -> None:
    cells = code(path)
    assert [cell["execution_count"] for cell in cells] == list(range(1, len(cells) + 1))
    shown = [cell for cell in cells if cell["outputs"]]
    assert len(shown) >= 0.8 * len(cells) >= 4
    assert not [out for cell in cells for out in cell["outputs"] if out["output_type"] in ("error", "stream")]


@each
def test_it_is_a_valid_notebook_without_an_empty_cell(path: Path) -> None:
    made = nbformat.read(path, as_version=4)
    nbformat.validate(made)
    assert all(cell.source.strip() for cell in made.cells)
    assert len({cell.id for cell in made.cells}) == len(made.cells)


@each
def test_it_holds_no_widget_state_no_time_and_no_path_of_a_machine(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert "widget-state" not in text
    assert "widget-view" not in text
    assert "iopub" not in text
    assert not PATHS.findall(text)
    assert read(path)["metadata"] == {
        "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
    }


@each
def test_it_is_small_enough_to_be_looked_at_anywhere(path: Path) -> None:
    assert path.stat().st_size < 80_000


@each
def test_it_asks_nobody_outside(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert set(re.findall(r"https?://[^\s\"\\<>]+", text)) <= {"http://www.w3.org/2000/svg"}


@each
def test_no_logic_stands_in_its_cells(path: Path) -> None:
    for cell in code(path):
        assert not re.search(r"^\s*(def|class|for|while|if|with|try|lambda)\b", source(cell), re.MULTILINE), source(
            cell
        )
        hidden = cell["metadata"].get("jupyter", {}).get("source_hidden", False)
        assert hidden or len(source(cell).splitlines()) <= 8, "a long cell is hidden from readers"


@pytest.fixture(scope="module")
def again(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The notebooks, run once more, all of them in one process of its own."""
    folder = tmp_path_factory.mktemp("again")
    copies = [str(shutil.copy(path, folder)) for path in NOTEBOOKS]
    environment = {name: value for name, value in os.environ.items() if name != PLAN_VARIABLE}
    line = [sys.executable, "-m", "vanwater.panels.execute", *copies]
    done = subprocess.run(line, env=environment, capture_output=True, text=True, timeout=240, check=False)
    assert done.returncode == 0, done.stderr
    return folder


@each
def test_running_it_again_gives_the_same_bytes(path: Path, again: Path) -> None:
    assert (again / path.name).read_text(encoding="utf-8") == path.read_text(encoding="utf-8")


def test_a_wrong_stored_output_is_caught(tmp_path: Path) -> None:
    """One number changed in a sentence, one in a picture, one in a table: three cells fail, no other."""
    made = read(NOTEBOOKS[1])
    cells = [cell for cell in made["cells"] if cell["cell_type"] == "code"]
    wrong = {1: ("text/html", "<b>", "<b>1"), 2: ("text/html", 'd="M', 'd="M1'), 3: ("text/plain", "fresh", "fresher")}
    for place, (kind, old, new) in wrong.items():
        data = cells[place]["outputs"][0]["data"]
        text = "".join(data[kind])
        assert old in text
        data[kind] = text.replace(old, new, 1)
    (tmp_path / "wrong.ipynb").write_text(json.dumps(made), encoding="utf-8")
    (tmp_path / "pytest.ini").write_text("[pytest]\n", encoding="utf-8")
    line = [sys.executable, "-m", "pytest", "--nbval", "--nbval-current-env", "-q", "-p", "no:cacheprovider", "."]
    done = subprocess.run(line, cwd=tmp_path, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 1, done.stdout
    assert f"3 failed, {len(cells) - 3} passed" in done.stdout, done.stdout[-2000:]


@pytest.fixture
def shell(monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    monkeypatch.setattr(guard, "STRICT", True)
    make: Any = InteractiveShell
    config = Config()
    config.HistoryManager.enabled = False
    made: Any = make(config=config)
    yield made
    made.atexit_operations()
    atexit.unregister(made.atexit_operations)


def run(shell: Any, path: Path) -> list[Any]:
    results = []
    for cell in code(path):
        done = shell.run_cell(source(cell))
        done.raise_error()
        results.append(done.result)
    return results


def shown_on(shell: Any) -> list[Any]:
    """What shows numbers of the bench, in the order of the cells."""
    return [thing for thing in shell.user_ns["bench"].followers if isinstance(thing, Live | Panel | Whole)]


def held(things: list[Any]) -> dict[str, float]:
    """Every number that is in sight, by its key; fails where two cells show different values of one."""
    numbers: dict[str, float] = {}
    for thing in things:
        for number in thing.numbers:
            if number.key:
                key = key_text(number.key)
                assert repr(numbers.setdefault(key, number.likely)) == repr(number.likely), key
    return numbers


def stands_with_its_text(page: Caught, things: list[Any]) -> None:
    """What the cells hold is what their pieces tell now, so that no number is held to be newer than its text."""
    texts = page.texts
    for thing in things:
        if isinstance(thing, Live):
            assert repr(thing) in texts


@pytest.mark.parametrize("plan", sorted(path.name for path in resource("data", "plans").glob("*.toml")))
def test_it_runs_on_every_plan_that_is_handed_over_and_no_cell_contradicts_another(
    shell: Any, plan: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = tmp_path / plan
    shutil.copyfile(resource("data", "plans", plan), own)
    monkeypatch.setenv(PLAN_VARIABLE, str(own))
    monkeypatch.setattr(initial_plan, "read", cache(initial_plan.read))  # one plan, so what was asked of it is kept
    for path in NOTEBOOKS:
        with caught(monkeypatch) as page:
            run(shell, path)
            if path.stem == "06_from_python":
                continue
            bench = shell.user_ns["bench"]
            assert isinstance(bench, Bench) and bench.file is not None and bench.file.path == own
            things = shown_on(shell)
            panels = [thing for thing in things if isinstance(thing, Panel | Whole)]
            assert panels
            every = [panel.controls for panel in panels]  # the folded ones too
            before = held(things)
            assert all(every) or plan != "family-winter.toml"
            for panel in panels:
                assert panel.group.controls if isinstance(panel, Panel) and panel.answer.decided else True
                first = next((one for one in panel.controls.values() if isinstance(one, Slid)), None)
                if first is None:
                    continue
                first.slider.value = first.slider.max
                assert bench.refused is None
                assert "Changed:" in panel.verdict.value
                after = held(things)
                still = isinstance(panel, Panel) and isinstance(panel.answer, PumpStarts) and not panel.answer.pumps
                assert still or after != before, "its pump never cycles"
                stands_with_its_text(page, things)
                bench.home(panel)
            assert held(things) == before
            stands_with_its_text(page, things)


ENDS = (("family-winter.toml", "04_frost"), ("weekend-cans.toml", "01_days_off_grid"))
"""A van in metric and one in US units, with one notebook each."""


@pytest.mark.parametrize(("plan", "name"), ENDS)
def test_every_control_to_both_ends_and_back_gives_the_first_state_again(
    shell: Any, plan: str, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(PLAN_VARIABLE, str(resource("data", "plans", plan)))
    with caught(monkeypatch) as page:
        run(shell, next(path for path in NOTEBOOKS if path.stem == name))
        bench = shell.user_ns["bench"]
        things = shown_on(shell)
        first = dict(page.bundles)
        (panel,) = (thing for thing in things if isinstance(thing, Panel))
        pictures = in_sight(panel)
        for address, control in panel.controls.items():
            saved = control.value
            for end in ends_of(control):
                control.turn(end)
                if bench.refused is None:
                    held(things)
            if saved is None:
                control.home.click()
            else:
                control.turn(saved)
            assert (bench.values, control.value) == ({}, saved), address
        assert page.bundles == first
        assert in_sight(panel) == pictures


def in_sight(panel: Panel) -> list[str]:
    findings = [slot.text.value for slot in panel.findings.slots if slot.text.value]
    return [panel.picture.value, panel.verdict.value, *findings]


def ends_of(control: Control) -> list[Any]:
    if isinstance(control, Slid):
        return [control.field.read(f"{end:.10g}") for end in (control.slider.min, control.slider.max)]
    if isinstance(control, Choice):
        values = [value for _, value in control.box.options]
        return [values[0], values[-1]]
    return [True, False]


def test_a_plan_with_problems_stops_it_with_their_lines(
    shell: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "van.toml"
    own.write_text('[van]\nname = "v"\n[household]\npeople = 99\n', encoding="utf-8")
    monkeypatch.setenv(PLAN_VARIABLE, str(own))
    done = shell.run_cell(source(code(NOTEBOOKS[0])[0]))
    assert not done.success
    told = capsys.readouterr().out
    assert "van.toml:4 household.people" in told
    assert "Traceback" not in told
