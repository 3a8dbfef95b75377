"""What small draws do to the pump: a tap that drips at night, a single hand-wash."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.core.working import Step, shown, step
from vanwater.answers.pump_starts.pump import DRIPS, NIGHT, PumpCushion
from vanwater.physics.small_draws import start_chance, starts_meanwhile
from vanwater.physics.switching import volume_between
from vanwater.plan.model import Plan
from vanwater.quantities import DAILY_VOLUME, HOURS, SHARE, VOLUME
from vanwater.system.over_time import HAND_WASH, switched_outlets
from vanwater.system.stores import outlet_of

__all__ = ["hand_wash", "small_draw_findings", "small_draw_numbers"]

DRIP_SOURCE = "conservation of volume; 0.1 to 1 L/h of a dripping tap: common practice"


def hand_wash(plan: Plan, pump: str) -> float | None:
    """Water of a hand-wash behind a pump.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        The pump.

    Returns
    -------
    float or None
        Each time [m³]; None where nobody washes hands there.
    """
    if HAND_WASH not in plan.uses:
        return None
    outlet = outlet_of(plan, HAND_WASH)
    ways = switched_outlets(plan)
    if outlet and (outlet not in ways or ways[outlet].pump != pump):
        return None
    return plan.uses[HAND_WASH].each_time or None


def small_draw_findings(plan: Plan, one: PumpCushion) -> Iterator[Finding]:
    """The findings on a dripping tap and on a hand-wash.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : PumpCushion
        How the pump starts and stops.

    Yields
    ------
    Finding
        None for a pump that never stops.
    """
    if not one.stops:
        return
    low, high = (Amount(drip, DAILY_VOLUME) for drip in (DRIPS[0], DRIPS[-1]))
    beside = say("; by its hoses alone {bare}", bare=one.bare_night) if one.vessel else say("")
    yield Finding(
        f"accumulator.{one.pump}.night",
        Verdict.FINE,
        say(
            "A tap that drips {low} to {high} starts the {pump} {night} times in a night of {hours}{beside}. Switch "
            "the pump off for the night.",
            low=low,
            high=high,
            pump=one.pump,
            night=one.night,
            hours=Amount(NIGHT, HOURS),
            beside=beside,
        ),
        value=one.night,
        source=DRIP_SOURCE,
    )
    litres = hand_wash(plan, one.pump)
    if litres is not None:
        yield _washes(one, litres)


def _washes(one: PumpCushion, litres: float) -> Finding:
    given = _given(one)
    chance = float(start_chance(litres, given))
    wash, gives = Amount(litres, VOLUME, 2), Amount(given, VOLUME, 2)
    by = one.vessel or "line"
    if chance >= 0.95:
        told = say(
            "A hand-wash of {wash} starts the {pump} every time: the {by} gives {gives} between two starts.",
            wash=wash,
            pump=one.pump,
            by=by,
            gives=gives,
        )
    else:
        told = say(
            "A hand-wash of {wash} starts the {pump} in {cases} of 10 cases: the {by} gives {gives} between two "
            "starts.",
            wash=wash,
            pump=one.pump,
            cases=max(round(10 * chance), 1),
            by=by,
            gives=gives,
        )
    return Finding(
        f"accumulator.{one.pump}.hand_wash",
        Verdict.FINE,
        told,
        value=Amount(chance, SHARE, 2),
        source="water left above cut-in taken as anything alike: holds after draws of all sizes",
    )


def _given(one: PumpCushion) -> float:
    if one.drawdown is not None:
        return float(one.drawdown.value.flat[0])
    return float(np.ravel(volume_between(one.switch, one.cushion))[0])


def small_draw_numbers(plan: Plan, one: PumpCushion) -> Mapping[str, Step]:
    """The sums of what small draws do.

    Parameters
    ----------
    plan : Plan
        The plan.
    one : PumpCushion
        How the pump starts and stops.

    Returns
    -------
    mapping of str to Step
        "accumulator.night.PUMP" and "accumulator.hand_wash.PUMP"; none for a pump that never stops.
    """
    if not one.stops:
        return {}
    middling = step(
        "a middling drip", starts_meanwhile, duration=NIGHT, drip=DRIPS[1], switch=one.switch, cushion=one.cushion
    )
    found = {
        f"accumulator.night.{one.pump}": shown(
            f"starts of the {one.pump} in a night by a dripping tap",
            one.night,
            "The night over one time off and one time on, for drips of 0.1, 0.3 and 1 L/h.",
            facts=[(middling.name, middling)],
            source=DRIP_SOURCE,
        )
    }
    litres = hand_wash(plan, one.pump)
    if litres is not None:
        given = one.drawdown
        if given is None:
            given = step("water between two starts", volume_between, switch=one.switch, cushion=one.cushion)
        found[f"accumulator.hand_wash.{one.pump}"] = step(
            f"chance that a hand-wash starts the {one.pump}", start_chance, draw=litres, given=given
        )
    return found
