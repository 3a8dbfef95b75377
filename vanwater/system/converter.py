"""A converter between unlike volts: which loads hang behind it, and what it lets through."""

from __future__ import annotations

import math

import numpy as np

from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["UNLIKE", "behind_converter", "converter_share", "load_volts", "unlike"]

UNLIKE = 1.4
"""How many times as many volts a load and its battery differ by that are not made for each other (common practice)."""


def load_volts(plan: Plan, to: str) -> float | None:
    """Volts that a pump, or a heater on the battery, is made for; None where they are not said.

    Parameters
    ----------
    plan : Plan
        The plan.
    to : str
        Its name.

    Returns
    -------
    float or None
        Of a pump those that it gets, else those of its curve [V].
    """
    pump, heater = plan.pumps.get(to), plan.heaters.get(to)
    if pump is not None and pump.kind not in BY_HAND:
        return pump.volts if pump.volts is not None else pump.curve_volts
    return heater.volts if heater is not None and heater.source == "battery" else None


def unlike(plan: Plan, to: str) -> bool:
    """Whether a load is made for other volts than the battery has.

    Parameters
    ----------
    plan : Plan
        The plan.
    to : str
        A pump or a heater.

    Returns
    -------
    bool
        False where either is not said.
    """
    volts = load_volts(plan, to)
    return volts is not None and plan.battery is not None and _apart(volts, plan.battery.bank_volts) > math.log(UNLIKE)


def behind_converter(plan: Plan, to: str) -> bool:
    """Whether a load hangs behind the converter: made for its volts, and not for the battery's.

    Parameters
    ----------
    plan : Plan
        The plan.
    to : str
        A pump or a heater.

    Returns
    -------
    bool
        False without a converter.
    """
    volts = load_volts(plan, to)
    if volts is None or plan.converter is None:
        return False
    return unlike(plan, to) and _apart(volts, plan.converter.volts) <= math.log(UNLIKE)


def _apart(volts: float, others: float) -> float:
    return abs(math.log(volts / others))


def converter_share(batch: Batch, to: str) -> Array:
    """Share of the battery's power that a converter lets through to a load.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    to : str
        A pump or a heater.

    Returns
    -------
    array, shape (rows,)
        1 for what does not hang behind one [-].
    """
    if not behind_converter(batch.plan, to):
        return np.ones(len(batch))
    return batch.number("converter.efficiency")
