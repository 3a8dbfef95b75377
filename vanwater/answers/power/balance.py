"""The balance of a day: what each consumer takes in each state of the van, and what each source puts back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import stated
from vanwater.answers.stay.answer import stay
from vanwater.plan.day import STATES
from vanwater.plan.model import Plan
from vanwater.quantities import CHARGE, DAILY_ENERGY, DURATION, ENERGY, HOURS, Array
from vanwater.system.batch import Batch
from vanwater.system.charging import Charge
from vanwater.system.day import FEEDERS, Consumer, Day, day_of
from vanwater.system.power import Bank, bank_of

__all__ = ["IN_WORDS", "Balance", "Taken", "balance_of"]

IN_WORDS = {
    "parked": "parked",
    "driving": "driving",
    "shore": "at a socket",
    "away": "nobody there",
    "unheated": "heating off",
}
"""The states of a day as a table heads them."""

_BATTERY = FEEDERS.index("battery")


@dataclass(frozen=True, eq=False)
class Taken:
    """What a consumer takes from the battery, or a source puts into it.

    Parameters
    ----------
    label : str
        What it is called.
    key : tuple of str
        How its numbers are called.
    power : array, shape (states, rows)
        Mean power in each state [W].
    day : Day
        The day.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.
    source : bool
        Whether it puts back.
    """

    label: str
    key: tuple[str, ...]
    power: Array
    day: Day
    pairs: Sequence[UnsureRows]
    source: bool = False

    @cached_property
    def by_state(self) -> dict[str, Number]:
        """Energy of a day in each state that has hours."""
        numbers = {}
        for place, state in enumerate(STATES):
            hours = self.day.hours[place]
            if not np.any(hours > 0.0):
                continue
            numbers[state] = stated(
                f"{self.label}, {IN_WORDS[state]}",
                self.power[place] * hours,
                ENERGY,
                "Its mean power in that state, for the hours of it.",
                facts=[("hours of a day", (hours, DURATION))],
                source="definition of energy",
            ).keyed(*self.key, "energy", state, pairs=self.pairs, digits=2)
        return numbers

    @cached_property
    def a_day(self) -> Number:
        """Energy of a day."""
        return stated(
            f"{self.label}, {'put back' if self.source else 'taken from the battery'} a day",
            np.sum(self.day.share * self.power, axis=0),
            DAILY_ENERGY,
            "The energies of all states add up.",
            facts=[(number.name, number) for number in self.by_state.values()],
            source="sum of the states",
        ).keyed(*self.key, "a_day", pairs=self.pairs, digits=2)


@dataclass(frozen=True, eq=False)
class Balance:
    """What is taken from the battery a day, and put back.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    day : Day
        The day.
    bank : Bank
        The battery.
    taken : tuple of Taken
        What consumers take, the thirstiest first.
    put : tuple of Taken
        What sources put back, the strongest first.
    a_day : Number
        What is taken of it a day, net: the stay's own.
    usable : Number
        What may be taken of the full battery.
    days, uncharged : Number
        How long it lasts, and with nothing put back; the stay's own.
    """

    batch: Batch
    day: Day
    bank: Bank
    taken: tuple[Taken, ...]
    put: tuple[Taken, ...]
    a_day: Number
    usable: Number
    days: Number
    uncharged: Number

    @property
    def pairs(self) -> Sequence[UnsureRows]:
        """Where the unsure inputs stand."""
        return self.taken[0].pairs if self.taken else ()

    @property
    def nothing(self) -> Array:
        """No power along the rows, where nothing is taken."""
        return np.zeros(len(self.batch))

    @cached_property
    def states(self) -> tuple[str, ...]:
        """The states that have hours."""
        return tuple(state for state, hours in zip(STATES, self.day.hours, strict=True) if np.any(hours > 0.0))

    @cached_property
    def hours(self) -> dict[str, Number]:
        """Hours of a day in each of them."""
        return {
            state: stated(
                f"hours of a day {IN_WORDS[state]}",
                self.day.hours[STATES.index(state)],
                HOURS,
                "As the plan says; what is left of the day is parked.",
                source="the plan",
            ).keyed("day", state, exact="as planned")
            for state in self.states
        }

    @cached_property
    def by_state(self) -> dict[str, Number]:
        """All that is taken in each of them."""
        numbers = {}
        for state in self.states:
            each = [(told.label, told.by_state[state]) for told in self.taken]
            numbers[state] = stated(
                f"all loads of the battery {IN_WORDS[state]}",
                np.sum([self.nothing, *(number.values for _, number in each)], axis=0),
                ENERGY,
                "The loads in that state add up.",
                parts=each,
                source="sum of the loads",
            ).keyed("battery", "loads", state, pairs=self.pairs, digits=2)
        return numbers

    @cached_property
    def loads(self) -> Number:
        """All that is taken a day."""
        each = [(one.label, one.a_day) for one in self.taken]
        return stated(
            "all loads of the battery",
            np.sum([self.nothing, *(number.values for _, number in each)], axis=0),
            DAILY_ENERGY,
            "The loads add up.",
            parts=each,
            source="sum of the loads",
        ).keyed("battery", "all_loads_a_day", pairs=self.pairs, digits=2)

    @cached_property
    def put_back(self) -> Number | None:
        """All that is put back a day; None where nothing is."""
        if not self.put:
            return None
        each = [(told.label, told.a_day) for told in self.put]
        return stated(
            "put back into the battery a day",
            np.sum([number.values for _, number in each], axis=0),
            DAILY_ENERGY,
            "The sources add up.",
            parts=each,
            source="sum of the sources",
        ).keyed("battery", "put_back_a_day", pairs=self.put[0].pairs, digits=2)

    @cached_property
    def loads_charge(self) -> Number:
        """All that is taken a day, in amp-hours."""
        return self._charge("all loads of the battery", self.loads).keyed(
            "battery", "all_loads_charge_a_day", pairs=self.pairs, digits=2
        )

    def amp_hours(self, taken: Taken) -> Number:
        """What it is in amp-hours of the bank's nominal volts."""
        charge = self._charge(taken.label, taken.a_day)
        return charge.keyed(*taken.key, "charge_a_day", pairs=taken.pairs, digits=2)

    def _charge(self, label: str, a_day: Number) -> Number:
        return stated(
            f"{label}, charge a day",
            a_day.values * 86400.0 / self.bank.volts,
            CHARGE,
            "Its energy over the nominal volts of the bank.",
            facts=[(a_day.name, a_day)],
            source="definition of energy",
        )


