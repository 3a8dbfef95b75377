"""Thermostatic mixing valves as arrays along the rows: what holds the temperature, and what their ports take."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["MILD", "mixer_constant", "scalding_outlets", "set_temperature", "thermostatic", "unmixed_outlets"]

MILD = 316.15
"""Warmest that a shower's valve is commonly set to, K: 43 °C (guidance for public buildings, from memory)."""


def thermostatic(plan: Plan, mixer: str) -> bool:
    """Whether a place is a thermostatic mixing valve.

    Parameters
    ----------
    plan : Plan
        The plan.
    mixer : str
        A mixing tap, an outlet that mixes by itself, or an empty text.

    Returns
    -------
    bool
        Whether its temperature is held by a thermostat.
    """
    return mixer in plan.mixers and plan.mixers[mixer].kind == "thermostatic"


def mixer_constant(batch: Batch, mixer: str) -> Array:
    """Constant of a thermostatic valve's wide open port, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    mixer : str
        A mixing tap, or an outlet that mixes by itself.

    Returns
    -------
    array, shape (rows,)
        Flow at a pressure of one [m³/(s·√Pa)]; infinite for a tap set by hand, and where the valve's loss stands
        among the fittings of its runs.
    """
    if not thermostatic(batch.plan, mixer):
        return np.full(len(batch), np.inf)
    return batch.number(f"mixers.{mixer}.kv", np.inf) / np.sqrt(batch.factor("fittings"))


def set_temperature(batch: Batch, mixer: str) -> Array:
    """Temperature that a thermostatic valve is set to, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    mixer : str
        A mixing tap, or an outlet that mixes by itself.

    Returns
    -------
    array, shape (rows,)
        Temperature [K]; NaN where the outlet decides it.
    """
    if not thermostatic(batch.plan, mixer):
        return np.full(len(batch), np.nan)
    return batch.number(f"mixers.{mixer}.set")


def scalding_outlets(plan: Plan, heater: str, safe: float) -> tuple[str, ...]:
    """Outlets that the water of a heater reaches without a thermostatic valve that keeps it mild.

    Parameters
    ----------
    plan : Plan
        The plan.
    heater : str
        The heater.
    safe : float
        Warmest that a valve may be set to [K].

    Returns
    -------
    tuple of str
        Outlets, in the order of the plan.
    """
    reached = _reached(
        plan, heater, lambda piece: thermostatic(plan, piece) and (plan.mixers[piece].set or np.inf) <= safe
    )
    return tuple(outlet for outlet in plan.outlets if outlet in reached)


def unmixed_outlets(plan: Plan, heater: str) -> tuple[str, ...]:
    """Outlets that the water of a heater reaches as hot as it is: on the way no cold water joins it.

    Parameters
    ----------
    plan : Plan
        The plan.
    heater : str
        The heater.

    Returns
    -------
    tuple of str
        Outlets, in the order of the plan.
    """
    hot = _reached(plan, heater, lambda piece: piece in plan.mixers)

    def mixes(piece: str) -> bool:
        return piece in plan.mixers or any(
            run.end == piece and run.start not in hot and not run.run_back for run in plan.runs.values()
        )

    reached = _reached(plan, heater, mixes)
    return tuple(outlet for outlet in plan.outlets if outlet in reached)


def _reached(plan: Plan, heater: str, held: Callable[[str], bool]) -> set[str]:
    """The pieces that the heater's water comes to while taps are open, up to those that hold it back."""
    onward: dict[str, list[str]] = {}
    for run in plan.runs.values():
        if not run.run_back and run.end not in plan.tanks:
            onward.setdefault(run.start, []).append(run.end)
    reached, stack = {heater}, [heater]
    while stack:
        for end in onward.get(stack.pop(), ()):
            if end not in reached and not held(end):
                reached.add(end)
                stack.append(end)
    return reached
