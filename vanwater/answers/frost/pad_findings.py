"""What is to be said of pads: whether they hold parked and on the road, and what keeps them off an empty tank."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.statement import Amount, Given, Say, say
from vanwater.answers.frost.cold import DRIVING, FILLS, FREEZING, Cold, lasting
from vanwater.answers.frost.cold_rows import ADDED, MORE_FOAM
from vanwater.answers.frost.findings import BALANCE
from vanwater.answers.frost.pads import PadFrost
from vanwater.answers.frost.pieces import TankFrost
from vanwater.physics.cooling import time_until
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.winter import Pad
from vanwater.quantities import POWER, ROAD_SPEED, TEMPERATURE, TEMPERATURE_DIFFERENCE, THICKNESS

__all__ = ["pad_findings", "protection"]


def pad_findings(cold: Cold, one: TankFrost, pad: PadFrost) -> Iterator[Finding]:
    """The findings on the pads of one tank: whether they hold it parked and on the road.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    one : TankFrost
        The tank.
    pad : PadFrost
        Its pads.

    Yields
    ------
    Finding
        Parked, then on the road.
    """
    if not np.isfinite(pad.holds.likely):
        yield Finding(
            f"frost.{one.tank}.pad",
            Verdict.FINE,
            say("The {tank} has no face toward the outside: its pad holds it at any cold.", tank=one.label),
            address=f"pads.{pad.pads[0]}.power",
            source=BALANCE,
        )
        return
    yield _parked(cold, one, pad)
    yield _on_the_road(cold, one, pad)


def _parked(cold: Cold, one: TankFrost, pad: PadFrost) -> Finding:
    limit = Amount(float(cold.outside[0]), TEMPERATURE)
    verdict = judge(pad.holds, limit)
    fails = verdict is Verdict.FAILS
    many = len(pad.pads) > 1
    begun = (
        f"The {'pads do' if many else 'pad does'} not hold the {{tank}} at {{hold}} in {{cold}}: parked "
        f"{'they hold' if many else 'it holds'} down to {{lowest}}."
        if fails
        else f"The {_hold(pad)} the {{tank}} at {{hold}} down to {{lowest}} parked; {{cold}} is the cold it is "
        "planned for."
    )
    return Finding(
        f"frost.{one.tank}.pad",
        verdict,
        say(begun, tank=one.label, hold=Amount(float(cold.hold[0]), TEMPERATURE), lowest=pad.holds, cold=limit),
        value=pad.holds,
        limit=limit,
        change=_stronger(pad, pad.smallest) if fails else _measure(pad) if verdict is Verdict.WATCH else None,
        gain=_foamed(cold, pad) if fails else None,
        address=f"pads.{pad.pads[0]}.power",
        source=BALANCE,
    )


def _hold(pad: PadFrost) -> str:
    return "pad holds" if len(pad.pads) == 1 else "pads hold"


def _stronger(pad: PadFrost, least: float) -> Say:
    what = "a pad of {least} or more" if len(pad.pads) == 1 else "pads of {least} or more in all"
    told = f"Fit {what} instead of {{now}}"
    return say(told, least=Amount(float(np.ceil(least)), POWER), now=Amount(pad.power, POWER))


def _foamed(cold: Cold, pad: PadFrost) -> Say:
    colder = float(pad.rows.holds[0, 0] - pad.rows.holds[0, cold.batch.place(MORE_FOAM)])
    return say(
        "it holds then; {foam} more foam on the cold faces alone brings {colder}",
        foam=Amount(ADDED, THICKNESS, 2),
        colder=Amount(max(colder, 0.0), TEMPERATURE_DIFFERENCE, 2),
    )


def _measure(pad: PadFrost) -> Say:
    return say("Measure first: {what}.", what=pad.hung[0].name)


def _on_the_road(cold: Cold, one: TankFrost, pad: PadFrost) -> Finding:
    limit = Amount(float(cold.outside[0]), TEMPERATURE)
    verdict = judge(pad.holds_driving, limit)
    given: dict[str, Given] = {
        "speed": Amount(cold.plan.frost.road_speed, ROAD_SPEED, 2),
        "tank": one.label,
        "lowest": pad.holds_driving,
    }
    told = say(f"On the road at {{speed}} the {_hold(pad)} the {{tank}} down to {{lowest}}.", **given)
    if verdict is Verdict.FAILS:
        lasts = _lasts(cold, one, pad)
        stays = (
            say("its last tenth is at {freezing} after {time}", freezing=FREEZING, time=lasting(lasts))
            if np.isfinite(lasts)
            else say("it cools, but stays above {freezing}", freezing=FREEZING)
        )
        told = say(
            f"On the road at {{speed}} the {_hold(pad)} the {{tank}} only down to {{lowest}}; in {{cold}} {{stays}}.",
            cold=limit,
            stays=stays,
            **given,
        )
        verdict = Verdict.FAILS if lasts < cold.plan.frost.hours_driving else Verdict.WATCH
    small = pad.duty_driving.likely > 1.0
    return Finding(
        f"frost.{one.tank}.driving",
        verdict,
        told,
        value=pad.holds_driving,
        limit=limit,
        change=None
        if verdict is Verdict.FINE
        else _stronger(pad, max(pad.smallest, pad.smallest_driving))
        if small
        else _measure(pad),
        gain=_foamed(cold, pad) if small else None,
        address=f"pads.{pad.pads[0]}.power",
        source=BALANCE,
    )


def _lasts(cold: Cold, one: TankFrost, pad: PadFrost) -> float:
    """Time on the road in which the last tenth falls from the temperature held to 0 °C with the pad on [s]."""
    tank, tenth = cold.tanks[one.tank], list(FILLS).index("tenth")
    outside, through = tank.rest[DRIVING, 0], tank.through[DRIVING, 0]
    return float(time_until(cold.hold[0], FREEZING_POINT, outside, through, tank.mass[tenth, 0], pad.net))


def protection(name: str, pad: Pad, label: str) -> Finding:
    """The finding on what keeps a pad off an empty tank.

    Parameters
    ----------
    name : str
        The pad.
    pad : Pad
        As planned.
    label : str
        What its tank is called.

    Returns
    -------
    Finding
        Fails where nothing does.
    """
    verdict = {None: Verdict.NOT_DECIDED, "none": Verdict.FAILS}.get(pad.protected_by, Verdict.FINE)
    told = {
        None: "What keeps the {pad} off while the {tank} is empty is not decided.",
        "none": "Nothing keeps the {pad} off while the {tank} is empty: it can scorch the tank and set fire.",
        "level": "A level switch keeps the {pad} off while the {tank} is empty.",
        "temperature": "A temperature cut-out keeps the {pad} from overheating while the {tank} is empty.",
    }[pad.protected_by]
    return Finding(
        f"frost.{name}.protected",
        verdict,
        say(told, pad=name if "pad" in name.lower() else f"pad {name}", tank=label),
        change=None if verdict is Verdict.FINE else say("Fit a level switch or a temperature cut-out."),
        address=f"pads.{name}.protected_by",
        source="common practice",
    )
