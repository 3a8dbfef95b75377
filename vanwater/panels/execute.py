"""Run notebooks and keep what they show: ``python -m vanwater.panels.execute notebooks/*.ipynb``.

All of them run in one interpreter, each with names and counts of its own, since starting a kernel for each takes
longer than all of their cells. What differs from run to run or from machine to machine is left out: widgets' state and
ids, times, versions. So a notebook that says the same is the same file.
"""

from __future__ import annotations

import atexit
import contextlib
import io
import os
import sys
import warnings
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from vanwater.panels.notebook_format import METADATA, nbformat, written_out
from vanwater.panels.plan_banner import named_in_words

__all__ = ["CellError", "Interpreter", "executed", "main"]

_WIDGET = "application/vnd.jupyter.widget-view+json"


class CellError(Exception):
    """A cell that failed; the message says which and how."""


class _Stream(io.TextIOBase):
    """What is printed, as outputs of a cell."""

    def __init__(self, name: str, keep: Interpreter) -> None:
        self._name, self._keep = name, keep

    def write(self, text: str) -> int:
        self._keep.printed(self._name, text)
        return len(text)


class Interpreter:
    """An interpreter that runs the cells of notebooks as a kernel does; one a process."""

    def __init__(self) -> None:
        self._outputs: list[dict[str, Any]] = []
        shells: Any = import_module("ipykernel.zmqshell").ZMQInteractiveShell  # libraries know a notebook by it
        config: Any = import_module("traitlets.config").Config()
        config.HistoryManager.enabled = False
        self._shells, self._main = shells, sys.modules["__main__"]
        before = dict(os.environ)
        self._shell: Any = shells.instance(config=config)
        os.environ.clear()  # it tells its children of a terminal without colours and pages
        os.environ.update(before)
        hook = self._shell.displayhook
        hook.start_displayhook = hook.write_output_prompt = hook.finish_displayhook = lambda: None
        hook.write_format_data = self._result
        self._shell.display_pub.publish = self._displayed
        self._shell._showtraceback = self._failed

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        """End it."""
        self._shell.atexit_operations()
        atexit.unregister(self._shell.atexit_operations)
        self._shells.clear_instance()
        sys.modules["__main__"] = self._main

    def run(self, notebook: Any, folder: Path) -> str:
        """Run the cells of a notebook and put what they show into it.

        Parameters
        ----------
        notebook : NotebookNode
            The notebook; its outputs are replaced.
        folder : Path
            Where it lies: its cells find files beside it.

        Returns
        -------
        str
            Why it stopped at a cell; empty where all of them ran.

        Raises
        ------
        KeyboardInterrupt
            When somebody stopped it.
        """
        self._shell.reset()
        stopped = ""
        cells = [cell for cell in notebook.cells if cell.cell_type == "code"]
        for cell in cells:
            cell.metadata.pop("execution", None)
            cell.execution_count, cell.outputs = None, []
        with (
            contextlib.chdir(folder),
            contextlib.redirect_stdout(_Stream("stdout", self)),
            contextlib.redirect_stderr(_Stream("stderr", self)),
            warnings.catch_warnings(),  # a warning that one notebook showed is shown by the next one too
        ):
            for cell in cells:
                self._outputs = []
                cell.execution_count = self._shell.execution_count
                done = self._shell.run_cell(cell.source, store_history=True)
                cell.outputs = [nbformat().from_dict(output) for output in self._outputs]
                error = done.error_before_exec or done.error_in_exec
                if isinstance(error, KeyboardInterrupt):
                    raise KeyboardInterrupt
                if not done.success:
                    stopped = f"cell {cell.execution_count}: {type(error).__name__}: {error}"
                    break
        return stopped

    def printed(self, name: str, text: str) -> None:
        """Keep what a cell prints."""
        if self._outputs and self._outputs[-1].get("name") == name:
            self._outputs[-1]["text"] += text
        elif text:
            self._outputs.append({"output_type": "stream", "name": name, "text": text})

    def _result(self, data: dict[str, Any], _: dict[str, Any] | None = None) -> None:
        self._outputs.append(
            {
                "output_type": "execute_result",
                "data": _lasting(data),
                "execution_count": self._shell.displayhook.prompt_count,
                "metadata": {},
            }
        )

    def _displayed(self, data: dict[str, Any], *_: Any, **__: Any) -> None:
        self._outputs.append({"output_type": "display_data", "data": _lasting(data), "metadata": {}})

    def _failed(self, kind: type[BaseException], error: BaseException, lines: list[str]) -> None:
        told = {"ename": kind.__name__, "evalue": str(error), "traceback": list(lines)}
        self._outputs.append({"output_type": "error", **told})


def _lasting(data: dict[str, Any]) -> dict[str, Any]:
    """What can be shown without a kernel."""
    return {kind: shown for kind, shown in data.items() if kind != _WIDGET}


def executed(path: Path, interpreter: Interpreter) -> str:
    """Run a notebook.

    Parameters
    ----------
    path : Path
        The notebook; it stays as it is.
    interpreter : Interpreter
        What runs it.

    Returns
    -------
    str
        The same notebook with its outputs.

    Raises
    ------
    CellError
        When a cell fails.
    """
    notebook = nbformat().read(path, as_version=4)
    for cell in notebook.cells:
        if cell.cell_type == "markdown":
            cell.source = named_in_words(cell.source)
    stopped = interpreter.run(notebook, path.parent)
    if stopped:
        raise CellError(f"{path.name}, {stopped}")
    notebook.metadata = nbformat().from_dict(METADATA)
    return written_out(notebook)


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
    with Interpreter() as interpreter:
        for path in map(Path, names):
            path.write_text(executed(path, interpreter), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
