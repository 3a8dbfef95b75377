"""Run notebooks and keep what they show: ``python -m vanwater.panels.execute notebooks/*.ipynb``.

What differs from run to run or from machine to machine is left out: widgets' state and ids, times, versions. So a
notebook that says the same is the same file.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import Any

__all__ = ["executed", "main"]

_WIDGET = "application/vnd.jupyter.widget-view+json"
_TIMEOUT = 120


def executed(path: Path) -> str:
    """Run a notebook in a kernel of its own.

    Parameters
    ----------
    path : Path
        The notebook; it stays as it is.

    Returns
    -------
    str
        The same notebook with its outputs.

    Raises
    ------
    nbclient.exceptions.CellExecutionError
        When a cell fails.
    """
    from nbclient import NotebookClient

    nbformat: Any = import_module("nbformat")
    notebook = nbformat.read(path, as_version=4)
    NotebookClient(
        notebook, timeout=_TIMEOUT, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}
    ).execute()
    notebook.metadata = nbformat.from_dict(
        {
            "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
            "language_info": {"name": "python"},
        }
    )
    for cell in notebook.cells:
        cell.metadata.pop("execution", None)
        for output in cell.get("outputs", ()):
            _cleaned(output)
    text: str = nbformat.writes(notebook)
    return text.rstrip("\n") + "\n"


def _cleaned(output: Any) -> None:
    data = output.get("data", {})
    data.pop(_WIDGET, None)
    if "metadata" in output:
        output["metadata"] = {}


def main(names: Sequence[str]) -> int:
    """Run each notebook and write it back with its outputs.

    Parameters
    ----------
    names : sequence of str
        Files of notebooks.

    Returns
    -------
    int
        Exit code.
    """
    if not names:
        sys.stderr.write("Name the notebooks to run.\n")
        return 2
    for name in names:
        path = Path(name)
        path.write_text(executed(path), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
