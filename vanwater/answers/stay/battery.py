"""The battery as a store: what the water takes of it a day, and how long it lasts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import stated, step
from vanwater.answers.stay.stores import StoreDays, drained
from vanwater.physics import battery, demand, water
from vanwater.quantities import DAILY_ENERGY, Array
from vanwater.system.batch import Batch
from vanwater.system.pads import pad_power
from vanwater.system.power import battery_numbers, electric_heater
from vanwater.system.stores import Moved
from vanwater.system.water_temperature import inlet

__all__ = ["battery_store"]


def battery_store(batch: Batch, moves: Mapping[str, Moved], pairs: Sequence[UnsureRows]) -> StoreDays | None:
    """How long the battery lasts, or None while it is not decided.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    moves : mapping of str to Moved
        What each use moves.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Returns
    -------
    StoreDays or None
        Unlimited where charging covers the loads, not known while the plan has no uses.
    """
    numbers = battery_numbers(batch)
    if numbers is None or batch.plan.battery is None or batch.plan.battery.other_loads is None:
        return None
    fresh = (
        np.sum(
            [
                (move.each + (move.hot_content + move.brought) * move.waiting) * move.events * move.persons
                for move in moves.values()
            ],
            axis=0,
        )
        if moves
        else np.full(len(batch), np.nan)
    )
    parts: list[tuple[str, Array]] = [
        ("other loads", numbers.other),
        ("pump", fresh * numbers.pump_energy),
        ("inverter idling", numbers.idle),
        ("charging", -numbers.charging),
    ]
    heater = electric_heater(batch)
    if heater:
        heat = _hot_water(batch, moves, heater) / numbers.path
        standby = (
            batch.number(f"heaters.{heater}.standby") * batch.number(f"heaters.{heater}.hours_on") / 86400.0
        ) / numbers.path
        parts[1:1] = [("hot water", heat), ("heater's standing loss", standby)]
    pads = pad_power(batch)
    if np.any(pads > 0):
        parts.insert(1, ("heating pads on a cold day", pads))
    net = np.sum([value for _, value in parts], axis=0)
    a_day = stated(
        "taken from the battery a day, net",
        net,
        DAILY_ENERGY,
        "Loads less what is put back; the heater's part is divided by the share that inverter and cable let through.",
        parts=[(label, (value, DAILY_ENERGY)) for label, value in parts],
        source="sum of the loads",
    ).keyed("battery", "a_day", pairs=pairs)
    usable = step(
        "usable energy of the battery",
        battery.usable_energy,
        voltage=numbers.volts,
        charge=numbers.charge,
        usable_share=numbers.usable,
    ).keyed("battery", "usable", pairs=pairs)
    days = step("days of the battery", battery.battery_days, usable=usable, daily_net=a_day)
    days = days.keyed("battery", "days", pairs=pairs, rates=drained(usable, a_day))
    return StoreDays("battery", "battery", (), usable, a_day, days, _uncharged(usable, net, numbers.charging, pairs))


def _uncharged(usable: Number, net: Array, charging: Array, pairs: Sequence[UnsureRows]) -> Number | None:
    """How long the battery lasts while nothing is put back; None where nothing ever is."""
    if not np.any(charging > 0.0):
        return None
    loads = stated(
        "taken from the battery a day, nothing put back",
        net + charging,
        DAILY_ENERGY,
        "All loads of the water and the rest, without sun or driving.",
        parts=[("net", (net, DAILY_ENERGY)), ("charging", (charging, DAILY_ENERGY))],
        source="sum of the loads",
    ).keyed("battery", "loads_a_day", pairs=pairs)
    days = step("days of the battery without any charge", battery.battery_days, usable=usable, daily_net=loads)
    return days.keyed("battery", "days_without_charge", pairs=pairs, rates=drained(usable, loads))


def _hot_water(batch: Batch, moves: Mapping[str, Moved], heater: str) -> Array:
    """Heat for the hot water a day, run-off included [W]."""
    set_point = batch.number(f"heaters.{heater}.set_point")
    cold = inlet(batch, heater)
    total = np.zeros(len(batch))
    for move in moves.values():
        warm = np.isfinite(move.temperature) & (move.temperature > cold)
        mixed = np.where(warm, np.minimum(np.nan_to_num(move.temperature), set_point), cold)
        hot = demand.hot_volume(move.each, mixed, set_point, cold) + (move.hot_content + move.brought) * move.waiting
        total = total + hot * move.events * move.persons
    return total * water.density(set_point) * water.heat_capacity(0.5 * (set_point + cold)) * (set_point - cold)
