"""The heater and the uses of warm water as arrays along the rows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics.heater_tank import STIRRING
from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.converter import converter_share
from vanwater.system.power import bank_of, cable_share
from vanwater.system.stores import moved, outlet_of
from vanwater.system.water_temperature import inlet
from vanwater.system.ways import way_to

__all__ = [
    "HeaterNumbers",
    "HotWaterUse",
    "heater_numbers",
    "heater_of",
    "hot_water_a_day",
    "hot_water_uses",
    "main_hot_water_use",
]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class HeaterNumbers:
    """A heater along the rows.

    Parameters
    ----------
    volume, power : array, shape (rows,)
        Water it holds [m³], power of its element [W]; NaN where it is not decided.
    cold, hot : array, shape (rows,)
        Temperature of the water that enters, and that it heats to [K].
    volts : array, shape (rows,)
        Volts of the battery behind it [V]; NaN without one.
    inverter, cable : array, shape (rows,)
        Shares of the battery's power that inverter, or converter, and cable let through [-]; 1 where there is none.
    mixing : array, shape (rows,)
        Share of its content that entering cold water stirs [-].
    conductance, room : array, shape (rows,)
        Heat it loses for each degree above the room [W/K], and the room's temperature [K].
    """

    volume: Array
    power: Array
    cold: Array
    hot: Array
    volts: Array
    inverter: Array
    cable: Array
    mixing: Array
    conductance: Array
    room: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HotWaterUse:
    """A use of warm water along the rows.

    Parameters
    ----------
    name : str
        The use.
    volume : array, shape (rows,)
        Mixed water each time [m³].
    mixed : array, shape (rows,)
        Its temperature, at most that of the heater [K].
    run_off : array, shape (rows,)
        Hot water left in the pipe each time, also where its cooled water does not run off [m³].
    duration : array, shape (rows,)
        Time the tap is open [s]; NaN where only litres are said.
    a_day : array, shape (rows,)
        How often all together do it [1/s].
    """

    name: str
    volume: Array
    mixed: Array
    run_off: Array
    duration: Array
    a_day: Array


def heater_of(plan: Plan, use: str) -> str:
    """The heater that serves a use: that on the way to its outlet, the first of the plan where that is not decided."""
    outlet = outlet_of(plan, use)
    return (way_to(plan, outlet).heater if outlet in plan.outlets else "") or next(iter(plan.heaters), "")


def heater_numbers(batch: Batch, heater: str) -> HeaterNumbers:
    """Put numbers to a heater along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater.

    Returns
    -------
    HeaterNumbers
        Along the rows.
    """
    plan = batch.plan
    lossless = np.ones(len(batch))
    at = f"heaters.{heater}"
    source = plan.heaters[heater].source
    electric = source in ("inverter", "battery")
    hot, room = batch.number(f"{at}.set_point"), batch.number("frost.room")
    warmer = hot - room
    loses = np.where(warmer > 0.0, batch.number(f"{at}.standby") / np.where(warmer > 0.0, warmer, 1.0), 0.0)
    power, bank = batch.number(f"{at}.power"), bank_of(batch)
    behind = source == "inverter"
    known = electric and (plan.inverter is not None or not behind)
    efficiency = batch.number("inverter.efficiency") if known and behind else converter_share(batch, heater)
    return HeaterNumbers(
        volume=batch.number(f"{at}.volume"),
        power=power,
        cold=inlet(batch, heater),
        hot=hot,
        volts=bank.volts if bank is not None and electric else np.full(len(batch), np.nan),
        inverter=efficiency,
        cable=cable_share(batch, "inverter" if behind else heater, power / efficiency if behind else power)
        if known
        else lossless,
        mixing=STIRRING * batch.factor("stirring"),
        conductance=loses,
        room=room,
    )


def hot_water_uses(batch: Batch, heater: str) -> tuple[HotWaterUse, ...]:
    """The uses that want warm water, in the order of the plan.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater that serves them.

    Returns
    -------
    tuple of HotWaterUse
        Those that happen at all.
    """
    hot, cold = batch.number(f"heaters.{heater}.set_point"), inlet(batch, heater)
    uses = []
    for name, move in moved(batch).items():
        mixed = np.minimum(move.temperature, hot)
        if heater_of(batch.plan, name) != heater or not mixed[0] > cold[0] or move.events[0] <= 0:
            continue
        uses.append(
            HotWaterUse(
                name=name,
                volume=move.each,
                mixed=mixed,
                run_off=(move.hot_content + move.brought) * move.waiting,
                duration=batch.number(f"uses.{name}.duration"),
                a_day=move.events * move.persons,
            )
        )
    return tuple(uses)


def main_hot_water_use(plan: Plan, uses: tuple[HotWaterUse, ...]) -> HotWaterUse | None:
    """The use that people mean by a shower: of that name, else the one that takes most water, else none."""
    named = [use for use in uses if "shower" in use.name or "shower" in (plan.uses[use.name].outlet or "")]
    return max(named or uses, key=lambda use: float(use.volume[0]), default=None)


def hot_water_a_day(batch: Batch, heater: str) -> Array:
    """Water that all uses draw from a heater in a day, its share in their mixed water and what runs off before it.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    heater : str
        The heater that serves them.

    Returns
    -------
    array, shape (rows,)
        Mean flow [m³/s].
    """
    numbers = heater_numbers(batch, heater)
    total = np.zeros(len(batch))
    for use in hot_water_uses(batch, heater):
        share = (use.mixed - numbers.cold) / (numbers.hot - numbers.cold)
        total = total + use.a_day * (use.volume * share + use.run_off)
    return total
