"""A finding: one statement about a plan with its verdict, its limit and what to change."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import Enum
from typing import Literal, TypeAlias

from vanwater.answers.core.harm import Harm, harm_of, place_of
from vanwater.answers.core.number import difference_of
from vanwater.answers.core.statement import Amount, Range, Say, say

__all__ = ["Bound", "Finding", "Verdict", "judge", "worst_first"]

Bound: TypeAlias = Literal["at most", "at least"]

_SLACK = 1e-9
_HARDLY = 2e-3
"""Share of a limit that is no room."""


class Verdict(Enum):
    """How a finding stands; the mark says it without colour."""

    FINE = ("✓", "fine", 0)
    AGREED = ("~", "agreed", 1)
    NOT_DECIDED = ("…", "not decided", 2)
    WATCH = ("!", "watch", 3)
    FAILS = ("✕", "fails", 4)

    @property
    def mark(self) -> str:
        """The sign that stands before the word."""
        return self.value[0]

    @property
    def word(self) -> str:
        """The verdict in words."""
        return self.value[1]

    @property
    def rank(self) -> int:
        """How grave it is; the worst has the highest."""
        return self.value[2]

    def __str__(self) -> str:
        return f"{self.mark} {self.word}"


@dataclass(frozen=True, slots=True)
class Finding:
    """One statement about a plan.

    Parameters
    ----------
    key : str
        Short name, unlike any other of the same answer ("supply.shower.flow").
    verdict : Verdict
        How it stands.
    statement : Say
        What was found, in plain words.
    value, limit : Amount or Range, Amount, optional
        The number that was judged, and the limit it was held against.
    change : Say, optional
        What to change, or what to measure where it is not decided.
    gain : Amount or Say, optional
        What the change would bring, without a full stop; it is told behind a colon.
    address : str
        Where in the plan to change or add something ("tanks.fresh.capacity").
    source : str
        Published source of the limit, or "common practice".
    bound : {"at most", "at least"}
        On which side of the limit the value should be.

    Raises
    ------
    ValueError
        When value and limit are of different quantities, or a value beyond its limit is called fine.
    """

    key: str
    verdict: Verdict
    statement: Say
    value: Amount | Range | None = None
    limit: Amount | None = None
    change: Say | None = None
    gain: Amount | Say | None = None
    address: str = ""
    source: str = ""
    bound: Bound = "at most"

    def __post_init__(self) -> None:
        if self.value and self.limit and self.value.quantity.si != self.limit.quantity.si:
            names = f"{self.value.quantity.name} and {self.limit.quantity.name}"
            raise ValueError(f"{self.key}: value and limit are of different quantities, {names}")
        beyond = self.margin is not None and self.limit is not None and self.margin.value < -_slack(self.limit.value)
        if beyond and self.verdict is Verdict.FINE:
            raise ValueError(f"{self.key}: the value is beyond its limit, yet the verdict is fine")

    @property
    def harm(self) -> Harm:
        """What it does to people, van or trip where it is not fine."""
        return harm_of(self.key)

    @property
    def danger(self) -> bool:
        """Whether it is not fine and can hurt somebody or damage something."""
        return self.verdict is not Verdict.FINE and self.harm <= Harm.DAMAGE

    @property
    def urgent(self) -> bool:
        """Whether it is told at a glance, in every medium: it fails, was agreed, or is a danger to be watched."""
        return self.verdict in (Verdict.FAILS, Verdict.AGREED) or (self.verdict is Verdict.WATCH and self.danger)

    @property
    def beyond(self) -> float:
        """How far beyond its limit it is, as a share of the limit; all of it where there is no number."""
        if self.margin is None or self.limit is None or not math.isfinite(self.margin.value) or not self.limit.value:
            return 1.0
        return -self.margin.value / abs(self.limit.value)

    @property
    def margin(self) -> Amount | None:
        """Room left to the limit, below zero when the value is beyond it."""
        if self.value is None or self.limit is None:
            return None
        room = self.limit.value - _likely(self.value)
        if self.bound == "at least":
            room = -room
        return Amount(room, difference_of(self.limit.quantity), self.limit.digits)

    @property
    def room(self) -> Amount | None:
        """How far the value is from its limit, on whichever side, to two digits."""
        margin = self.margin
        return None if margin is None else replace(margin, value=abs(margin.value), digits=2)

    @property
    def side(self) -> Say | None:
        """The same in words: "0.4 bar to spare", "none to spare" where nobody could read it off, "3 A over"."""
        margin, room, limit = self.margin, self.room, self.limit
        if margin is None or room is None or limit is None or not math.isfinite(margin.value):
            return None
        if abs(margin.value) < _HARDLY * abs(limit.value):
            return say("none to spare")
        beyond = "short" if self.bound == "at least" else "over"
        return say(f"{{room}} {'to spare' if margin.value >= 0 else beyond}", room=room)

    @property
    def advice(self) -> Say | None:
        """What to change and what that would bring, in one sentence: "Lay sweep bends: 0.3 L/min more."."""
        if self.change is None or self.gain is None:
            return self.change
        change = replace(self.change, template=self.change.template.removesuffix("."))
        return say("{change}: {gain}.", change=change, gain=self.gain)


def judge(value: Amount | Range, limit: Amount, bound: Bound = "at most") -> Verdict:
    """Hold a value against a limit.

    Parameters
    ----------
    value : Amount or Range
        What was found.
    limit : Amount
        The limit.
    bound : {"at most", "at least"}
        On which side of the limit the value should be.

    Returns
    -------
    Verdict
        Fails when the likely value is beyond the limit, watch when one end of its range is, fine else;
        not decided when it is not known.
    """
    ends = (value.low, value.high) if isinstance(value, Range) else (value.value, value.value)
    likely, slack = _likely(value), _slack(limit.value)
    if math.isnan(likely) or math.isnan(limit.value):
        return Verdict.NOT_DECIDED
    if bound == "at most":
        over, unsure = likely > limit.value + slack, not ends[1] <= limit.value + slack
    else:
        over, unsure = likely < limit.value - slack, not ends[0] >= limit.value - slack
    return Verdict.FAILS if over else Verdict.WATCH if unsure else Verdict.FINE


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings by what comes of them; those alike keep their order.

    Life before injury, damage, what does not work, the stay, duty, comfort and care. Within each of them what fails
    before what is to be watched and what is not decided, then what is farther beyond its limit. What is not decided
    and no danger stands behind all that fails or is to be watched; what is fine comes last.
    """
    return tuple(sorted(findings, key=_gravity))


def _gravity(finding: Finding) -> tuple[float, ...]:
    verdict = finding.verdict
    if verdict is Verdict.FINE:
        return (2, 0, 0, 0.0, 0)
    behind = int(verdict is Verdict.NOT_DECIDED and not finding.danger)
    return (behind, finding.harm, -verdict.rank, -finding.beyond, place_of(finding.key))


def _likely(value: Amount | Range) -> float:
    return value.likely if isinstance(value, Range) else value.value


def _slack(limit: float) -> float:
    return _SLACK * abs(limit) if math.isfinite(limit) else 0.0
