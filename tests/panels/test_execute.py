from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from vanwater.panels.execute import CellError, Interpreter, executed, main

nbformat: Any = import_module("nbformat")


@pytest.fixture
def interpreter() -> Iterator[Interpreter]:
    with Interpreter() as interpreter:
        yield interpreter


def notebook(path: Path, *sources: str) -> Path:
    cells = [nbformat.v4.new_code_cell(source, id=f"cell-{place}") for place, source in enumerate(sources)]
    nbformat.write(nbformat.v4.new_notebook(cells=cells), path)
    return path


def run(interpreter: Interpreter, path: Path) -> list[list[Any]]:
    cells = nbformat.reads(executed(path, interpreter), as_version=4).cells
    return [cell.outputs for cell in cells]


def test_outputs_are_kept_and_what_differs_from_run_to_run_is_not(tmp_path: Path) -> None:
    path = notebook(tmp_path / "a.ipynb", "1 + 1", "import ipywidgets\nipywidgets.IntSlider()")
    assert main([str(path)]) == 0
    text = path.read_text(encoding="utf-8")
    with Interpreter() as interpreter:
        assert executed(path, interpreter) == text
    made = nbformat.reads(text, as_version=4)
    assert made.cells[0].outputs[0]["data"]["text/plain"] == "2"
    assert made.cells[0].execution_count == 1
    assert "IntSlider" in made.cells[1].outputs[0]["data"]["text/plain"]
    assert "widget-view" not in text
    assert "widgets" not in made.metadata
    assert "iopub" not in text
    assert "version" not in made.metadata["language_info"]


ODD = (
    "print('a')\nprint('b')",
    "import sys\nprint('c', file=sys.stderr)",
    "from IPython.display import HTML, display\ndisplay(HTML('<b>x</b>'))\n3",
    "4;",
    "import warnings\nwarnings.warn('mind')\nNone",
    "import pandas\npandas.DataFrame({str(n): [n] for n in range(25)})",
    "from rich.console import Console\nConsole().print('[b]bold[/b]')",
)


def test_outputs_are_those_of_a_kernel(tmp_path: Path) -> None:
    """In a process of its own, as it is called; the kernel's way is nbclient's."""
    from nbclient import NotebookClient

    path = notebook(tmp_path / "a.ipynb", *ODD)
    expected = nbformat.read(path, as_version=4)
    NotebookClient(expected, timeout=60, kernel_name="python3").execute()
    line = [sys.executable, "-m", "vanwater.panels.execute", str(path)]
    subprocess.run(line, check=True, timeout=60, capture_output=True)

    def told(made: Any) -> list[list[dict[str, Any]]]:
        outputs = [[{k: v for k, v in out.items() if k != "metadata"} for out in cell.outputs] for cell in made.cells]
        for out in (out for cell in outputs for out in cell if "mind" in out.get("text", "")):
            out["text"] = out["text"][out["text"].index("UserWarning") :]  # before it stands a number of the process
        return outputs

    assert told(nbformat.read(path, as_version=4)) == told(expected)


def test_it_leaves_the_process_as_it_was() -> None:
    before = dict(os.environ), sys.modules["__main__"], sys.stdout, sys.displayhook, sys.excepthook
    with Interpreter():
        assert dict(os.environ) == before[0]
    assert (dict(os.environ), sys.modules["__main__"], sys.stdout, sys.displayhook, sys.excepthook) == before


def test_each_notebook_has_names_and_counts_of_its_own(tmp_path: Path, interpreter: Interpreter) -> None:
    run(interpreter, notebook(tmp_path / "a.ipynb", "x = 1", "x"))
    with pytest.raises(CellError, match=r"b.ipynb, cell 1: NameError"):
        run(interpreter, notebook(tmp_path / "b.ipynb", "x"))
    (shown,) = run(interpreter, notebook(tmp_path / "c.ipynb", "2"))
    assert shown[0]["execution_count"] == 1


def test_a_cell_finds_files_beside_its_notebook(tmp_path: Path, interpreter: Interpreter) -> None:
    (tmp_path / "beside.txt").write_text("here")
    (shown,) = run(
        interpreter, notebook(tmp_path / "a.ipynb", "import pathlib\npathlib.Path('beside.txt').read_text()")
    )
    assert shown[0]["data"]["text/plain"] == "'here'"


def test_a_cell_that_fails_shows_why_and_those_below_it_are_not_run(tmp_path: Path, interpreter: Interpreter) -> None:
    made = nbformat.read(notebook(tmp_path / "a.ipynb", "1", "1 / 0", "3"), as_version=4)
    made.cells[2].outputs = [nbformat.v4.new_output("stream", text="of another run")]
    assert interpreter.run(made, tmp_path) == "cell 2: ZeroDivisionError: division by zero"
    assert made.cells[1].outputs[0]["ename"] == "ZeroDivisionError"
    assert made.cells[2].outputs == []
    assert made.cells[2].execution_count is None


def test_whoever_stops_it_stops_it(tmp_path: Path, interpreter: Interpreter) -> None:
    made = nbformat.read(notebook(tmp_path / "a.ipynb", "raise KeyboardInterrupt"), as_version=4)
    with pytest.raises(KeyboardInterrupt):
        interpreter.run(made, tmp_path)


def test_a_cell_that_fails_leaves_the_file_as_it_is(tmp_path: Path) -> None:
    path = notebook(tmp_path / "a.ipynb", "1 / 0")
    before = path.read_bytes()
    with pytest.raises(CellError):
        main([str(path)])
    assert path.read_bytes() == before


def test_without_a_name_nothing_is_run(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert "Name the notebooks" in capsys.readouterr().err
