"""Water that is heated while the sun charges: what that spares the night's reserve, and whether the sun carries it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import stated
from vanwater.answers.power.balance import Balance, Taken
from vanwater.quantities import DAILY_ENERGY, Array
from vanwater.system.charging import sun_yield
from vanwater.system.day import direct

__all__ = ["by_sun_findings"]


def by_sun_findings(balance: Balance) -> Iterator[Finding]:
    """The findings on heaters that are heated by the sun.

    Parameters
    ----------
    balance : Balance
        What the battery gives in a day.

    Yields
    ------
    Finding
        Watched where the sun gives less than the heater takes, or nothing at all.
    """
    plan = balance.batch.plan
    for name, heater in {} if plan.water.drained else plan.heaters.items():
        own = [told for told in balance.taken if told.key[1:] in (("hot_water", name), ("standing", name))]
        if not heater.by_the_sun or not own:
            continue
        if plan.sun is None:
            yield Finding(
                f"power.{name}.sun",
                Verdict.NOT_DECIDED,
                say("The {heater} is heated while the sun charges, and no panels are planned.", heater=name),
                change=say("Add {table}, or heat it in its hours.", table="[sun]"),
                address=f"heaters.{name}.when",
                source="the plan's own word",
            )
            continue
        energy = _energy(name, own, balance)
        given = _number("what the panels give a day", sun_yield(balance.batch), ("sun", "yield_a_day"), balance)
        if not np.isfinite(energy.likely):
            continue
        at_once = _number(
            "what the panels give heaters at once",
            direct(balance.batch, balance.day.hours, balance.day.consumers),
            ("sun", "direct_a_day"),
            balance,
        )
        short = given.likely < energy.likely
        yield Finding(
            f"power.{name}.sun",
            Verdict.WATCH if short else Verdict.FINE,
            say(
                "The {heater} is heated while the sun charges: it takes {energy} by daylight, none of it from the "
                "night's reserve, and {direct} do not go through the battery. The panels give {given}{ending}",
                heater=name,
                energy=energy,
                direct=at_once,
                given=given,
                ending=": the rest is the battery's." if short else ".",
            ),
            value=given.amount,
            limit=energy.amount,
            change=say("On dull days heat it on the road or at a socket, or let it heat to less.") if short else None,
            address=f"heaters.{name}.when",
            source="energy balance; hours of the sun are common practice",
            bound="at least",
        )


def _energy(name: str, own: list[Taken], balance: Balance) -> Number:
    each = [(told.label, told.a_day) for told in own]
    return stated(
        f"what the {name} takes from the battery a day",
        np.sum([number.values for _, number in each], axis=0),
        DAILY_ENERGY,
        "Its hot water and what it loses.",
        parts=each,
        source="sum of both",
    ).keyed("heater", name, "battery_a_day", pairs=balance.pairs, digits=2)


def _number(words: str, power: Array, key: tuple[str, ...], balance: Balance) -> Number:
    method = "Rated power times hours of full sun; at once as far as they carry the element in their six best hours."
    return stated(words, power, DAILY_ENERGY, method, source="energy balance").keyed(
        *key, pairs=balance.pairs, digits=2
    )
