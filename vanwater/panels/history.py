"""The steps of a hand: what it set, one after the other, back and forth again."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from vanwater.panels.field import Value

__all__ = ["PAUSE", "History", "State"]

PAUSE = 1.0
"""Seconds after which another move of the same control is a step of its own."""


@dataclass(frozen=True, slots=True)
class State:
    """What a hand has set beside the plan.

    Parameters
    ----------
    situation : str
        Name of the situation; empty for the plan as it is written.
    values : mapping of str to object
        By address: SI for quantities, the field's own words else.
    """

    situation: str = ""
    values: Mapping[str, Value] = field(default_factory=dict)

    @property
    def key(self) -> tuple[str, tuple[tuple[str, str], ...]]:
        """The same as something to look things up by."""
        return self.situation, tuple(sorted((address, repr(value)) for address, value in self.values.items()))


class History:
    """States one after the other. Moves of one control that follow each other at once are one step.

    Parameters
    ----------
    clock : callable
        Seconds now.
    """

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._states = [State()]
        self._at = 0
        self._moved, self._when = "", 0.0

    @property
    def state(self) -> State:
        """The one that stands."""
        return self._states[self._at]

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return self._at > 0

    @property
    def can_redo(self) -> bool:
        """Whether a step was taken back."""
        return self._at < len(self._states) - 1

    def push(self, state: State, moved: str) -> None:
        """Let another state stand.

        Parameters
        ----------
        state : State
            The new one.
        moved : str
            Which control was moved; empty for what is always a step of its own.
        """
        now = self._clock()
        same_move = moved != "" and moved == self._moved and now - self._when < PAUSE and self.can_undo
        del self._states[self._at + 1 :]
        if same_move:
            self._states.pop()
        if not self._states or self._states[-1].key != state.key:  # what was dragged back is no step
            self._states.append(state)
        self._at = len(self._states) - 1
        self._moved, self._when = moved, now

    def undo(self) -> None:
        """Take the last step back, if there is one."""
        self._at, self._moved = max(self._at - 1, 0), ""

    def redo(self) -> None:
        """Take the step again that was taken back last."""
        self._at, self._moved = min(self._at + 1, len(self._states) - 1), ""
