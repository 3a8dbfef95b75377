"""What cells show, caught as a notebook would get it: by display, the last text of each."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from vanwater.panels import cells

__all__ = ["Caught", "caught"]


class Caught:
    """What stands in the cells of a notebook, by display."""

    def __init__(self) -> None:
        self.bundles: dict[str, dict[str, Any]] = {}
        self.renewed = 0

    def display(self, bundle: dict[str, Any], *, raw: bool, display_id: str = "") -> None:
        assert raw
        self.bundles[display_id or str(len(self.bundles))] = bundle

    def update_display(self, bundle: dict[str, Any], *, raw: bool, display_id: str) -> None:
        assert raw and display_id in self.bundles
        self.bundles[display_id] = bundle
        self.renewed += 1

    @property
    def texts(self) -> list[str]:
        """The plain texts, in the order in which they were first shown."""
        return [bundle["text/plain"] for bundle in self.bundles.values()]


@contextmanager
def caught(monkeypatch: pytest.MonkeyPatch) -> Iterator[Caught]:
    page = Caught()
    monkeypatch.setattr(cells, "_display", page)
    yield page
