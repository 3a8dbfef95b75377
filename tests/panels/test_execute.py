from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from vanwater.panels.execute import executed, main

nbformat: Any = import_module("nbformat")


def notebook(path: Path, *sources: str) -> Path:
    cells = [nbformat.v4.new_code_cell(source, id=f"cell-{place}") for place, source in enumerate(sources)]
    nbformat.write(nbformat.v4.new_notebook(cells=cells), path)
    return path


def test_outputs_are_kept_and_what_differs_from_run_to_run_is_not(tmp_path: Path) -> None:
    path = notebook(tmp_path / "a.ipynb", "1 + 1", "import ipywidgets\nipywidgets.IntSlider()")
    assert main([str(path)]) == 0
    text = path.read_text(encoding="utf-8")
    again = executed(path)
    assert text == again
    made = nbformat.reads(text, as_version=4)
    assert made.cells[0].outputs[0]["data"]["text/plain"] == "2"
    assert made.cells[0].execution_count == 1
    assert "widget-view" not in text
    assert "widgets" not in made.metadata
    assert "iopub" not in text
    assert "version" not in made.metadata["language_info"]


def test_a_cell_that_fails_leaves_the_file_as_it_is(tmp_path: Path) -> None:
    from nbclient.exceptions import CellExecutionError

    path = notebook(tmp_path / "a.ipynb", "1 / 0")
    before = path.read_bytes()
    with pytest.raises(CellExecutionError):
        main([str(path)])
    assert path.read_bytes() == before


def test_without_a_name_nothing_is_run(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert "Name the notebooks" in capsys.readouterr().err
