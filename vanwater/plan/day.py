"""How a day of the stay is spent: on the road, at a socket, with nobody in the van."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from pydantic_core import PydanticCustomError

from vanwater.plan.part import Part, above, asked, such_as, wrong
from vanwater.quantities import HOURS

__all__ = ["FULL_DAY", "STATES", "Day"]

STATES = ("parked", "driving", "shore", "away", "unheated")
"""States of a day: parked with somebody in it, on the road, at a socket, nobody there with the heating on, and off."""

FULL_DAY = 86400.0
"""A day [s]."""

_HOURS = HOURS.within("0 h", "24 h")
Spent = Annotated[float, such_as(_HOURS, "2 h")]


class Day(Part):
    """How the hours of a day are spent; what is left of them the van is parked with somebody in it."""

    parked: Spent | None = asked("hours parked with somebody in it; what is left of the day if not said")
    driving: Spent = asked("hours on the road", 0.0)
    shore: Spent = asked("hours at a socket", 0.0)
    away: Spent = asked("hours parked with nobody in it, the heating on", 0.0)
    unheated: Spent = asked("hours parked with nobody in it, the heating off", 0.0)

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Whether the hours make a day."""
        spent = self.driving + self.shore + self.away + self.unheated
        if above(spent, FULL_DAY):
            yield wrong(
                self._longest(),
                f"The hours of the day add up to {HOURS.text(spent)}.",
                "no hour told twice: 24 h at most",
                about=STATES,
            )
        elif self.parked is not None and (above(spent + self.parked, FULL_DAY) or above(FULL_DAY, spent + self.parked)):
            yield wrong(
                "parked",
                f"The hours of the day add up to {HOURS.text(spent + self.parked)}.",
                f"{HOURS.text(FULL_DAY - spent)}, or no parked: what is left of the day is parked",
                about=STATES,
            )

    def _longest(self) -> str:
        """The state of the most hours: there the slip most likely is."""
        return max(STATES[1:], key=lambda state: float(getattr(self, state)))
