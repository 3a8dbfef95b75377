"""Heat for the hot water of a day: what a heater gives, by its own source and a second one, and what it loses."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from vanwater.physics import demand, electric, water
from vanwater.physics.heater import heating_energy
from vanwater.plan.day import FULL_DAY, STATES
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.hot_water_day import hot_water_day
from vanwater.system.hot_water_demand import heater_of
from vanwater.system.hours import OCCUPIED
from vanwater.system.stores import Moved
from vanwater.system.water_temperature import inlet

__all__ = ["HEATED_IN", "also_heats", "heats", "lost_heat"]

HEATED_IN = {"engine": ("driving",), "shore": ("shore",)}
"""States in which a heater's source works, of those that do not work wherever somebody is."""


def heats(batch: Batch, moves: Mapping[str, Moved], heater: str) -> Array:
    """Heat for the hot water that a heater gives a day, what is left in the hot pipe counted.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    moves : mapping of str to Moved
        What each use moves.
    heater : str
        The heater.

    Returns
    -------
    array, shape (rows,)
        Mean over the day; what really comes of one that is heated by the sun alone, as its one charge gives it [W].
    """
    sunny = batch.plan.heaters[heater]
    followed = hot_water_day(batch, heater) if sunny.by_the_sun and sunny.also is None else None
    if followed is not None:
        return np.asarray(followed.drawn / FULL_DAY)
    set_point = batch.number(f"heaters.{heater}.set_point")
    cold = inlet(batch, heater)
    total = np.zeros(len(batch))
    for use, move in moves.items():
        if heater_of(batch.plan, use) != heater:
            continue
        warm = np.isfinite(move.temperature) & (move.temperature > cold)
        mixed = np.where(warm, np.minimum(np.nan_to_num(move.temperature), set_point), cold)
        hot = demand.hot_volume(move.each, mixed, set_point, cold) + (move.hot_content + move.brought) * move.waiting
        total = total + hot * move.events * move.persons
    return np.asarray(
        total * water.density(set_point) * water.heat_capacity(0.5 * (set_point + cold)) * (set_point - cold)
    )


def also_heats(batch: Batch, hours: Array, name: str, heat: Array) -> Array:
    """Heat that a second source gives a day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    hours : array, shape (states, rows)
        Time in each state [s].
    name : str
        The heater.
    heat : array, shape (rows,)
        All the heat that it gives a day [W].

    Returns
    -------
    array, shape (rows,)
        One charge, and what is drawn while it works, as its power allows; nothing without one [W].
    """
    plan, at = batch.plan.heaters[name], f"heaters.{name}"
    if plan.also is None:
        return np.zeros_like(heat)
    places = np.isin(STATES, HEATED_IN.get(plan.also, OCCUPIED))
    there = np.isin(STATES, OCCUPIED)
    works, meanwhile, drawn = (hours[which].sum(axis=0) for which in (places, places & there, there))
    set_point, cold = batch.number(f"{at}.set_point"), inlet(batch, name)
    charge = heating_energy(batch.number(f"{at}.volume"), cold, set_point) / FULL_DAY
    share = np.divide(meanwhile, drawn, out=np.zeros_like(drawn), where=drawn > 0.0)
    power = batch.number(f"{at}.also_power")
    most = np.where(np.isnan(power), np.where(works > 0.0, np.inf, 0.0), np.nan_to_num(power) * works / FULL_DAY)
    return np.asarray(np.minimum(np.minimum(heat, most), np.where(works > 0.0, charge, 0.0) + share * heat))


def lost_heat(batch: Batch, name: str) -> Array:
    """Heat that a heater loses a day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The heater.

    Returns
    -------
    array, shape (rows,)
        In its hours, and between them where it is left hot or heated by the sun [W].
    """
    at, heater = f"heaters.{name}", batch.plan.heaters[name]
    followed = hot_water_day(batch, name) if heater.left_hot or heater.by_the_sun else None
    if followed is not None:
        return np.asarray(followed.lost / FULL_DAY)
    return electric.daily_energy(batch.number(f"{at}.standby"), batch.number(f"{at}.hours_on"))
