"""The small draws that pump starts are told for: a thin stream, a dripping tap, a hand-wash."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import planned, stated
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.over_time import HAND_WASH, switched_outlets
from vanwater.system.stores import outlet_of
from vanwater.system.supply import outlet_numbers

__all__ = ["DRIPS", "NIGHT", "SMALL_DRAW", "TRICKLE", "hand_wash", "steady_draw"]

TRICKLE = 1e-3 / 60
"""The steady draw that starts are told for, m³/s: a thin stream of 1 L/min, the same for every pump, so that two
compare (common practice)."""

SMALL_DRAW = 2e-3 / 60
"""Draw of a hand-wash, m³/s: 2 L/min (common practice)."""

DRIPS = (0.1e-3 / 3600, 0.3e-3 / 3600, 1.0e-3 / 3600)
"""What a dripping tap loses, m³/s: 0.1 to 1 L/h, a drop in two seconds to a thin thread (common practice)."""

NIGHT = 8 * 3600.0
"""A night [s]."""


def steady_draw(batch: Batch, pump: str) -> Number:
    """The steady draw that a pump's starts are told for.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pump : str
        The pump.

    Returns
    -------
    Number
        What the plan says, else a thin stream [m³/s]: the same for every pump, less where an outlet gives less.
    """
    plan = batch.plan
    if plan.pumps[pump].trickle is not None:
        return planned(plan, f"pumps.{pump}.trickle", FLOW)
    behind = [outlet for outlet, way in switched_outlets(plan).items() if way.pump == pump]
    flows = [_at_a_bar(batch, outlet) for outlet in behind]
    return stated(
        "steady draw that starts are told for",
        min([TRICKLE, *flows]),
        FLOW,
        "A thin stream, the same for every pump; what its smallest outlet gives where that is less.",
        facts=[
            (f"{outlet}, compared at one pressure", (flow, FLOW)) for outlet, flow in zip(behind, flows, strict=True)
        ],
        source="common practice",
    ).keyed("pump", pump, "trickle", digits=2)


def _at_a_bar(batch: Batch, outlet: str) -> float:
    """What an outlet gives at one bar, whatever the pump; a regulated one what it holds [m³/s]."""
    numbers = {name: float(values[0]) for name, values in outlet_numbers(batch, outlet).items()}
    return numbers["flow"] * (1.0 if numbers["regulated"] else float(np.sqrt(1e5 / numbers["at"])))


def hand_wash(plan: Plan, pump: str) -> Number | None:
    """Water of a hand-wash behind a pump.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        The pump.

    Returns
    -------
    Number or None
        Volume [m³]; None where nobody washes hands there.
    """
    if HAND_WASH not in plan.uses or not plan.uses[HAND_WASH].each_time:
        return None
    outlet, ways = outlet_of(plan, HAND_WASH), switched_outlets(plan)
    if outlet and (outlet not in ways or ways[outlet].pump != pump):
        return None
    method = "Its volume as planned, else its flow over its duration."
    wash = stated("water of a hand-wash", plan.uses[HAND_WASH].each_time, VOLUME, method, source="the plan")
    return wash.keyed("use", HAND_WASH, "each_time", digits=2)
