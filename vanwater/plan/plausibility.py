"""Values that are each believable, but not together: what no van can be built from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.water import vapour_pressure
from vanwater.plan.energy import Heater
from vanwater.plan.household import Site, Van
from vanwater.plan.measured import measured_twice
from vanwater.plan.part import Part, above
from vanwater.plan.problems import Problem, joined
from vanwater.plan.pump import Pump
from vanwater.plan.supply import Accumulator
from vanwater.quantities import PRESSURE, TEMPERATURE, VOLTAGE

if TYPE_CHECKING:
    from vanwater.plan.model import Plan

__all__ = ["contradictions", "done_without"]

SAME_VOLTS = 0.15
"""Share by which an element's volts may differ from those of its supply."""


def contradictions(plan: Plan) -> list[Problem]:
    """What does not fit together between the parts of a plan, each right by itself.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    list of Problem
        Without their places in a file; empty when it all fits.
    """
    return [
        *_precharge(plan.pumps, plan.accumulators),
        *_set_points(plan.site, plan.heaters),
        *_elements(plan),
        *measured_twice(plan.measured),
    ]


_TABLES = {"pump": "pumps", "outlets": "outlets"}


def done_without(van: Van, planned: Mapping[str, Part | Mapping[str, Part] | None]) -> Iterator[Problem]:
    """What the van is said to be built without, and yet is planned.

    Parameters
    ----------
    van : Van
        The title block.
    planned : mapping of str to Part, mapping of str to Part, or None
        What is in the plan all the same: a part that stands once, or parts by name.

    Yields
    ------
    Problem
        Without its place in a file.
    """
    for what in van.without:
        parts = planned[what]
        if parts:
            named = what if what.endswith("s") else f"a {what}"
            table = joined((_TABLES[what], next(iter(parts)))) if isinstance(parts, Mapping) else what
            yield Problem(
                "van.without",
                f"The van is said to be built without {named}, but [{table}] is planned.",
                "one of the two",
            )


def _precharge(pumps: Mapping[str, Pump], vessels: Mapping[str, Accumulator]) -> Iterator[Problem]:
    highest = [pump.cut_out for pump in pumps.values() if pump.cut_out is not None]
    for name, vessel in vessels.items():
        if vessel.precharge is not None and highest and not above(max(highest), vessel.precharge):
            yield Problem(
                joined(("accumulators", name, "precharge")),
                f"The pre-charge, {PRESSURE.said(vessel.precharge)}, is not below the pump's cut-out at "
                f"{PRESSURE.said(max(highest))}: no water would ever enter.",
                "a little below cut-in",
            )


def _set_points(site: Site, heaters: Mapping[str, Heater]) -> Iterator[Problem]:
    air = float(air_pressure(site.altitude))
    for name, heater in heaters.items():
        place = joined(("heaters", name, "set_point"))
        told = TEMPERATURE.said(heater.set_point)
        if float(vapour_pressure(heater.set_point)) >= air:
            yield Problem(
                place,
                f"Water boils below the set point of {told} at that altitude.",
                f"a set point well below boiling, such as {TEMPERATURE.told('60 °C')}",
            )
        if not above(heater.set_point, site.cold_water):
            yield Problem(
                place,
                f"The set point of {told} is not above the fresh water at {TEMPERATURE.said(site.cold_water)}.",
                "a set point above site.cold_water",
            )


def _elements(plan: Plan) -> Iterator[Problem]:
    inverter, battery, converter = plan.inverter, plan.battery, plan.converter
    supplies = {
        "inverter": [inverter.volts] if inverter is not None and inverter.volts is not None else [],
        "battery": [battery.bank_volts, *([converter.volts] if converter is not None else [])] if battery else [],
    }
    for name, heater in plan.heaters.items():
        volts, known = heater.volts, supplies.get(heater.source, [])
        if volts is None or not known or not all(above(abs(volts - own), SAME_VOLTS * own) for own in known):
            continue
        gives = " or ".join(VOLTAGE.text(own) for own in known)
        yield Problem(
            joined(("heaters", name, "volts")),
            f"The element is made for {VOLTAGE.text(volts)}, but its {heater.source} gives {gives}.",
            f"an element for {gives}, or another source",
        )
