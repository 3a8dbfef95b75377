"""Values that are each believable, but not together: what no van can be built from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.water import vapour_pressure
from vanwater.plan.problems import Problem, joined
from vanwater.quantities import PRESSURE, TEMPERATURE, VOLTAGE

if TYPE_CHECKING:
    from vanwater.plan.model import Plan

__all__ = ["contradictions"]

SAME_VOLTS = 0.15
"""Share by which an element's volts may differ from those of its supply."""


def contradictions(plan: Plan) -> list[Problem]:
    """What does not fit together between the parts of a plan.

    Parameters
    ----------
    plan : Plan
        A plan whose parts are right each by itself.

    Returns
    -------
    list of Problem
        Without their places in a file; empty when it all fits.
    """
    return [*_precharge(plan), *_set_points(plan), *_elements(plan)]


def _precharge(plan: Plan) -> Iterator[Problem]:
    highest = [pump.cut_out for pump in plan.pumps.values() if pump.cut_out is not None]
    for name, vessel in plan.accumulators.items():
        if vessel.precharge is not None and highest and vessel.precharge >= max(highest):
            yield Problem(
                joined(("accumulators", name, "precharge")),
                f"The pre-charge, {PRESSURE.text(vessel.precharge)}, is not below the pump's cut-out at "
                f"{PRESSURE.text(max(highest))}: no water would ever enter.",
                "a little below cut-in",
            )


def _set_points(plan: Plan) -> Iterator[Problem]:
    air = float(air_pressure(plan.site.altitude))
    for name, heater in plan.heaters.items():
        place = joined(("heaters", name, "set_point"))
        told = TEMPERATURE.text(heater.set_point)
        if float(vapour_pressure(heater.set_point)) >= air:
            yield Problem(
                place,
                f"Water boils below the set point of {told} at that altitude.",
                "a set point well below boiling, such as 60 °C",
            )
        if heater.set_point <= plan.site.cold_water:
            yield Problem(
                place,
                f"The set point of {told} is not above the fresh water at {TEMPERATURE.text(plan.site.cold_water)}.",
                "a set point above site.cold_water",
            )


def _elements(plan: Plan) -> Iterator[Problem]:
    for name, heater in plan.heaters.items():
        supply = {
            "inverter": plan.inverter.volts if plan.inverter is not None else None,
            "battery": plan.battery.volts if plan.battery is not None else None,
        }.get(heater.source)
        if heater.volts is None or supply is None or abs(heater.volts - supply) <= SAME_VOLTS * supply:
            continue
        yield Problem(
            joined(("heaters", name, "volts")),
            f"The element is made for {VOLTAGE.text(heater.volts)}, but its {heater.source} gives "
            f"{VOLTAGE.text(supply)}.",
            f"an element for {VOLTAGE.text(supply)}, or another source",
        )
