"""What in a plan raises a caution."""

from __future__ import annotations

from collections.abc import Callable

from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.model import Plan
from vanwater.plan.tables import pipes
from vanwater.system.thermostat import MILD

__all__ = [
    "NOT_FOR_DRINKING",
    "doubtful_hose",
    "filtered",
    "freezing",
    "heated_by",
    "holding",
    "scalding",
    "under_floor",
]

NOT_FOR_DRINKING = ("reinforced pvc", "polyamide")
"""Materials of hoses and tubes that are mostly sold for something else than drinking water."""


def heated_by(*sources: str) -> Callable[[Plan], bool]:
    """What looks for a heater of one of some sources, its second one counted."""
    return lambda plan: any({heater.source, heater.also} & set(sources) for heater in plan.heaters.values())


def holding(*contents: str) -> Callable[[Plan], bool]:
    """What looks for a tank that holds one of some contents."""
    return lambda plan: any(tank.holds in contents for tank in plan.tanks.values())


def scalding(plan: Plan) -> bool:
    """Whether a heater makes water hotter than a shower may be."""
    return any(heater.set_point > MILD for heater in plan.heaters.values())


def freezing(plan: Plan) -> bool:
    """Whether the plan must stand frost."""
    return plan.frost.design_cold is not None and plan.frost.design_cold < FREEZING_POINT


def filtered(plan: Plan) -> bool:
    """Whether a run has a filter."""
    return any(run.fitted("filter") for run in plan.runs.values())


def doubtful_hose(plan: Plan) -> bool:
    """Whether a run that fresh water passes is of a material mostly not made for drinking water."""
    rows, waste = pipes(), {name for name, tank in plan.tanks.items() if tank.holds != "fresh"}
    fresh = (run for run in plan.runs.values() if not waste & {run.start, run.end})
    sizes = (rows[run.size] for run in fresh if run.size is not None and run.size in rows)
    return any(row.material in NOT_FOR_DRINKING for row in sizes)


def under_floor(plan: Plan) -> bool:
    """Whether a tank or a run lies outside, under the floor."""
    tanks = any((tank.z or 0.0) < 0.0 or tank.beside == "outside" for tank in plan.tanks.values())
    return tanks or any(run.beside == "outside" for run in plan.runs.values())
