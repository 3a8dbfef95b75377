"""What would bring the outlets of a set more: each change as a row of the same solve of the whole network."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.outlets.outlet import WORTH_TELLING, Gain
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.quantities import FLOW
from vanwater.system.remedies import Remedy

__all__ = ["SetGain", "set_gains"]


@dataclass(frozen=True, slots=True)
class SetGain:
    """A change and what it would bring to a set.

    Parameters
    ----------
    remedy : Remedy
        The change.
    outlet : str
        The outlet that it is told for.
    flow : float
        More flow there [m³/s].
    each : mapping of str to float
        More flow at every outlet of the set; below zero where it takes from one [m³/s].
    """

    remedy: Remedy
    outlet: str
    flow: float
    each: Mapping[str, float]

    @property
    def all_together(self) -> float:
        """More flow in all [m³/s]."""
        return sum(self.each.values())

    @property
    def words(self) -> Say:
        """The change in words."""
        remedy = self.remedy
        if remedy.kind == "sparing":
            return say(
                "Take a {piece} that gives {then} where it now gives {now}.",
                piece=remedy.piece,
                then=Amount(float(remedy.then), FLOW),
                now=Amount(float(remedy.now), FLOW),
            )
        return Gain(remedy, self.flow).words

    @property
    def gain(self) -> Say:
        """What it brings, ready to stand behind the change."""
        return say("{outlet} {flow} more", outlet=self.outlet, flow=Amount(self.flow, FLOW, 2))


def set_gains(rows: SetRows, outlet: str) -> tuple[SetGain, ...]:
    """What would bring one outlet of a set more, most first.

    Parameters
    ----------
    rows : SetRows
        The set.
    outlet : str
        One of its outlets.

    Returns
    -------
    tuple of SetGain
        Changes worth telling that leave no other outlet of the set short of its wish.
    """
    return tuple(sorted(_worthwhile(rows, outlet), key=lambda gain: -gain.flow))


def _worthwhile(rows: SetRows, outlet: str) -> Iterator[SetGain]:
    flows = {name: rows.along(rows.solved.flows.outlet(name)) for name in rows.ways}
    wishes = {name: rows.plan.outlets[name].wanted or 0.0 for name in rows.ways if name != outlet}
    own = flows[outlet]
    for remedy in rows.remedies:
        row = rows.batch.place(remedy.row.key)
        if own[row] - own[0] <= WORTH_TELLING * own[0]:
            continue
        short = [name for name, wish in wishes.items() if flows[name][row] < min(wish, 0.99 * flows[name][0])]
        if not short:
            each = {name: float(flow[row] - flow[0]) for name, flow in flows.items()}
            yield SetGain(remedy, outlet, each[outlet], each)
