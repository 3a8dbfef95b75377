from __future__ import annotations

import importlib.util
import json
import os
from pathlib import Path

import pytest

from vanwater.plan.tables import resource
from vanwater.terminal import lab
from vanwater.terminal.refusal import RefusedError

FAKE = """
import json, os, pathlib, sys
told = {"plan": os.environ.get("VANWATER_PLAN"), "folder": os.getcwd(), "argv": sys.argv[1:]}
pathlib.Path(os.environ["TOLD"]).write_text(json.dumps(told))
sys.exit(7)
"""


@pytest.fixture
def fake(tmp_path: Path) -> dict[str, str]:
    """An environment whose JupyterLab only writes down how it was started."""
    package = tmp_path / "fake" / "jupyterlab"
    package.mkdir(parents=True)
    (package / "__init__.py").touch()
    (package / "__main__.py").write_text(FAKE)
    return {**os.environ, "PYTHONPATH": str(package.parent), "TOLD": str(tmp_path / "told.json")}


def test_the_lab_starts_in_the_folder_with_the_plan(
    tmp_path: Path, fake: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "notebooks"
    folder.mkdir()
    monkeypatch.chdir(tmp_path)
    assert lab.open_lab(folder, Path("van.toml"), fake) == 7
    told = json.loads((tmp_path / "told.json").read_text())
    assert told == {"plan": str(tmp_path.resolve() / "van.toml"), "folder": str(folder.resolve()), "argv": []}


def test_without_a_plan_none_is_handed_over(tmp_path: Path, fake: dict[str, str]) -> None:
    assert lab.open_lab(tmp_path, None, {**fake, lab.PLAN_VARIABLE: "left over"}) == 7
    assert json.loads((tmp_path / "told.json").read_text())["plan"] is None


def test_notebooks_are_copied_once(tmp_path: Path) -> None:
    folder = tmp_path / lab.FOLDER
    every = sorted(path.name for path in resource("notebooks").glob("*.ipynb"))
    assert sorted(path.name for path in lab.copied(folder)) == every
    assert sorted(path.name for path in folder.iterdir()) == every
    for path in folder.iterdir():
        path.write_text("changed by hand")
    assert lab.copied(folder) == ()
    assert {path.read_text() for path in folder.iterdir()} <= {"changed by hand"}


def test_a_file_in_the_folders_place_is_told(tmp_path: Path) -> None:
    (tmp_path / lab.FOLDER).touch()
    with pytest.raises(RefusedError, match="cannot be copied"):
        lab.copied(tmp_path / lab.FOLDER)


def test_a_missing_lab_names_the_line_that_installs_it(monkeypatch: pytest.MonkeyPatch) -> None:
    lab.require()
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "plotly" else object())
    with pytest.raises(RefusedError, match=r'need plotly, which is not installed.\n.* pip install "vanwater\[lab\]"'):
        lab.require()
