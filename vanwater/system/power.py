"""The battery as a bank, the way to what hangs on it, and what a pump takes for the water, as arrays along the rows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.physics import cable
from vanwater.physics.battery import capacity_in_cold
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.chemistry import chemistries
from vanwater.plan.day import FULL_DAY
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.charging import bank_temperature, nominal_volts
from vanwater.system.converter import behind_converter, converter_share
from vanwater.system.hours import hours_of
from vanwater.system.stores import moved, outlet_of
from vanwater.system.ways import way_to

__all__ = [
    "PUMP_ENERGY",
    "Bank",
    "bank_of",
    "cable_copper",
    "cable_ohms",
    "cable_share",
    "cable_to",
    "electric_path",
    "inverter_idle",
    "lives_on_battery",
    "pump_energy",
    "volts_before",
]

PUMP_ENERGY = 0.2 * 3600.0 / 1e-3
"""Energy a pump takes for a volume while its current is not decided, J/m³: 0.2 Wh/L (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class Bank:
    """The battery along the rows, all of it together.

    Parameters
    ----------
    volts, charge : array, shape (rows,)
        Nominal volts [V] and capacity [C].
    usable : array, shape (rows,)
        Share of it that may be used when it is warm [-].
    cold : array, shape (rows,)
        Share of that which is left at the temperature where it stands; 1 where its cells are not said [-].
    temperature : array, shape (rows,)
        Temperature there while the van is parked; in the longest of its states, where it never is [K].
    """

    volts: Array
    charge: Array
    usable: Array
    cold: Array
    temperature: Array


def bank_of(batch: Batch) -> Bank | None:
    """The battery of a plan, or None while none is decided.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    Bank or None
        Batteries in series add their volts, batteries in parallel their capacities.
    """
    battery = batch.plan.battery
    if battery is None:
        return None
    hours, cold = hours_of(batch), np.ones(len(batch))
    most = np.where(hours[0] > 0.0, 0, np.argmax(hours, axis=0))
    temperature = np.take_along_axis(bank_temperature(batch), most[None], axis=0)[0]
    if battery.chemistry is not None:
        cells = chemistries()[battery.chemistry]
        warm = np.maximum(temperature, FREEZING_POINT) if battery.heated is not None else temperature
        cold = capacity_in_cold(warm, cells.at_freezing, cells.at_minus_10, cells.at_minus_20)
    return Bank(
        volts=nominal_volts(batch),
        charge=batch.number("battery.charge") * batch.number("battery.parallel"),
        usable=batch.number("battery.usable"),
        cold=cold,
        temperature=temperature,
    )


SEARCH = 0.2
"""What an inverter that looks for a load takes meanwhile, of its idling (common practice, from memory)."""


def inverter_idle(batch: Batch) -> Array:
    """What the inverter takes without a load, as its mean over the day.

    Parameters
    ----------
    batch : Batch
        The plan with its rows, which has an inverter.

    Returns
    -------
    array, shape (rows,)
        All day where it is always on; in its hours where it is switched by hand; where it looks for a load, in its
        hours and less beside them [W].
    """
    inverter = batch.plan.inverter
    assert inverter is not None
    idle, share = batch.number("inverter.idle"), batch.number("inverter.hours_on") / FULL_DAY
    if inverter.switched == "always":
        return idle
    searching = batch.number("inverter.search")
    searching = np.where(np.isnan(searching), SEARCH * idle, searching)
    return np.asarray(idle * share + (searching * (1.0 - share) if inverter.switched == "search" else 0.0))


CABLE = 0.98
"""Share that a cable lets through which no table tells of (common practice)."""


def cable_share(batch: Batch, to: str, power: Array) -> Array:
    """Share of the battery's power that its cable to a pump, a heater or the inverter lets through.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    to : str
        Name of the pump or heater, or "inverter".
    power : array, shape (rows,)
        What is drawn at its end [W].

    Returns
    -------
    array, shape (rows,)
        Efficiency [-]; as ``[cables]`` tells of it, else as said of the inverter's, else common practice. A half where
        the cable cannot carry so much at all.
    """
    battery = batch.plan.battery
    laid = cable_to(batch.plan, to)
    if battery is not None and laid:
        volts = volts_before(batch, to)
        ohms = cable_ohms(batch, laid)
        drawn = np.minimum(np.where(np.isfinite(power), power, 0.0), cable.most_power(volts, ohms))
        return np.asarray(cable.voltage_at_load(drawn, volts, ohms) / volts)
    if to == "inverter" and batch.plan.inverter is not None:
        return batch.number("inverter.cable")
    return np.full(len(batch), CABLE)


def volts_before(batch: Batch, to: str) -> Array:
    """Volts at the beginning of the cable to a load: the bank's, or those of the converter before it [V]."""
    return batch.number("converter.volts") if behind_converter(batch.plan, to) else nominal_volts(batch)


def cable_to(plan: Plan, to: str) -> str:
    """The cable to a pump, a heater or the inverter, or an empty text while none is told of."""
    return next((name for name, laid in plan.cables.items() if laid.to == to), "")


def cable_copper(batch: Batch, name: str) -> Array:
    """Cross-section of one conductor of a cable [m²]."""
    laid = batch.plan.cables[name]
    return batch.number(f"cables.{name}.section") if laid.section is not None else np.full(len(batch), laid.copper)


def cable_ohms(batch: Batch, name: str) -> Array:
    """Resistance of both conductors of a cable [Ω]."""
    return cable.cable_resistance(batch.number(f"cables.{name}.length"), cable_copper(batch, name))


def electric_path(batch: Batch, to: str, power: Array) -> Array:
    """Share of the battery's power that arrives at an element or an appliance.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    to : str
        "inverter" for what hangs on it, else the name of a heater on the battery's volts.
    power : array, shape (rows,)
        What is drawn there while it runs [W].

    Returns
    -------
    array, shape (rows,)
        Efficiency of cable and inverter, or converter [-]; 1 behind an inverter that is not decided.
    """
    if to != "inverter":
        return cable_share(batch, to, power) * converter_share(batch, to)
    if batch.plan.inverter is None:
        return np.ones(len(batch))
    efficiency = batch.number("inverter.efficiency")
    return cable_share(batch, to, power / efficiency) * efficiency


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
    heated = any({heater.source, heater.also} & {"inverter", "battery"} for heater in plan.heaters.values())
    wanted = bool(plan.inverter or plan.pads) or electric or heated
    return plan.battery is not None or (wanted and "battery" not in plan.van.without)


def pump_energy(batch: Batch) -> Array:
    """Energy that the pumps take for a volume of all the water drawn.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    array, shape (rows,)
        Mean over the day's water of what the pump on its way takes [J/m³]; a use without an outlet has the thirstiest,
        what is pumped by hand takes none.
    """
    plan = batch.plan
    nothing = np.zeros(len(batch))
    each = {
        name: nothing if pump.kind in BY_HAND else _energy_of(batch, name) / converter_share(batch, name)
        for name, pump in plan.pumps.items()
    }
    thirstiest: Array = np.max([nothing, *each.values()], axis=0)
    if len(each) < 2 or not plan.uses:
        return thirstiest
    total, spent = nothing, nothing
    for use, move in moved(batch).items():
        drawn = move.events * move.persons * (move.each + move.starting + move.hot_content * move.waiting)
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
