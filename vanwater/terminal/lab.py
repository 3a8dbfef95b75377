"""The notebooks, copied beside the work and opened with a plan in hand."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

from vanwater.plan.tables import resource
from vanwater.terminal.refusal import RefusedError

__all__ = ["FOLDER", "NEEDED", "PLAN_VARIABLE", "copied", "open_lab", "require"]

FOLDER = "vanwater-notebooks"
PLAN_VARIABLE = "VANWATER_PLAN"
NEEDED = ("jupyterlab", "ipywidgets", "anywidget", "plotly")
"""What the extra "lab" installs and the notebooks import."""


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


def copied(folder: Path) -> tuple[Path, ...]:
    """Copy the notebooks into a folder; those that are there stay as they are.

    Parameters
    ----------
    folder : Path
        Made if it is missing.

    Returns
    -------
    tuple of Path
        What was copied.

    Raises
    ------
    RefusedError
        When the folder cannot be written.
    """
    targets = []
    try:
        folder.mkdir(exist_ok=True)
        for notebook in sorted(resource("notebooks").glob("*.ipynb")):
            target = folder / notebook.name
            if not target.exists():
                shutil.copyfile(notebook, target)
                targets.append(target)
    except OSError as error:
        raise RefusedError(f"The notebooks cannot be copied to {folder}: {error.strerror}.") from None
    return tuple(targets)


def open_lab(folder: Path, plan: Path | None, environment: Mapping[str, str] = os.environ) -> int:
    """Start JupyterLab in a folder and wait until it ends.

    Parameters
    ----------
    folder : Path
        Where the notebooks lie.
    plan : Path, optional
        The plan that they begin with.
    environment : mapping
        What else the lab finds in its environment.

    Returns
    -------
    int
        Its exit code.
    """
    handed = dict(environment)
    handed.pop(PLAN_VARIABLE, None)
    if plan is not None:
        handed[PLAN_VARIABLE] = str(plan.resolve())
    with subprocess.Popen([sys.executable, "-m", "jupyterlab"], cwd=folder, env=handed) as lab:
        while True:
            try:
                return lab.wait()
            except KeyboardInterrupt:
                continue  # the lab got the same key press and asks by itself whether to stop
