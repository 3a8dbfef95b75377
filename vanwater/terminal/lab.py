"""A folder for a plan's notebooks, and JupyterLab opened on their start page: quiet, and on this machine alone."""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping
from contextlib import suppress
from itertools import count
from pathlib import Path

from vanwater.plan.saving import replace_file
from vanwater.terminal.refusal import RefusedError

__all__ = ["FOLDER", "NEEDED", "OPENING", "PLAN_VARIABLE", "cannot_write", "folder_for", "open_lab", "require"]

FOLDER = "vanwater-notebooks"
PLAN_VARIABLE = "VANWATER_PLAN"
NEEDED = ("jupyterlab", "ipywidgets", "anywidget", "plotly")
"""What the extra "lab" installs and the notebooks import."""

START = "start.ipynb"
EXAMPLE = "example"
OWN = ".vanwater"
"""A hidden folder beside the notebooks: whose they are, and which of them stand open."""

OPENING = (
    "JupyterLab opens the start page in your browser; if none opens, copy the address that is told below into one.",
    "Ctrl+C here ends it.",
)
"""What to know while it starts."""

_BEHIND = 5  # how much the lab and the browser go before what is done meanwhile
_FLAGS = (
    "--LabApp.news_url=None",
    "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
    "--LabApp.extension_manager=readonly",
    "--ServerApp.log_level=WARN",
    "--LabApp.log_level=WARN",
    f"--LabApp.default_url=/lab/tree/{START}",
)
"""Nothing is asked for outside this machine, nothing is told that nobody asked for, and the start page comes first."""


def require() -> None:
    """See that the notebooks can run here.

    Raises
    ------
    RefusedError
        When a part of the extra "lab" is missing, with the line that installs it.
    """
    missing = [name for name in NEEDED if importlib.util.find_spec(name) is None]
    if missing:
        raise RefusedError(
            f"The notebooks need {', '.join(missing)}, which {'is' if len(missing) == 1 else 'are'} not installed.\n"
            f'Install what they need with: {Path(sys.executable).name} -m pip install "vanwater[lab]"'
        )


def folder_for(plan: Path | None, base: Path = Path(FOLDER)) -> Path:
    """The folder of a plan's notebooks: one a plan, called as its file is; made if it is missing.

    Another plan of the same file name gets a folder with a number.

    Parameters
    ----------
    plan : Path, optional
        The plan's file; the example without it.
    base : Path
        What holds the folders of all plans.

    Returns
    -------
    Path
        The folder.

    Raises
    ------
    RefusedError
        When it cannot be made or written.
    """
    name = EXAMPLE if plan is None else plan.stem.strip(" .") or "plan"
    for number in count(1):
        folder = base / (name if number == 1 else f"{name} {number}")
        whose = _there(plan, folder)
        note = folder / OWN / "plan.txt"
        try:
            owner = note.read_text(encoding="utf-8") if note.exists() else whose
            if owner == whose or not (folder / owner).exists():
                note.parent.mkdir(parents=True, exist_ok=True)
                replace_file(note, whose.encode())
                return folder
        except (OSError, ValueError) as error:
            raise cannot_write(folder, error) from None
    raise AssertionError  # count never ends


def _there(plan: Path | None, folder: Path) -> str:
    """Where a plan lies, seen from a folder, so that both may move together; "." for the example."""
    if plan is None:
        return "."
    try:
        return os.path.relpath(plan.resolve(), folder.resolve())
    except ValueError:  # on another drive
        return str(plan.resolve())


def cannot_write(folder: Path, error: Exception) -> RefusedError:
    """Why the notebooks cannot be written, and what to do."""
    reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    blocked = next((place for place in (folder, *folder.parents) if place.exists() and not place.is_dir()), None)
    if blocked is not None:
        return RefusedError(
            f"The notebooks cannot be written to {folder}: {blocked} is a file.\n"
            "Give that file another name or go to another folder, then call vanwater lab again."
        )
    return RefusedError(
        f"The notebooks cannot be written to {folder}: {reason}.\n"
        "Go to a folder that you may write to and that has room, and call vanwater lab there."
    )


def open_lab(
    folder: Path,
    plan: Path | None,
    environment: Mapping[str, str] = os.environ,
    meanwhile: Callable[[], None] | None = None,
) -> int:
    """Start JupyterLab on the start page of a folder and wait until it ends.

    Parameters
    ----------
    folder : Path
        Where the notebooks lie.
    plan : Path, optional
        The plan that they begin with.
    environment : mapping
        What else the lab finds in its environment.
    meanwhile : callable
        What is done behind it, as soon as it starts; Ctrl+C ends it too.

    Returns
    -------
    int
        Its exit code.
    """
    handed = {"NPM_CONFIG_UPDATE_NOTIFIER": "false", **environment}  # the lab calls npm where there is one
    handed["JUPYTER_CONFIG_PATH"] = _defaults(folder, environment)
    handed.pop(PLAN_VARIABLE, None)
    if plan is not None:
        handed[PLAN_VARIABLE] = str(plan.resolve())
    line = [sys.executable, "-m", "jupyterlab", *_FLAGS, *_places(folder)]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        line.append("--allow-root")
    with subprocess.Popen(line, cwd=folder, env=handed) as lab:
        if meanwhile is not None:
            if hasattr(os, "nice"):
                os.nice(_BEHIND)
            with suppress(KeyboardInterrupt):
                meanwhile()
        while True:
            try:
                return lab.wait()
            except KeyboardInterrupt:
                continue  # the lab got the same key press and asks by itself whether to stop


def _places(folder: Path) -> tuple[str, ...]:
    """Where the lab keeps what stands open: beside the notebooks, begun afresh, so that the start page is seen."""
    here = folder.resolve()
    open_ones = here / OWN / "workspaces"
    shutil.rmtree(open_ones, ignore_errors=True)
    return (f"--ServerApp.root_dir={here}", f"--LabApp.workspaces_dir={open_ones}")


def _defaults(folder: Path, environment: Mapping[str, str]) -> str:
    """Where the lab finds its defaults: ours for news and updates, before all others; the user's own settings win."""
    ours = folder.resolve() / OWN / "config"
    place = ours / "labconfig" / "default_setting_overrides.json"
    quiet = {"@jupyterlab/apputils-extension:notification": {"fetchNews": "false", "checkForUpdates": False}}
    with suppress(OSError):  # then the lab asks whether it may fetch news
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text(json.dumps(quiet), encoding="utf-8")
    return os.pathsep.join(filter(None, (str(ours), environment.get("JUPYTER_CONFIG_PATH", ""))))
