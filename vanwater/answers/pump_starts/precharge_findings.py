"""What is to be said of an accumulator's pre-charge."""

from __future__ import annotations

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Given, Say, say
from vanwater.answers.core.working import limit, planned
from vanwater.answers.pump_starts.cycle import PumpCycle
from vanwater.answers.pump_starts.precharge import MARGIN
from vanwater.plan.model import Plan
from vanwater.quantities import ALTITUDE, PRESSURE, PRESSURE_DIFFERENCE, TEMPERATURE

__all__ = ["precharge_finding", "set_to"]

FAR_BELOW = 0.6
"""Share of cut-in below which a pre-charge wastes the vessel, on the hottest and highest day (common practice)."""

ROUNDED = 1e3
"""What a setting loses when a gauge is read to the nearest hundredth of a bar [Pa]."""


def precharge_finding(plan: Plan, cycle: PumpCycle, vessel: str) -> Finding:
    """Whether a pre-charge suits the switch, from where it was set to the hottest and highest day.

    Parameters
    ----------
    plan : Plan
        The plan.
    cycle : PumpCycle
        A pump with accumulators whose pre-charge is decided.
    vessel : str
        One of them.

    Returns
    -------
    Finding
        Fine with the margin below cut-in that is advised too. Its key tells the first one by the pump alone.
    """
    pump, at = plan.pumps[cycle.pump], f"accumulators.{vessel}.precharge"
    assert pump.cut_in is not None and pump.cut_out is not None
    here, _, hottest = cycle.readings[vessel]
    cut_in, highest = planned(plan, f"pumps.{cycle.pump}.cut_in", PRESSURE), hottest.likely
    margin = limit("margin of the pre-charge below cut-in", MARGIN, PRESSURE_DIFFERENCE, "common practice")
    given: dict[str, Given] = {"vessel": vessel, "high": hottest.amount, "limit": cut_in}
    verdict = Verdict.WATCH
    if highest >= pump.cut_out:
        verdict = Verdict.FAILS
        told = say(
            "The {vessel} takes no water on the hottest and highest day: its pre-charge reads {high} then, above "
            "cut-out.",
            vessel=vessel,
            high=hottest.amount,
        )
    elif here.likely > pump.cut_in:
        told = say(
            "The pre-charge of the {vessel} reads {here} where the van stands, above cut-in at {limit}: the water "
            "stutters at each start.",
            vessel=vessel,
            here=here.amount,
            limit=cut_in,
        )
    elif highest > pump.cut_in:
        told = say(
            "On the hottest and highest day the pre-charge of the {vessel} reads {high}, above cut-in at {limit}: the "
            "water stutters then.",
            **given,
        )
    elif highest > pump.cut_in - MARGIN + ROUNDED:
        told = say(
            "On the hottest and highest day the pre-charge of the {vessel} reads {high}, hardly below cut-in at "
            "{limit}; {margin} below it is usual.",
            margin=margin.amount,
            **given,
        )
    elif highest < FAR_BELOW * pump.cut_in:
        told = say(
            "The pre-charge of the {vessel} stays far below cut-in at {limit}: {high} even on the hottest and highest "
            "day, so that much of its volume is idle.",
            **given,
        )
    else:
        verdict = Verdict.FINE
        told = say(
            "The pre-charge of the {vessel} stays below cut-in: at most {high}, and the pump starts at {limit}.",
            **given,
        )
    return Finding(
        f"pump_starts.{cycle.pump}.precharge"
        if vessel == cycle.vessel
        else f"pump_starts.{cycle.pump}.beside.{vessel}",
        verdict,
        told,
        value=hottest.amount,
        limit=cut_in.amount,
        change=None if verdict is Verdict.FINE else set_to(plan, cycle, vessel),
        address=at,
        source="ideal gas law over the plan's range of height and warmth; the margin is common practice",
    )


def set_to(plan: Plan, cycle: PumpCycle, vessel: str) -> Say:
    """What to set a pre-charge to.

    Parameters
    ----------
    plan : Plan
        The plan.
    cycle : PumpCycle
        How the pump before it starts and stops.
    vessel : str
        The accumulator.

    Returns
    -------
    Say
        The setting, and at which height and warmth a gauge reads it.
    """
    setting = cycle.settings.get(vessel, cycle.setting)
    if setting.likely <= 0:
        return say("Set it anew where the van goes: no pre-charge stays below cut-in from its lowest to its highest.")
    own = plan.accumulators[vessel].set_altitude is not None
    return say(
        "Set it to {setting} with the line empty, at {height} and {warmth}.",
        setting=setting.amount,
        height=planned(plan, f"accumulators.{vessel}.set_altitude" if own else "site.altitude", ALTITUDE),
        warmth=planned(plan, f"accumulators.{vessel}.set_at", TEMPERATURE),
    )
