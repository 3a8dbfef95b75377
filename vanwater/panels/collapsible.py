"""What is folded away: a row of buttons that a keyboard reaches, each unfolding a piece that is made only then."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import ipywidgets as widgets

__all__ = ["Collapsible", "row"]


class Collapsible:
    """A button and what it unfolds.

    Parameters
    ----------
    title : str
        What is on the button.
    make : callable
        Gives the HTML; called only while it is unfolded.
    inside : callable or sequence of widgets
        Widgets that stand above the text, or what makes them when it is first unfolded.
    titled : bool
        Repeat the title above the text.
    """

    def __init__(
        self,
        title: str,
        make: Callable[[], str],
        inside: Callable[[], Sequence[Any]] | Sequence[Any] = (),
        titled: bool = True,
    ) -> None:
        self.make = make
        self.button = widgets.ToggleButton(description=f"▸ {title}", tooltip=f"show or hide: {title}")
        self.text = widgets.HTML()
        self._inside = inside
        self.body = widgets.VBox([self.text], layout={"display": "none"})
        self.body.add_class("vw-fold")
        self._title, self._head = title, f"<h4>{title}</h4>" if titled else ""
        if not callable(inside):
            self.open_up()
        self.button.observe(lambda _: self._turned(), "value")

    @property
    def open(self) -> bool:
        """Whether it is unfolded."""
        return bool(self.button.value)

    def open_up(self) -> None:
        """Make the widgets inside, where they were not made yet."""
        if len(self.body.children) == 1:
            inside = self._inside() if callable(self._inside) else self._inside
            self.body.children = (*inside, self.text)

    def refresh(self) -> None:
        """Make the text anew, if somebody sees it."""
        self.text.value = f"{self._head}{self.make()}" if self.open else ""

    def _turned(self) -> None:
        if self.open:
            self.open_up()
        self.button.description = f"{'▾' if self.open else '▸'} {self._title}"
        self.body.layout.display = "" if self.open else "none"
        self.refresh()


def row(folds: Sequence[Collapsible]) -> Any:
    """The buttons of several folds side by side, their texts below."""
    buttons = widgets.HBox([collapsible.button for collapsible in folds], layout={"flex_flow": "row wrap"})
    buttons.add_class("vw-folds")
    return widgets.VBox([buttons, *(collapsible.body for collapsible in folds)])
