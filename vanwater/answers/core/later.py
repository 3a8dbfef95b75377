"""Things that are made when they are first looked at: a slider needs the numbers, not every table and sum."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeVar

__all__ = ["Later"]

T = TypeVar("T")


class Later(Sequence[T]):
    """A row of things, all made at the first touch and kept.

    Parameters
    ----------
    make : callable
        Gives them; a plain function or a partial of one, so that an answer can be sent to another process.
    """

    __slots__ = ("_made", "_make")

    def __init__(self, make: Callable[[], Iterable[T]]) -> None:
        self._make = make
        self._made: tuple[T, ...] | None = None

    def _all(self) -> tuple[T, ...]:
        if self._made is None:
            self._made = tuple(self._make())
        return self._made

    def __getitem__(self, index: Any) -> Any:
        return self._all()[index]

    def __len__(self) -> int:
        return len(self._all())

    def __eq__(self, other: object) -> bool:
        return self._all() == tuple(other) if isinstance(other, Later | tuple) else NotImplemented

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return "Later(not asked for yet)" if self._made is None else repr(self._made)
