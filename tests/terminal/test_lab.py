from __future__ import annotations

import importlib.util
import json
import os
import shutil
import signal
from pathlib import Path

import pytest

from vanwater.plan.tables import resource
from vanwater.terminal import lab
from vanwater.terminal.refusal import RefusedError

FAKE = """
import json, os, pathlib, sys
told = {name: os.environ.get(name) for name in ("VANWATER_PLAN", "JUPYTER_CONFIG_PATH", "NPM_CONFIG_UPDATE_NOTIFIER")}
told |= {"folder": os.getcwd(), "argv": sys.argv[1:]}
pathlib.Path(os.environ["TOLD"]).write_text(json.dumps(told))
sys.exit(7)
"""


@pytest.fixture(autouse=True)
def niceness(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    given: list[int] = []
    monkeypatch.setattr(os, "nice", given.append)
    return given


@pytest.fixture
def fake(tmp_path: Path) -> dict[str, str]:
    """An environment whose JupyterLab only writes down how it was started."""
    package = tmp_path / "fake" / "jupyterlab"
    package.mkdir(parents=True)
    (package / "__init__.py").touch()
    (package / "__main__.py").write_text(FAKE)
    return {**os.environ, "PYTHONPATH": str(package.parent), "TOLD": str(tmp_path / "told.json")}


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "van.toml"
    shutil.copyfile(resource("data", "plans", "weekend-cans.toml"), path)
    return path


def test_the_lab_starts_in_the_folder_with_the_plan_on_its_start_page(
    tmp_path: Path, fake: dict[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "notebooks"
    folder.mkdir()
    monkeypatch.chdir(tmp_path)
    assert lab.open_lab(folder, Path("van.toml"), fake) == 7
    told = json.loads((tmp_path / "told.json").read_text())
    assert told["VANWATER_PLAN"] == str(tmp_path.resolve() / "van.toml")
    assert told["folder"] == str(folder.resolve())
    assert f"--ServerApp.root_dir={folder.resolve()}" in told["argv"]
    assert "--LabApp.default_url=/lab/tree/start.ipynb" in told["argv"]


@pytest.mark.parametrize("user", [0, 1000])
def test_only_root_is_let_in_as_root(
    tmp_path: Path, fake: dict[str, str], monkeypatch: pytest.MonkeyPatch, user: int
) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: user)
    lab.open_lab(tmp_path, None, fake)
    told = json.loads((tmp_path / "told.json").read_text())
    assert ("--allow-root" in told["argv"]) is (user == 0)


def test_it_is_quiet_and_the_users_own_places_stay_as_they_are(tmp_path: Path, fake: dict[str, str]) -> None:
    own = {"JUPYTER_CONFIG_PATH": "/own", "NPM_CONFIG_UPDATE_NOTIFIER": "true"}
    open_ones = tmp_path / lab.OWN / "workspaces"
    open_ones.mkdir(parents=True)
    (open_ones / "of another day").touch()
    lab.open_lab(tmp_path, None, fake | own)
    told = json.loads((tmp_path / "told.json").read_text())
    assert {"--LabApp.news_url=None", "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate"} <= set(
        told["argv"]
    )
    ours, users = told["JUPYTER_CONFIG_PATH"].split(os.pathsep)
    assert users == "/own"
    assert told["NPM_CONFIG_UPDATE_NOTIFIER"] == "true"
    defaults = json.loads((Path(ours) / "labconfig" / "default_setting_overrides.json").read_text())
    assert defaults["@jupyterlab/apputils-extension:notification"] == {"fetchNews": "false", "checkForUpdates": False}
    assert f"--LabApp.workspaces_dir={open_ones.resolve()}" in told["argv"]
    assert not open_ones.exists()
    assert "JUPYTERLAB_SETTINGS_DIR" not in told


def test_without_a_plan_none_is_handed_over(tmp_path: Path, fake: dict[str, str]) -> None:
    assert lab.open_lab(tmp_path, None, {**fake, lab.PLAN_VARIABLE: "left over"}) == 7
    assert json.loads((tmp_path / "told.json").read_text())["VANWATER_PLAN"] is None


def test_what_is_done_meanwhile_stands_behind_and_a_key_press_ends_it_alone(
    tmp_path: Path, fake: dict[str, str], niceness: list[int]
) -> None:
    assert lab.open_lab(tmp_path, None, fake, meanwhile=lambda: signal.raise_signal(signal.SIGINT)) == 7
    assert len(niceness) == 1 and niceness[0] > 0


def test_each_plan_has_a_folder_called_as_its_file(tmp_path: Path, plan: Path) -> None:
    base = tmp_path / lab.FOLDER
    assert lab.folder_for(plan, base) == base / "van"
    assert lab.folder_for(None, base) == base / "example"
    hidden = tmp_path / ".toml"
    hidden.touch()
    assert lab.folder_for(hidden, base) == base / "toml"


def test_another_plan_of_the_same_name_gets_a_folder_of_its_own(tmp_path: Path, plan: Path) -> None:
    base, other = tmp_path / lab.FOLDER, tmp_path / "other" / "van.toml"
    other.parent.mkdir()
    shutil.copyfile(plan, other)
    assert [lab.folder_for(path, base).name for path in (plan, other, plan, other)] == ["van", "van 2"] * 2


def test_plan_and_folder_move_together_and_a_plan_that_is_gone_leaves_its_folder(tmp_path: Path, plan: Path) -> None:
    project = tmp_path / "project"
    project.mkdir()
    plan.rename(project / "van.toml")
    lab.folder_for(project / "van.toml", project / lab.FOLDER)
    moved = project.rename(tmp_path / "moved")
    assert lab.folder_for(moved / "van.toml", moved / lab.FOLDER).name == "van"
    (moved / "sub").mkdir()
    elsewhere = (moved / "van.toml").rename(moved / "sub" / "van.toml")
    assert lab.folder_for(elsewhere, moved / lab.FOLDER).name == "van"


@pytest.mark.parametrize("place", ["", "van"])
def test_a_file_in_the_folders_place_is_told_and_stays(tmp_path: Path, plan: Path, place: str) -> None:
    blocked = tmp_path / lab.FOLDER / place
    blocked.parent.mkdir(exist_ok=True)
    blocked.write_text("mine")
    with pytest.raises(RefusedError, match=r"is a file\.\nGive that file another name"):
        lab.folder_for(plan, tmp_path / lab.FOLDER)
    assert blocked.read_text() == "mine"


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path, plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(RefusedError, match=r"Read-only file system\.\nGo to a folder that you may write to"):
        lab.folder_for(plan, tmp_path / lab.FOLDER)


def test_a_missing_lab_names_the_line_that_installs_it(monkeypatch: pytest.MonkeyPatch) -> None:
    lab.require()
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "plotly" else object())
    with pytest.raises(RefusedError, match=r'need plotly, which is not installed.\n.* pip install "vanwater\[lab\]"'):
        lab.require()
