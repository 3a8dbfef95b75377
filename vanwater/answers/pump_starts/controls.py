"""What people turn first where pump starts are asked; an accumulator that the plan lacks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from vanwater.answers.core.question import Fits
from vanwater.answers.core.sizes import example_of, free_name, of_pump, rounded
from vanwater.answers.pump_starts.answer import PumpStarts
from vanwater.plan.checks import PLACES
from vanwater.plan.model import Plan
from vanwater.plan.pump import SWITCHED
from vanwater.quantities import PRESSURE, VOLUME
from vanwater.system.accumulators import accumulators_behind, accumulators_of

__all__ = ["accumulator_for", "controls", "fits"]


def controls(plan: Plan, answer: PumpStarts) -> Iterator[str]:
    """Addresses that people turn first where pump starts is asked."""
    pumps = [cycle.pump for cycle in answer.pumps] or list(plan.pumps)
    switched = [pump for pump in pumps if plan.pumps[pump].kind in SWITCHED]
    vessels = [accumulator_for(plan, pump) for pump in switched]
    for vessel in vessels:
        yield from (f"accumulators.{vessel}.{key}" for key in ("volume", "precharge"))
    for pump in pumps:
        yield from of_pump(plan, pump, ("cut_in", "cut_out", "holds", "strokes"))
        if plan.pumps[pump].curve_volts is not None:
            yield f"pumps.{pump}.volts"
    if pumps:
        yield from ("site.highest", "site.warmest", "site.altitude", "site.coldest")
    yield from (f"accumulators.{vessel}.{key}" for vessel in vessels for key in ("set_at", "set_altitude"))
    for pump in pumps:
        yield from of_pump(plan, pump, ("line_gives",))
    for heater in plan.heaters:
        yield from (f"heaters.{heater}.{key}" for key in ("volume", "set_point", "relief"))
    if plan.heaters:
        yield "site.cold_water"


def fits(plan: Plan, answer: PumpStarts) -> Fits:
    """What a part that is not there yet would be at first, so that one control is enough to fit it."""
    parts: dict[str, Mapping[str, str]] = {}
    for cycle in answer.pumps:
        name = accumulator_for(plan, cycle.pump)
        if name in plan.accumulators:
            continue
        ends = [run.end for run in plan.runs.values() if run.start == cycle.pump and run.end in plan.tees]
        fields = {"at": next(iter(ends), cycle.pump), "volume": example_of(plan, "accumulators.accumulator.volume")}
        if cycle.fitted is not None:
            fields["volume"] = rounded(plan, VOLUME, cycle.fitted.size.likely)
        if cycle.setting.likely > 0:
            fields["precharge"] = rounded(plan, PRESSURE, cycle.setting.likely)
        parts[f"accumulators.{name}"] = fields
    return parts


def accumulator_for(plan: Plan, pump: str) -> str:
    """The accumulator behind a pump, else what one would be called there."""
    there = accumulators_behind(plan, pump)
    return next(iter((*accumulators_of(plan, pump), *there)), free_name(plan, "accumulator", PLACES))
