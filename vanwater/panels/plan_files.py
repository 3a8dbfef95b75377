"""The fold that saves: into the plan's file, as a new plan; and that takes another plan on the bench."""

from __future__ import annotations

import html
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.followed import Followed
from vanwater.panels.guard import alert, guarded, reason
from vanwater.panels.write_back import changed_lines, folder_of, is_example
from vanwater.plan.problems import PlanError

__all__ = ["PlanFiles"]

_NAME = {"continuous_update": False, "layout": {"width": "340px"}}


class PlanFiles:
    """What a panel offers about files; nothing is written before a button is pressed.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    """

    def __init__(self, bench: Followed) -> None:
        self.bench = bench
        self._told = ""
        self.save = widgets.Button(description="write these lines", disabled=True)
        self.save.on_click(guarded(lambda _: self._save(), self._refused))
        self.new_name = widgets.Text(
            description="new file", placeholder="my-van.toml", tooltip="name of the new plan's file", **_NAME
        )
        self.save_as = widgets.Button(description="save as a new plan")
        self.save_as.on_click(guarded(lambda _: self._save_as(), self._refused))
        self.other_name = widgets.Text(
            description="other file", placeholder="another-van.toml", tooltip="file of another plan", **_NAME
        )
        self.load = widgets.Button(description="load this plan")
        self.load.on_click(guarded(lambda _: self._load(), self._refused))
        rows: list[Any] = [
            widgets.HBox([self.save]),
            widgets.HBox([self.new_name, self.save_as]),
            widgets.HBox([self.other_name, self.load]),
        ]
        self.collapsible = Collapsible("save or load a plan", self._lines, rows)
        self.collapsible.body.add_class("vw-files")

    def _lines(self) -> str:
        """The lines that would change."""
        text, self._told = self._told, ""
        bench = self.bench
        self.save.disabled = True
        self.save_as.disabled = bench.file is None
        if bench.file is None:
            return text or "<p>This plan was not read from a file.</p>"
        name = html.escape(plain(bench.file.path.name, "terminal"))
        if not bench.written:
            return text or f"<p>Nothing is changed; {name} stays as it is.</p>"
        try:
            after = bench.revised()
        except PlanError as error:
            self.save_as.disabled = True
            return text + alert(reason(error))
        lines = "\n".join(f"{mark} {html.escape(line)}" for mark, line in changed_lines(bench.file, after))
        if is_example(bench.file):
            said = "This example ships with the package and stays as it is; save it as a new plan."
        else:
            said = "The lines marked - go, those marked + come; nothing else in the file changes."
            self.save.disabled = False
        return f'{text}<p>{name}. {said}</p><pre class="vw-data">{lines}</pre>'

    def _save(self) -> None:
        if self.bench.file is None or is_example(self.bench.file):
            return
        self._tell("Written into {}.", self.bench.save().path)

    def _save_as(self) -> None:
        self._tell("Written into the new file {}, which is the plan from now on.", self.bench.save_as(self._beside()))
        self.new_name.value = ""

    def _load(self) -> None:
        self._tell("{} is the plan from now on.", self.bench.load(Path(self.other_name.value.strip())))
        self.other_name.value = ""

    def _beside(self) -> Path:
        return folder_of(self.bench.file) / Path(self.new_name.value.strip())

    def _tell(self, words: str, file: Any) -> None:
        path: Path = getattr(file, "path", file)
        self._told = f"<p>{words.format(html.escape(plain(path.name, 'terminal')))}</p>"
        self.collapsible.refresh()

    def _refused(self, message: str) -> None:
        self.collapsible.text.value = message
