"""What the program noted in a notebook as it wrote it, so that a builder's own changes are known and kept."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from vanwater import __version__
from vanwater.panels.notebook_format import nbformat

__all__ = ["right", "stamp", "untouched", "untouched_file"]

_PLACE = "vanwater"


def stamp(notebook: Any, mark: str) -> None:
    """Note in a notebook what its cells say, what they show, and for which plan.

    Parameters
    ----------
    notebook : NotebookNode
        As it is to be written.
    mark : str
        What the plan's content is known by; empty where nothing was worked out.
    """
    notebook.metadata[_PLACE] = nbformat().from_dict(
        {"sources": _sources(notebook), "outputs": _outputs(notebook), "plan": mark, "version": __version__}
    )


def untouched(notebook: Any) -> bool:
    """Whether every cell of a notebook is as the program wrote it, whatever the cells show by now."""
    return bool(_note(notebook).get("sources") == _sources(notebook))


def right(notebook: Any, mark: str) -> bool:
    """Whether a notebook shows what the program worked out for a plan of that content."""
    note = _note(notebook)
    same = {"sources": _sources(notebook), "outputs": _outputs(notebook), "plan": mark, "version": __version__}
    return bool(mark) and dict(note) == same


def untouched_file(path: Path) -> bool:
    """Whether a file is a notebook that the program wrote and nobody changed."""
    try:
        return untouched(nbformat().reads(path.read_text(encoding="utf-8"), as_version=4))
    except Exception:  # whatever a file may hold: it is somebody else's
        return False


def _note(notebook: Any) -> Any:
    note = notebook.metadata.get(_PLACE, {})
    return note if isinstance(note, dict) else {}


def _sources(notebook: Any) -> str:
    return _hashed([(cell.cell_type, cell.source) for cell in notebook.cells])


def _outputs(notebook: Any) -> str:
    shown = [cell.get("outputs", []) for cell in notebook.cells]
    return _hashed(shown)


def _hashed(content: Any) -> str:
    return hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()[:16]