def balance_of(plan: Plan) -> Balance | None:
    """The balance of a plan's battery, or None while it is not decided.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    Balance or None
        Along the rows of the stay, so that both tell one number.
    """
    days = stay(plan)
    store = next((store for store in days.stores if store.holds == "battery"), None)
    bank = bank_of(days.batch)
    if store is None or bank is None:
        return None
    day = day_of(days.batch)
    taken = sorted(_consumers(day, days.pairs), key=lambda told: -_sorted_by(told))
    put = sorted((_charged(charge, day, days.pairs) for charge in day.charges), key=lambda told: -_sorted_by(told))
    return Balance(
        batch=days.batch,
        day=day,
        bank=bank,
        taken=tuple(taken),
        put=tuple(told for told in put if np.any(told.a_day.values > 0.0)),
        a_day=store.a_day,
        usable=store.usable,
        days=store.days,
        uncharged=store.days if store.uncharged is None else store.uncharged,
    )


def _sorted_by(told: Taken) -> float:
    return float(np.nan_to_num(told.a_day.likely))


def _consumers(day: Day, pairs: Sequence[UnsureRows]) -> Iterator[Taken]:
    for consumer, _ in day.of():
        yield Taken(consumer.label, _key(consumer), consumer.power[:, _BATTERY], day, pairs)


def _key(consumer: Consumer) -> tuple[str, ...]:
    kind = consumer.kind.replace(" ", "_")
    return ("load", kind, consumer.name) if consumer.name else ("load", kind)


def _charged(charge: Charge, day: Day, pairs: Sequence[UnsureRows]) -> Taken:
    return Taken(charge.label, ("charge", charge.key), charge.power, day, pairs, source=True)
