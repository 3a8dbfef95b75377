"""The bar above a panel: the situation, a step back and forth, the way back to the plan, what a page should know."""

from __future__ import annotations

import html
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.answers.situations import AS_WRITTEN
from vanwater.panels.followed import Followed, Follower
from vanwater.panels.guard import guarded
from vanwater.panels.keeping import LETTERS
from vanwater.panels.page_watch import PageWatch

__all__ = ["ANEW", "BenchBar"]

ANEW = (
    "This page was loaded anew, or opened in a second tab: this panel goes on, but cells beside it may stand as they "
    "were and follow no longer. To wake them, choose Run > Run All Cells; what was moved and not saved is then back at "
    "the plan."
)


class BenchBar:
    """What moves the whole bench.

    Parameters
    ----------
    bench : Followed
        The bench.
    by : Follower
        What follows at once.
    """

    def __init__(self, bench: Followed, by: Follower) -> None:
        self.bench, self._by = bench, by
        self.situation = widgets.Dropdown(description="situation", tooltip="situation of the plan")
        self.undo = widgets.Button(description="undo", tooltip="take the last step back")
        self.redo = widgets.Button(description="redo", tooltip="take it again")
        self.home = widgets.Button(description="back to the plan", tooltip="every control back to the plan's value")
        self.keep = widgets.Button()
        self.anew = widgets.HTML(layout={"display": "none"})
        self._quiet = False
        self.situation.observe(guarded(self._chosen, self._refused), "value")
        self.undo.on_click(lambda _: bench.undo(self._by))
        self.redo.on_click(lambda _: bench.redo(self._by))
        self.home.on_click(lambda _: bench.home(self._by))
        self.keep.on_click(guarded(lambda _: self._kept(), self._refused))
        self.watch = PageWatch(bench.seen)
        buttons = widgets.HBox([self.situation, self.undo, self.redo, self.home, self.keep, self.watch])
        buttons.add_class("vw-bar")
        self.widget: Any = widgets.VBox([buttons, self.anew])
        self.loaded()

    def loaded(self) -> None:
        """Take the situations of another plan."""
        self._quiet = True
        self.situation.options = [
            (AS_WRITTEN, ""),
            *((plain(name, "terminal"), name) for name in self.bench.situations),
        ]
        self._quiet = False
        self.situation.layout.display = "" if self.bench.situations else "none"
        self.moved()

    def moved(self) -> None:
        """Show how the bench stands."""
        bench = self.bench
        self._quiet = True
        self.situation.value = bench.state.situation
        self._quiet = False
        self.undo.disabled, self.redo.disabled = not bench.history.can_undo, not bench.history.can_redo
        self.home.disabled = not bench.values
        self._offer_to_keep()
        anew = bench.loaded_anew
        self.anew.value = f'<div class="vw-anew" role="status">{html.escape(ANEW)}</div>' if anew else ""
        self.anew.layout.display = "" if anew else "none"

    def _offer_to_keep(self) -> None:
        bench = self.bench
        letter, there = bench.next_letter, bench.kept_as
        self.keep.disabled = not letter or not bench.values or bool(there) or bench.refused is not None
        if there:
            self.keep.description = f"kept as {there}"
        else:
            self.keep.description = f"keep as {letter}" if letter else f"{', '.join(LETTERS)} are kept"
        self.keep.tooltip = (
            "put the plan as it stands beside the saved one, as a variant"
            if letter
            else "drop a variant to keep another: more than four plans side by side nobody can read"
        )

    def _kept(self) -> None:
        self.bench.keep()

    def _refused(self, message: str) -> None:
        self.anew.value, self.anew.layout.display = message, ""

    def _chosen(self, change: Any) -> None:
        if not self._quiet:
            self.bench.choose(change["new"], self._by)
