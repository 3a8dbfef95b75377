"""Something that follows a bench and counts."""

from __future__ import annotations

__all__ = ["Watcher"]


class Watcher:
    """Counts how often it was told of a move, and how often it was to show it."""

    def __init__(self) -> None:
        self.moves = self.shown = self.plans = 0
        self.page: str | None = None

    def moved(self) -> None:
        self.moves += 1

    def refresh(self) -> None:
        self.shown += 1

    def loaded(self) -> None:
        self.plans += 1

    def gone(self, place: tuple[str, str]) -> None:
        pass
