"""What may wait until a hand rests: done piece by piece then, so that the next move is never kept waiting."""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable, Iterable

__all__ = ["REST", "Pace"]

REST = 0.3
"""Seconds after the last move."""

_BETWEEN = 0.005  # seconds in which a waiting message gets in

Work = Callable[[], None]


class Pace:
    """Work for when a hand rests; a new move puts the list of the last one aside.

    Where no event loop runs, as in a plain script, all of it is done at once.
    """

    def __init__(self) -> None:
        self._waiting: deque[Work] = deque()
        self._timer: asyncio.TimerHandle | None = None

    @property
    def waiting(self) -> int:
        """How many pieces still wait."""
        return len(self._waiting)

    def when_at_rest(self, works: Iterable[Work]) -> None:
        """Do some work when nothing has moved for a moment, in place of all that waits.

        Parameters
        ----------
        works : iterable of callable
            Each is told nothing and gives nothing; it must not fail.
        """
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None
        self._waiting = deque(works)
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            while self._waiting:
                self._waiting.popleft()()
            return
        self._timer = loop.call_later(REST, self._next, loop)

    def _next(self, loop: asyncio.AbstractEventLoop) -> None:
        self._timer = None
        if self._waiting:
            work = self._waiting.popleft()
            if self._waiting:
                self._timer = loop.call_later(_BETWEEN, self._next, loop)
            work()
