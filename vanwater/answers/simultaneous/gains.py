"""What would bring the outlets of a set more: each change as a row of the same solve of the whole network."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import stated
from vanwater.answers.outlets.outlet import WORTH_TELLING
from vanwater.answers.outlets.remedies import remedy_words
from vanwater.answers.simultaneous.rows import NETWORK, SetRows
from vanwater.quantities import FLOW
from vanwater.system.remedies import Remedy

__all__ = ["SetGain", "set_gains"]


@dataclass(frozen=True, eq=False)
class SetGain:
    """A change and what it would bring to a set.

    Parameters
    ----------
    rows : SetRows
        The set.
    remedy : Remedy
        The change.
    outlet : str
        The outlet that it is told for.
    each : mapping of str to Number
        More flow at every outlet of the set; below zero where it takes from one.
    """

    rows: SetRows
    remedy: Remedy
    outlet: str
    each: Mapping[str, Number]

    @property
    def flow(self) -> Number:
        """More flow at the outlet."""
        return self.each[self.outlet]

    @cached_property
    def all_together(self) -> Number:
        """More flow in all."""
        return stated(
            f"flow in all with {self.rows.name} open, gained by {self.remedy.row.key}",
            sum(gain.likely for gain in self.each.values()),
            FLOW,
            "What the change brings every outlet of the set.",
            parts=tuple(self.each.items()),
            source=NETWORK,
        ).keyed("set", self.rows.name, "flow", "gain", self.remedy.row.key, exact=self.flow.unranged, digits=2)

    @cached_property
    def words(self) -> Say:
        """The change in words."""
        return remedy_words(self.rows.plan, self.remedy)

    @property
    def gain(self) -> Say:
        """What it brings, ready to stand behind the change."""
        return say("{flow} more at the {outlet}", flow=self.flow, outlet=self.outlet)


def set_gains(rows: SetRows, flow: Mapping[str, Number], outlet: str) -> tuple[SetGain, ...]:
    """What would bring one outlet of a set more, most first.

    Parameters
    ----------
    rows : SetRows
        The set.
    flow : mapping of str to Number
        Flow at each of its outlets.
    outlet : str
        One of them.

    Returns
    -------
    tuple of SetGain
        Changes worth telling that leave no other outlet of the set short of its wish.
    """
    return tuple(sorted(_worthwhile(rows, flow, outlet), key=lambda gain: -gain.flow.likely))


def _worthwhile(rows: SetRows, flow: Mapping[str, Number], outlet: str) -> Iterator[SetGain]:
    wishes = {name: rows.plan.outlets[name].wanted or 0.0 for name in rows.ways if name != outlet}
    own = flow[outlet]
    for remedy in rows.remedies:
        row = rows.batch.place(remedy.row.key)
        if own.values[row] - own.likely <= WORTH_TELLING * own.likely:
            continue
        if any(flow[name].values[row] < min(wish, 0.99 * flow[name].likely) for name, wish in wishes.items()):
            continue
        yield SetGain(rows, remedy, outlet, {name: each.gain(row, remedy.row.key) for name, each in flow.items()})
