"""Sums that are worked out when one is first asked for: a slider needs the numbers, not every sum behind them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from typing_extensions import TypeVar

from vanwater.answers.core.working import Step

__all__ = ["Unfolding"]


V = TypeVar("V", default=Step)


class Unfolding(Mapping[str, V]):
    """Sums by key, all made at the first touch and kept.

    Parameters
    ----------
    make : callable
        Gives the sums by key; a plain function or a partial of one, so that an answer can be sent to another process.
    """

    __slots__ = ("_made", "_make")

    def __init__(self, make: Callable[[], Mapping[str, V]]) -> None:
        self._make = make
        self._made: Mapping[str, V] | None = None

    def _all(self) -> Mapping[str, V]:
        if self._made is None:
            self._made = self._make()
        return self._made

    def __getitem__(self, key: str) -> V:
        return self._all()[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._all())

    def __len__(self) -> int:
        return len(self._all())

    def __repr__(self) -> str:
        return "Unfolding(not asked for yet)" if self._made is None else f"Unfolding({self._made!r})"
