"""What the pads take from the battery on a cold day, and the nights it lasts on them alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.spread import spread
from vanwater.answers.core.statement import Amount, Count, Range, say
from vanwater.answers.core.working import Step, shown, step
from vanwater.answers.frost.cold import Cold, label_of
from vanwater.answers.frost.pieces import TankFrost
from vanwater.physics import battery
from vanwater.quantities import DAILY_ENERGY, DAY, SHARE, STAY, TEMPERATURE
from vanwater.system.pads import hours_parked, pad_heat, pads_of

__all__ = ["PadsADay", "battery_finding", "day_sums", "pads_a_day"]


@dataclass(frozen=True, slots=True, eq=False)
class PadsADay:
    """What the counted pads take from the battery.

    Parameters
    ----------
    energy : Range
        Energy a day at the mean cold, over the hours parked.
    share : float
        Part of the usable battery that a day takes [-].
    nights : Range
        Days and nights that a full battery lasts on the pads alone.
    each : tuple of (str, float)
        What each of them takes of that [W].
    """

    energy: Range
    share: float
    nights: Range
    each: tuple[tuple[str, float], ...]


def pads_a_day(cold: Cold, tanks: Iterable[TankFrost]) -> PadsADay | None:
    """What the counted pads take from the battery, or None without a battery or a counted pad.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    tanks : iterable of TankFrost
        Its tanks in the cold.

    Returns
    -------
    PadsADay or None
        On the road the alternator feeds them.
    """
    cells = cold.plan.battery
    if cells is None or not any(pad.counted for pad in cold.plan.pads.values()):
        return None
    parked = hours_parked(cold.batch)
    pads = [(one.label, one.pad.rows) for one in tanks if one.pad is not None]
    each = [(f"pad of the {label}", rows.drawn[0] * parked * rows.heat.counted) for label, rows in pads]
    for name in set(pads_of(cold.plan)) & set(cold.gaps):
        always = pad_heat(cold.batch, name)
        each.append((f"pad of the {label_of(name)}, always on", always.power * parked * always.counted))
    power = np.sum([value for _, value in each], axis=0)
    usable = battery.usable_energy(cells.volts, cells.charge, cells.usable)
    nights = spread(battery.battery_days(usable, power), cold.pairs, 0.0)
    return PadsADay(
        spread(power, cold.pairs, 0.0).range(DAILY_ENERGY),
        float(power[0]) * DAY / float(usable),
        nights.range(STAY, 2),
        tuple((label, float(value[0])) for label, value in each),
    )


def day_sums(cold: Cold, day: PadsADay) -> dict[str, Step]:
    """The sums behind a day of the pads.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    day : PadsADay
        What they take.

    Returns
    -------
    dict of str to Step
        "pads", "battery", "nights".
    """
    cells = cold.plan.battery
    assert cells is not None
    a_day = shown(
        "taken from the battery by the pads a day",
        day.energy.amount,
        "The draw of the counted pads at the mean cold, over the hours parked; on the road the alternator feeds them.",
        parts=[(label, Amount(value, DAILY_ENERGY)) for label, value in day.each],
        facts=[("share of the day parked", Amount(float(hours_parked(cold.batch)[0]), SHARE))],
        source="heat balance at the mean temperature of the day",
    )
    usable = step(
        "usable energy of the battery",
        battery.usable_energy,
        voltage=cells.volts,
        charge=cells.charge,
        usable_share=cells.usable,
    )
    nights = step("nights of the battery on the pads alone", battery.battery_days, usable=usable, daily_net=a_day)
    return {"pads": a_day, "battery": usable, "nights": nights}


def battery_finding(cold: Cold, day: PadsADay | None) -> Finding:
    """The finding on battery and pads.

    Parameters
    ----------
    cold : Cold
        The solved plan, which has a pad.
    day : PadsADay or None
        What they take.

    Returns
    -------
    Finding
        Whether the battery lasts the nights that are wanted.
    """
    key = "frost.nights"
    if day is None:
        if cold.plan.battery is None:
            return Finding(
                key,
                Verdict.NOT_DECIDED,
                say("How many nights the battery feeds the pads is not decided."),
                change=say("Say the battery."),
                address="battery",
            )
        return Finding(
            key,
            Verdict.FINE,
            say("No pad is counted on the battery; they work on the road or at a socket."),
            address=f"pads.{next(iter(cold.plan.pads))}.counted",
            source="the plan's own word",
        )
    wanted = cold.plan.frost.nights
    limit = Amount(wanted * DAY, STAY, 2)
    verdict = judge(day.nights, limit, "at least")
    return Finding(
        key,
        verdict,
        say(
            "Counted pads take {energy} at the mean of {mean}, {share} of the battery: on them alone it lasts "
            "{nights}; planned are {wanted} without a charge.",
            energy=day.energy,
            mean=Amount(float(cold.mean[0]), TEMPERATURE),
            share=Amount(day.share, SHARE, 2),
            nights=day.nights,
            wanted=Count(wanted, "night"),
        ),
        value=day.nights,
        limit=limit,
        change=None
        if verdict is Verdict.FINE
        else say("Foam the cold faces, take a larger battery, or drain the tanks when nobody is in the van."),
        address="battery.charge",
        source="heat balance at the mean temperature of the day; other loads not counted",
        bound="at least",
    )
