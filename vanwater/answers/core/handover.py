"""What goes with the van when it is handed over: how to live with it, what to do when something fails, what to measure.

Each question says its own part of it, in its folder; the customer's pages and the workshop's sheet put them together.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.band import NONE, Lies, Tolerance
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, in_either, say

__all__ = [
    "HEADS",
    "ONCE_MORE",
    "TOPICS",
    "WHENS",
    "Fault",
    "Gives",
    "Handed",
    "Head",
    "Living",
    "Means",
    "Measure",
    "Remember",
    "Setting",
    "Step",
    "Topic",
    "When",
]

ONCE_MORE = say("Measure it once more.")
"""Of a deviation of which nobody knows what it means."""

Topic: TypeAlias = Literal["first use", "every day", "hot water", "winter", "now and then"]

TOPICS: tuple[Topic, ...] = ("first use", "every day", "hot water", "winter", "now and then")
"""In the order in which a customer reads them."""

Head: TypeAlias = Literal["Holes to cut", "Before the walls close", "Looked after", "Spares for the road"]

HEADS: tuple[Head, ...] = ("Holes to cut", "Before the walls close", "Looked after", "Spares for the road")
"""In the order in which a workshop needs them; of each hole is written what lies behind it."""


@dataclass(frozen=True, slots=True)
class Gives:
    """What a part gives the van, for the customer who asks what it is there for.

    Parameters
    ----------
    part : str
        Address of the part: "tanks.fresh"; of a table, "runs", for all of its parts.
    text : Say
        In the customer's words.
    """

    part: str
    text: Say


@dataclass(frozen=True, slots=True)
class Living:
    """A thing to do or to know while one lives with the van.

    Parameters
    ----------
    topic : str
        One of ``TOPICS``.
    text : Say
        In the customer's words.
    """

    topic: Topic
    text: Say


@dataclass(frozen=True, slots=True)
class Fault:
    """Something that goes wrong, and what to do first.

    Parameters
    ----------
    sign : str
        What the customer sees, hears or smells.
    first : Say
        The first steps.
    """

    sign: str
    first: Say


@dataclass(frozen=True, slots=True)
class Means:
    """What a deviation of something measured means.

    Parameters
    ----------
    text : str
        In a few words; a text of the program itself, its values metric.
    side : {"", "above", "below"}
        On which side of what is expected; empty for either.
    """

    text: str
    side: Lies = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A measurement before the van is handed over.

    Parameters
    ----------
    place : int
        Its place in the order in which they are made.
    what : Say
        What is measured.
    how : str
        How, and with what; a text of the program itself, its values metric.
    expected : Amount, Range or Say
        What is expected.
    means : tuple of Means
        What a deviation means.
    tolerance : Tolerance
        How far off is still well where what is expected has no range of its own (common practice, from memory).
    corrects : str
        The address of the plan to correct where the van is as it should be, and the plan is not.
    """

    place: int
    what: Say
    how: str
    expected: Amount | Range | Say
    means: tuple[Means, ...]
    tolerance: Tolerance = NONE
    corrects: str = ""

    @property
    def number(self) -> Number | None:
        """The number that is expected; None where it is told in words."""
        return None if isinstance(self.expected, Say) else self.expected.number

    def meant(self, side: Lies = "") -> Say:
        """What a deviation to one side means, or to any."""
        texts = [each.text for each in self.means if side in ("", each.side) or not each.side]
        return say("{means}", means=in_either(" ".join(texts))) if texts else ONCE_MORE


@dataclass(frozen=True, slots=True)
class Setting:
    """What is set by hand before the van leaves.

    Parameters
    ----------
    what : Say
        What is set.
    value : Amount, Range or Say
        To what.
    how : str
        Where and how; a text of the program itself, its values metric.
    """

    what: Say
    value: Amount | Range | Say
    how: str


@dataclass(frozen=True, slots=True)
class Remember:
    """A thing that a workshop forgets easily (common practice, from memory).

    Parameters
    ----------
    head : str
        One of ``HEADS``.
    text : Say
        What is done, looked after or taken along.
    """

    head: Head
    text: Say


When: TypeAlias = Literal["Before the first use", "Before frost"]

WHENS: tuple[When, ...] = ("Before the first use", "Before frost")
"""In the order in which a card has them."""


@dataclass(frozen=True, slots=True)
class Step:
    """A step of the card that stays in the van (common practice, from memory).

    Parameters
    ----------
    when : str
        One of ``WHENS``.
    place : int
        Its place among the steps.
    text : Say
        What to do.
    """

    when: When
    place: int
    text: Say


Handed: TypeAlias = Gives | Living | Fault | Measure | Setting | Remember | Step
