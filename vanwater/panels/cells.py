"""Showing something in a cell. What a cell showed before it was run again follows the bench no longer."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any, TypeAlias

from IPython.core.getipython import get_ipython

from vanwater.panels.followed import Followed

__all__ = ["Place", "again", "clear", "place_now", "renew", "show", "show_widget"]

_display: Any = import_module("IPython.display")

Place: TypeAlias = tuple[str, str]
"""A cell and one of its runs; empty texts where nobody knows."""


def place_now() -> Place:
    """The cell that runs, and which of its runs it is."""
    parent: Any = getattr(get_ipython(), "get_parent", dict)()
    return parent.get("metadata", {}).get("cellId", ""), parent.get("header", {}).get("msg_id", "")


def again(old: Place, new: Place) -> bool:
    """Whether a cell runs again, so that what it showed is gone."""
    return bool(new[0]) and old[0] == new[0] and old[1] != new[1]


def clear(bench: Followed, place: Place) -> None:
    """Let what a cell showed before this run follow no longer."""
    for follower in tuple(bench.followers):
        follower.gone(place)


def show(bundle: Mapping[str, Any], name: str) -> None:
    """Show something in the cell that runs.

    Parameters
    ----------
    bundle : mapping of str to object
        What is shown, by kind of text.
    name : str
        By which it can be renewed.
    """
    _display.display(dict(bundle), raw=True, display_id=name)


def renew(bundle: Mapping[str, Any], name: str) -> None:
    """Put something else in the place of what was shown by a name."""
    _display.update_display(dict(bundle), raw=True, display_id=name)


def show_widget(widget: Any) -> None:
    """Show a widget in the cell that runs; nothing of it stays in a page without a kernel."""
    shown = widget._repr_mimebundle_()
    bundle = shown[0] if isinstance(shown, tuple) else shown
    _display.display({**bundle, "text/plain": ""}, raw=True)
