"""What is to be said of tanks that nothing heats and of exposed runs."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.frost.cold import FREEZING, Cold, lasting
from vanwater.answers.frost.cold_rows import ADDED, INSIDE, MORE_FOAM, SLEEVE, SLEEVED
from vanwater.answers.frost.pieces import TankFrost
from vanwater.answers.frost.runs import RunFrost
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import HOURS, POWER, TEMPERATURE, THICKNESS

__all__ = ["BALANCE", "NIGHT", "run_finding", "tank_finding"]

NIGHT = 12 * 3600.0
"""The coldest hours of a winter night, s (common practice)."""

BALANCE = "heat balance; films by VDI Heat Atlas (2010), section G4, and Churchill and Chu (1975)"


def tank_finding(cold: Cold, one: TankFrost) -> Finding:
    """The finding on a tank that nothing heats.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    one : TankFrost
        A tank without a pad.

    Returns
    -------
    Finding
        Fine where it never freezes, or where even its last tenth outlasts a night and the mean of the day is no frost.
    """
    key, address = f"frost.{one.tank}.hours", f"tanks.{one.tank}"
    if one.rest >= FREEZING_POINT:
        return Finding(
            key,
            Verdict.FINE,
            say(
                "Without heat the {tank} comes to rest at {rest}: the room beside it keeps it from freezing.",
                tank=one.label,
                rest=Amount(one.rest, TEMPERATURE, 2),
            ),
            address=address,
            source=BALANCE,
        )
    lasts = bool(cold.mean[0] >= FREEZING_POINT and one.hours["tenth"].low >= NIGHT)
    gain = float(one.rows["tenth"][cold.batch.place(MORE_FOAM)] - one.rows["tenth"][0])
    return Finding(
        key,
        Verdict.FINE if lasts else Verdict.WATCH,
        say(
            "Nothing heats the {tank}: in {cold} it is at {freezing} after {full} when full, after {tenth} at its last "
            "tenth.",
            freezing=FREEZING,
            tank=one.label,
            cold=Amount(float(cold.outside[0]), TEMPERATURE),
            full=one.hours["full"].amount,
            tenth=one.hours["tenth"],
        ),
        value=one.hours["tenth"],
        limit=Amount(NIGHT, HOURS, 2),
        change=None
        if lasts
        else say(
            "Drain it before frost, or lead {heat} into its water; {foam} more foam on its cold faces",
            foam=Amount(ADDED, THICKNESS, 2),
            heat=Amount(max(one.parked.likely, one.driving.likely), POWER, 2),
        ),
        gain=None if lasts else say("its last tenth lasts {hours} longer", hours=lasting(gain)),
        address=address,
        source=BALANCE,
        bound="at least",
    )


def run_finding(cold: Cold, one: RunFrost) -> Finding:
    """The finding on the run that freezes first.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    one : RunFrost
        The run.

    Returns
    -------
    Finding
        Watch while it does not outlast a night.
    """
    key, address = f"frost.{one.run}.freezes", f"runs.{one.run}.beside"
    if not np.isfinite(one.hours.likely):
        return Finding(
            key,
            Verdict.FINE,
            say("No exposed run freezes: the boxes stay above {freezing}.", freezing=FREEZING),
            address="frost.box",
            source=BALANCE,
        )
    limit = Amount(NIGHT, HOURS, 2)
    verdict = Verdict.FINE if one.hours.low >= NIGHT else Verdict.WATCH
    within = " within the hour" if one.hours.likely < 3600.0 else ""
    sleeved = float(one.rows[cold.batch.place(SLEEVED)])
    inside = float(one.rows[cold.batch.place(INSIDE)])
    change, gain = say("Drain it before frost, or lay it in the heated room"), say("it never freezes there")
    if np.isfinite(inside):
        gain = say("{hours} there", hours=lasting(inside))
    if sleeved > one.hours.likely:
        gain = say(
            "{there}; a sleeve of {foam} alone makes it {hours}",
            there=gain,
            foam=Amount(SLEEVE, THICKNESS, 2),
            hours=lasting(sleeved),
        )
    return Finding(
        key,
        verdict,
        say(
            f"The run {{run}} freezes first{within}: its still water is at {{freezing}} after {{hours}}.",
            run=one.run,
            freezing=FREEZING,
            hours=one.hours,
        ),
        value=one.hours,
        limit=limit,
        change=None if verdict is Verdict.FINE else change,
        gain=None if verdict is Verdict.FINE else gain,
        address=address,
        source="Churchill and Bernstein (1977), Churchill and Chu (1975); heat of water and wall",
        bound="at least",
    )
