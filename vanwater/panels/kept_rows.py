"""A row for each variant that is kept: its name, what goes on from it, what drops it."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from vanwater.panels.bench import Bench

__all__ = ["KeptRows"]


class KeptRows:
    """A row for each variant: its name to type, the button that goes on from it, the one that drops it.

    Parameters
    ----------
    bench : Bench
        What was kept on it.
    """

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.names: dict[str, Any] = {}
        self.go: dict[str, Any] = {}
        self.drops: dict[str, Any] = {}
        self.widget: Any = widgets.VBox()
        self.moved()

    def moved(self) -> None:
        """Let the rows stand as the bench stands."""
        letters = [kept.letter for kept in self.bench.kept]
        if letters != list(self.names):
            self._lay(letters)
        for kept in self.bench.kept:
            if self.names[kept.letter].value != kept.name:
                self.names[kept.letter].value = kept.name
            self.go[kept.letter].disabled = self.bench.kept_as == kept.letter

    def _lay(self, letters: list[str]) -> None:
        self.names, self.go, self.drops = {}, {}, {}
        rows = []
        for letter in letters:
            name = widgets.Text(
                description=letter,
                placeholder="a name",
                tooltip=f"name of variant {letter}",
                continuous_update=False,
                layout={"width": "280px"},
                style={"description_width": "20px"},
            )
            name.observe(lambda change, letter=letter: self._renamed(letter, change["new"]), "value")
            go = widgets.Button(description=f"go on from {letter}", tooltip="its values come onto the controls")
            go.on_click(lambda _, letter=letter: self.bench.go_on(letter))
            drop = widgets.Button(description=f"drop {letter}", tooltip="let this variant go")
            drop.on_click(lambda _, letter=letter: self.bench.drop(letter))
            self.names[letter], self.go[letter], self.drops[letter] = name, go, drop
            rows.append(widgets.HBox([name, go, drop]))
        for line in rows:
            line.add_class("vw-bar")
        self.widget.children = rows

    def _renamed(self, letter: str, name: str) -> None:
        known = {kept.letter: kept.name for kept in self.bench.kept}
        if letter in known and known[letter] != name:
            self.bench.rename(letter, name)
