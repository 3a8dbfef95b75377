"""A folder of notebooks worked out for one plan: written whole, refreshed, and a builder's own never overwritten."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from importlib import import_module
from pathlib import Path
from typing import Any

from vanwater.answers.core.statement import harmless
from vanwater.panels.execute import Interpreter
from vanwater.panels.initial_plan import PLAN_VARIABLE
from vanwater.panels.notebook_format import kernel_here, nbformat, written_out
from vanwater.panels.notebook_record import right, stamp, untouched_file
from vanwater.panels.plan_banner import START, fingerprint, named_in_words, path_in_hand, said
from vanwater.panels.start_page import start_notebook
from vanwater.plan.file import read
from vanwater.plan.problems import PlanError
from vanwater.plan.saving import replace_file, swept
from vanwater.plan.tables import resource

__all__ = ["NotebookFolder"]

_BANNER = "from vanwater.panels.plan_banner import in_hand\n\nin_hand()"
_ROUNDS = 5  # how often a plan that is changed again and again is followed
_TEXT = harmless("terminal")


class _SavedByOthersError(Exception):
    """A notebook is no longer as it was when it was looked at."""


@dataclass(kw_only=True)
class NotebookFolder:
    """The notebooks of one plan.

    Parameters
    ----------
    folder : Path
        Where they lie.
    interpreter : Interpreter
        What runs them.
    plan : Path, optional
        The plan's file; the example without it.
    fresh : bool
        Whether notebooks that somebody changed are replaced too.
    """

    folder: Path
    interpreter: Interpreter
    plan: Path | None = None
    fresh: bool = False
    kept: tuple[str, ...] = ()
    """Notebooks that somebody changed: they were left as they are."""
    untrusted: str = ""
    """Why charts are seen only after a notebook was run; empty where they are seen at once."""
    stopped: tuple[str, ...] = ()
    """Notebooks in which a cell failed; it shows why."""
    _mark: str = ""
    _seen: dict[str, str] = field(default_factory=dict)

    def begin(self) -> None:
        """Put every notebook in its place, and the start page worked out; the others say that they are not yet.

        Raises
        ------
        OSError
            When the folder cannot be written.
        """
        self._mark, self._seen = fingerprint(self._path), {}
        self.stopped = ()
        self.folder.mkdir(parents=True, exist_ok=True)
        names = [START, *self._shipped]
        for name in names:
            swept(self.folder / name)
        self.kept = tuple(name for name in names if not self.fresh and self._is_own(name))
        waiting = self._waiting
        for name in self._shipped:
            if name not in self.kept:
                self._seen[name] = self._digest(name)
                if not self._is_right(name):
                    self._write(name, self._empty(name, waiting), "")
        if START not in self.kept:
            self._seen[START] = self._digest(START)
            self._work_out(START)
        self.fresh = False  # what is changed from now on is kept

    def notes(self) -> list[str]:
        """What to tell once it is begun: where it lies, what was left alone, what is wrong."""
        told = [f"The notebooks lie in {self.folder}."]
        told += [
            f"{name} was changed by you and is left as it is; vanwater lab --fresh replaces it." for name in self.kept
        ]
        if not self._usable:
            told.append(f"{self._path.name} cannot be used as it is: the start page tells what to mend.")
        if self.untrusted:
            told.append(f"Charts are seen only after Run All Cells: the notebooks cannot be signed ({self.untrusted}).")
        return told

    def finish(self) -> str:
        """Work out what :meth:`begin` left, and all of it once more where the plan changes meanwhile.

        Returns
        -------
        str
            How many notebooks are worked out, or why they are not.
        """
        for _ in range(_ROUNDS):
            try:
                if self._finished():
                    return self._told()
                self.begin()  # the plan changed
            except OSError as error:
                return f"Not all notebooks could be written to {self.folder}: {error.strerror}."
        return "The plan changes again and again: start vanwater lab once more when it rests."

    def _finished(self) -> bool:
        """Whether all of it was worked out for the plan as it was when it was begun."""
        if self._usable:
            for name in self._seen:
                if name != START and not self._work_out(name):
                    return False
        return fingerprint(self._path) == self._mark

    def _told(self) -> str:
        if not self._usable:
            return "Nothing is worked out: the start page tells what is wrong with the plan."
        count = sum(name != START for name in self._seen)
        told = f"{count} {'notebook is' if count == 1 else 'notebooks are'} worked out for this plan."
        return f"{told} A cell stopped in {' and '.join(self.stopped)}; it shows why." if self.stopped else told

    @property
    def _path(self) -> Path:
        return path_in_hand(self._environment)

    @property
    def _environment(self) -> dict[str, str]:
        return {PLAN_VARIABLE: str(self.plan.absolute()) if self.plan is not None else ""}

    @property
    def _usable(self) -> bool:
        try:
            read(self._path)
        except PlanError:
            return False
        return True

    @cached_property
    def _shipped(self) -> tuple[str, ...]:
        return tuple(sorted(path.name for path in resource("notebooks").glob("*.ipynb")))

    @property
    def _waiting(self) -> str:
        """What a notebook says that is not worked out yet."""
        try:
            van = read(self._path).plan.van
        except PlanError:
            return f"Nothing is worked out here: {_TEXT(self._path.name)} cannot be used as it is."
        return (
            f"Not worked out yet for {_TEXT(van.name)}, revision {_TEXT(van.revision)}. It takes some seconds: close "
            "this notebook and open it again, or choose Run, then Run All Cells."
        )

    def _is_own(self, name: str) -> bool:
        path = self.folder / name
        return os.path.lexists(path) and not untouched_file(path)

    def _is_right(self, name: str) -> bool:
        path = self.folder / name
        return untouched_file(path) and right(nbformat().read(path, as_version=4), self._mark)

    def _empty(self, name: str, sentence: str = "") -> Any:
        """A notebook with nothing worked out, and a sentence where its plan will be named."""
        if name == START:
            return start_notebook()
        notebook = nbformat().read(resource("notebooks", name), as_version=4)
        hidden = {"jupyter": {"source_hidden": True}}
        notebook.cells.insert(0, nbformat().v4.new_code_cell(_BANNER, id="plan-in-hand", metadata=hidden))
        notebook.metadata = nbformat().from_dict(kernel_here())
        for cell in notebook.cells:
            if cell.cell_type == "code":
                cell.outputs, cell.execution_count = [], None
            elif cell.cell_type == "markdown":
                cell.source = named_in_words(cell.source, self._environment)
        if sentence:
            shown = said("", sentence)
            data = {"text/html": shown.html, "text/plain": shown.text}
            notebook.cells[0].outputs = [nbformat().v4.new_output("display_data", data)]
        return notebook

    def _work_out(self, name: str) -> bool:
        """Run a notebook and write it; not if the plan changed meanwhile."""
        notebook = self._empty(name)
        with _handed_over(self._environment):
            stopped = self.interpreter.run(notebook, self.folder)
        if fingerprint(self._path) != self._mark and name != START:
            return False
        self.stopped += (name,) * bool(stopped)
        self._write(name, notebook, self._mark)
        return True

    def _write(self, name: str, notebook: Any, mark: str) -> None:
        """Put a notebook in its place, trusted; not if somebody saved it since it was looked at."""
        stamp(notebook, mark)
        text = written_out(notebook)
        path = self.folder / name
        if self._seen[name] == _hashed(text.encode()):
            return  # as it lies there
        self._trust(nbformat().reads(text, as_version=4))

        def see() -> None:
            if self._digest(name) != self._seen[name]:
                raise _SavedByOthersError

        try:
            replace_file(path, text.encode(), see)
        except _SavedByOthersError:
            return  # it is run with this plan, or worked out by another lab that began at the same time
        self._seen[name] = _hashed(text.encode())

    def _digest(self, name: str) -> str:
        path = self.folder / name
        return _hashed(path.read_bytes()) if path.is_file() else ""

    @property
    def _signatures(self) -> Path:
        place = Path(import_module("jupyter_core.paths").jupyter_data_dir())
        place.mkdir(parents=True, exist_ok=True, mode=0o700)
        return place

    def _trust(self, notebook: Any) -> None:
        """Sign what we worked out ourselves with the user's own key, so that charts are seen before anything is run."""
        try:
            notary = import_module("nbformat.sign").NotebookNotary(data_dir=str(self._signatures))
            with closing(notary.store):
                notary.sign(notebook)
        except OSError as error:
            self.untrusted = error.strerror or str(error)


@contextmanager
def _handed_over(environment: dict[str, str]) -> Iterator[None]:
    before = {name: os.environ.get(name) for name in environment}
    os.environ.update(environment)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


def _hashed(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
