"""What the water takes from the battery a day: pump, heater, inverter, as arrays along the rows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.stores import moved, outlet_of
from vanwater.system.ways import way_to

__all__ = ["PUMP_ENERGY", "BatteryNumbers", "battery_numbers", "electric_heater", "lives_on_battery"]

PUMP_ENERGY = 0.2 * 3600.0 / 1e-3
"""Energy a pump takes for a volume while its current is not decided, J/m³: 0.2 Wh/L (common practice)."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class BatteryNumbers:
    """The battery's side of the plan along the rows.

    Parameters
    ----------
    volts, charge, usable : array, shape (rows,)
        Nominal volts [V], capacity [C], share that may be used [-].
    other, charging : array, shape (rows,)
        Other loads, and what is put back; 0 where it is not decided [W].
    idle : array, shape (rows,)
        The inverter's idling, its hours spread over the day [W].
    pump_energy : array, shape (rows,)
        Energy the pumps take for a volume of all the water drawn; what is pumped by hand takes none [J/m³].
    path : array, shape (rows,)
        Share of the battery's energy that arrives at the element [-].
    """

    volts: Array
    charge: Array
    usable: Array
    other: Array
    charging: Array
    idle: Array
    pump_energy: Array
    path: Array


def electric_heater(batch: Batch) -> str:
    """The heater that lives on the battery, or an empty text."""
    return next(
        (name for name, heater in batch.plan.heaters.items() if heater.source in ("inverter", "battery")),
        "",
    )


def lives_on_battery(plan: Plan) -> bool:
    """Whether anything of the plan takes its power from a battery, planned or not.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    bool
        True with a battery, an inverter, a pump that is not worked by hand, a pad, or a heater behind one of them;
        False where the van is said to be built without one.
    """
    electric = any(pump.kind not in BY_HAND for pump in plan.pumps.values())
    heated = any(heater.source in ("inverter", "battery") for heater in plan.heaters.values())
    wanted = bool(plan.inverter or plan.pads) or electric or heated
    return plan.battery is not None or (wanted and "battery" not in plan.van.without)


def battery_numbers(batch: Batch) -> BatteryNumbers | None:
    """The battery's side of the plan, or None while no battery is decided.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    BatteryNumbers or None
        Along the rows.
    """
    plan = batch.plan
    if plan.battery is None:
        return None
    zero = np.zeros(len(batch))
    lossless = np.ones(len(batch))
    path, idle = lossless, zero
    if plan.inverter is not None:
        idle = batch.number("inverter.idle") * batch.number("inverter.hours_on") / 86400.0
        cable = batch.number("inverter.cable")
        heater = electric_heater(batch)
        behind = heater and plan.heaters[heater].source == "inverter"
        path = cable * batch.number("inverter.efficiency") if behind else cable
    return BatteryNumbers(
        volts=batch.number("battery.volts"),
        charge=batch.number("battery.charge"),
        usable=batch.number("battery.usable"),
        other=batch.number("battery.other_loads", 0.0) * batch.factor("loads"),
        charging=batch.number("battery.charging") * batch.factor("charging"),
        idle=idle,
        pump_energy=_pump_energy(batch),
        path=path,
    )


def _pump_energy(batch: Batch) -> Array:
    """Mean over the day's water of what the pump on its way takes; a use without an outlet has the thirstiest."""
    plan = batch.plan
    nothing = np.zeros(len(batch))
    each = {name: nothing if pump.kind in BY_HAND else _energy_of(batch, name) for name, pump in plan.pumps.items()}
    thirstiest: Array = np.max([nothing, *each.values()], axis=0)
    if len(each) < 2 or not plan.uses:
        return thirstiest
    total, spent = nothing, nothing
    for use, move in moved(batch).items():
        drawn = move.events * move.persons * (move.each + move.hot_content * move.waiting)
        outlet = outlet_of(plan, use)
        total = total + drawn
        spent = spent + drawn * each.get(way_to(plan, outlet).pump if outlet else "", thirstiest)
    return np.where(total > 0.0, spent / np.where(total > 0.0, total, 1.0), thirstiest)


def _energy_of(batch: Batch, name: str) -> Array:
    """Volts times amps over the flow at the pressure that a pump works at, or common practice."""
    pump, at = batch.plan.pumps[name], f"pumps.{name}"
    usual = np.full(len(batch), PUMP_ENERGY)
    if pump.current is None or pump.curve is None:
        return usual
    volts = batch.number(f"{at}.volts")
    volts = np.where(np.isnan(volts), batch.number(f"{at}.curve_volts"), volts)
    points = np.array(pump.curve)
    flow = np.interp(_working(batch, name, points[:, 1]), points[::-1, 1], points[::-1, 0])
    drawn = volts * batch.number(f"{at}.current")
    return np.where(flow > 0.0, np.divide(drawn, flow, where=flow > 0.0, out=np.zeros_like(flow)), usual)


def _working(batch: Batch, name: str, rises: Array) -> Array:
    """Pressure that an electric pump works at: what it holds, else half way between its switch's or its curve's."""
    at = f"pumps.{name}"
    low, high = batch.number(f"{at}.cut_in", rises[-1]), batch.number(f"{at}.cut_out", rises[0])
    held = batch.number(f"{at}.holds")
    return np.where(np.isnan(held), 0.5 * (low + high), held)
