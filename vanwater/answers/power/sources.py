"""Heat sources side by side: what the battery gives a day with each of them in the place of the plan's own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Role
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.power.answer import Power
from vanwater.answers.power.balance import balance_of
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.quantities import DAILY_ENERGY

__all__ = ["heat_sources"]

SOURCES = ("inverter", "gas", "diesel", "engine")
"""Sources that a van may heat its water by away from a socket."""


def heat_sources(answer: Power) -> Chart | None:
    """What the battery gives a day with each source of heat.

    Parameters
    ----------
    answer : Power
        The answer on power.

    Returns
    -------
    Chart or None
        None without a heater or while the battery is not decided.
    """
    balance = answer.balance
    if balance is None or not balance.batch.plan.heaters:
        return None
    plan = balance.batch.plan
    name = next(iter(plan.heaters))
    told = dict(_each(plan, name))
    if len(told) < 2:
        return None
    own = plan.heaters[name].source
    roles: tuple[Role, ...] = tuple("battery" if source == own else "plain" for source in told)
    names = tuple(f"{source}, as planned" if source == own else source for source in told)
    return Chart(
        "sources",
        say("What a day takes from the battery, by what heats the {heater}", heater=name),
        Axis("energy a day", DAILY_ENERGY),
        Axis("source of heat"),
        (Bars.of(roles, names, [*told.values()]),),
        say("All loads of the battery a day with each source of heat; fuel and hours on the road stand elsewhere."),
    )


def _each(plan: Plan, heater: str) -> Iterator[tuple[str, Number]]:
    for source in SOURCES:
        if source == "inverter" and plan.inverter is None:
            continue
        at = f"heaters.{heater}"
        values = {} if plan.heaters[heater].source == source else {f"{at}.source": source, f"{at}.volts": None}
        try:
            balance = balance_of(plan.changed(values) if values else plan)
        except PlanError:  # a part of the plan stands on its own source
            continue
        if balance is not None and np.isfinite(balance.loads.likely):
            yield source, replace(balance.loads, key=("heat_source", source, "loads_a_day"))
