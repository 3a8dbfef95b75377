"""The built wheel is complete: it works in an empty folder, and holds what git tracks, no litter."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


def run(*words: str, cwd: Path, path: Path | None = None) -> subprocess.CompletedProcess[str]:
    env = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    if path is not None:
        env["PYTHONPATH"] = str(path)
    done = subprocess.run(words, cwd=cwd, env=env, capture_output=True, text=True, check=False, timeout=300)
    assert done.returncode == 0, done.stdout + done.stderr
    return done


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT), cwd=folder)
    (found,) = folder.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("installed")
    run(sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(target), str(wheel), cwd=target)
    return target


def test_holds_what_git_tracks_and_no_litter(wheel: Path) -> None:
    tracked = run("git", "ls-files", "vanwater", "data", "notebooks", cwd=ROOT).stdout.splitlines()
    wanted = {name if name.startswith("vanwater/") else f"vanwater/{name}" for name in tracked}
    with zipfile.ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}
    assert held == wanted


def test_works_in_an_empty_folder(installed: Path, tmp_path: Path) -> None:
    where = run(sys.executable, "-c", "import vanwater; print(vanwater.__file__)", cwd=tmp_path, path=installed).stdout
    assert Path(where.strip()).is_relative_to(installed)
    vanwater = (sys.executable, "-m", "vanwater")
    run(*vanwater, "new", "van.toml", cwd=tmp_path, path=installed)
    told = run(*vanwater, "check", "van.toml", cwd=tmp_path, path=installed).stdout
    assert told.splitlines()[0].endswith(").")
    run(*vanwater, "document", "van.toml", "-o", "van.html", cwd=tmp_path, path=installed)
    assert (tmp_path / "van.html").read_text(encoding="utf-8").startswith("<!")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["van.html", "van.toml"]


def test_every_example_plan_is_in_it(installed: Path, tmp_path: Path) -> None:
    plans = sorted(map(str, (installed / "vanwater" / "data" / "plans").glob("*.toml")))
    assert len(plans) >= 3
    each = (
        "import sys; from vanwater.command import main; sys.exit(max(main(['check', plan]) for plan in sys.argv[1:]))"
    )
    told = run(sys.executable, "-c", each, *plans, cwd=tmp_path, path=installed).stdout
    assert told.count("--all adds") == len(plans)
