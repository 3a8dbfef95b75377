"""Charts of every kind, with invented numbers, for the tests of both pens."""

from __future__ import annotations

import math

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Mark, Rule
from vanwater.answers.core.statement import Range, say
from vanwater.quantities import DAILY_VOLUME, DAY, FLOW, HOURS, PRESSURE, SHARE, STAY, TEMPERATURE, VOLUME

NASTY = '<script>alert(1)</script> $x^2$ [b] %{x} "quoted" & =1+1 \u202e\x1b[31m'

LITRE = 1e-3
PER_MINUTE = LITRE / 60


def levels() -> Chart:
    time = np.linspace(0, 6, 73) * DAY

    def fresh(daily: float) -> np.ndarray:
        return np.clip(90 - daily * time / DAY, 0, None) * LITRE

    def grey(daily: float) -> np.ndarray:
        return np.clip(daily * time / DAY, 0, 55) * LITRE

    return Chart(
        "levels",
        say("Grey is full after {stay}", stay=Range(2.6 * DAY, 3.4 * DAY, 4.3 * DAY, STAY)),
        Axis("Time", STAY),
        Axis("Water in the tank", VOLUME),
        (
            Line("fresh", time, fresh(19), "fresh water", fresh(23), fresh(16)),
            Line("grey", time, grey(16), "grey water", grey(13), grey(20)),
            Rule("grey tank full", y=55 * LITRE),
            Mark("grey", 55 / 16 * DAY, 55 * LITRE, "full"),
        ),
        "Water in both tanks over six days.",
    )


def stores() -> Chart:
    lasting = (("battery", 3.1), ("grey", 3.4), ("fresh", 4.7), ("urine", 5.4))
    return Chart(
        "stores",
        "The battery is empty first",
        Axis("Days out", STAY, 0.0, 6 * DAY),
        Axis("Left", SHARE),
        (
            *(Line(role, np.array([0, days]) * DAY, np.array([1.0, 0.0]), f"{role} store") for role, days in lasting),
            Rule("wanted", x=4 * DAY),
            Rule("refill", x=4.1 * DAY),
        ),
    )


def pump() -> Chart:
    flow = np.linspace(0, 12, 61)
    return Chart(
        "pump",
        "The shower runs where pump and line meet",
        Axis("Flow", FLOW),
        Axis("Pressure", PRESSURE),
        (
            Line("plain", flow * PER_MINUTE, (3.0 - 0.02 * flow**2) * 1e5, "pump at 12.8 V"),
            Line("saved", flow * PER_MINUTE, (2.9 - 0.02 * flow**2) * 1e5, "pump at 12.2 V"),
            Line("cold", flow * PER_MINUTE, (0.2 + 0.01 * flow**2) * 1e5, "line to the shower, cold tap open"),
            Line("hot", flow[:30] * PER_MINUTE, (0.2 + 0.09 * flow[:30] ** 2) * 1e5, "hot line"),
            Rule("cut-in", y=1.4e5),
            Rule("cut-out", y=1.5e5),
        ),
    )


def frost() -> Chart:
    time = np.linspace(0, 14, 85) * 3600
    return Chart(
        "frost",
        "The drain valve freezes first",
        Axis("Time parked", HOURS),
        Axis("Temperature", TEMPERATURE),
        (Line("cold", time, 258.15 + 30 * np.exp(-time / 5000), "drain valve"), Rule("freezes", y=273.15)),
    )


def days() -> Chart:
    bars = Bars(
        ("fresh", "grey", "battery", "heat"),
        ("fresh tank", "grey tank", "battery", "gas"),
        np.array([4.7, 3.4, math.inf, math.nan]) * DAY,
        low=np.array([3.9, 2.6, 6.0, math.nan]) * DAY,
        high=np.array([5.5, 4.3, math.inf, math.nan]) * DAY,
    )
    return Chart("days", "Grey ends the stay", Axis("Days", STAY), Axis("Store"), (bars, Rule("wanted", x=4 * DAY)))


def tornado() -> Chart:
    low, high = (np.array(end) * PER_MINUTE for end in ([5.0, 5.4, 5.75], [6.6, 6.2, 5.85]))
    bars = Bars("fresh", ("handset", "pump at its real volts", "bore"), high, start=low)
    planned = Rule("as planned", x=5.8 * PER_MINUTE)
    return Chart("tornado", "The handset counts most", Axis("Flow", FLOW, zero=False), Axis("Input"), (bars, planned))


def uses() -> Chart:
    names, total = ("careful", "moderate"), np.zeros(2)
    bars = []
    for role, label, litres in (("fresh", "shower", [4, 9]), ("cold", "dishes", [3, 4.5]), ("heat", "cooking", [4, 5])):
        end = total + np.array(litres) * LITRE / DAY
        bars.append(Bars(role, names, end, start=total, label=label))
        total = end
    return Chart("uses", "Showers take half", Axis("Water a day", DAILY_VOLUME), Axis("Household"), tuple(bars))


def two_plans() -> Chart:
    names = ("fresh", "grey")
    this = Bars("plain", names, np.array([4.7, 3.4]) * DAY, label="this plan")
    saved = Bars("saved", names, np.array([4.6, 3.3]) * DAY, label="saved plan")
    return Chart("two", "A little longer", Axis("Days", STAY), Axis("Store"), (this, saved))


def named_badly() -> Chart:
    """Every text that may come from a plan is hostile."""
    return Chart(
        "nasty",
        say("{name} is full", name=NASTY),
        Axis("Time", STAY),
        Axis("Water", VOLUME),
        (
            Line("fresh", np.array([0.0, DAY]), np.array([0.0, 0.05]), NASTY),
            Mark("grey", DAY / 2, 0.02, NASTY),
            Rule(NASTY, y=0.04),
            Rule(NASTY, x=DAY / 3),
        ),
        say("{name}", name=NASTY),
    )


def bars_named_badly() -> Chart:
    bars = Bars("fresh", (NASTY, "=1+1"), np.array([1.0, 2.0]) * DAY, label=NASTY)
    return Chart("nasty-bars", NASTY, Axis("Days", STAY), Axis("Store"), (bars,), NASTY)


ALL = (levels, stores, pump, frost, days, tornado, uses, two_plans, named_badly, bars_named_badly)
