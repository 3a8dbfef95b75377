"""What one heater gives and takes: recovery, the use it is judged by, energy and current at the battery."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.water_number import inlet_number
from vanwater.answers.core.working import by, planned, stated, step
from vanwater.answers.hot_water.as_it_flows import AsItFlows, as_it_flows
from vanwater.answers.hot_water.battery import at_battery, battery_share, usable_energy
from vanwater.answers.hot_water.charge import Charge, charge_of
from vanwater.answers.hot_water.day import Day, day_of
from vanwater.physics import demand, electric, heater
from vanwater.quantities import DURATION, ENERGY, TEMPERATURE, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import (
    HeaterNumbers,
    HotWaterUse,
    heater_numbers,
    hot_water_uses,
    main_hot_water_use,
)

__all__ = ["HeaterAnswer", "Served", "heater_answer"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Served:
    """The warm use that a heater is judged by, a shower, and what it takes.

    Parameters
    ----------
    name : str
        The use.
    wanted, temperature : Number
        Mixed water each time and its temperature.
    heat : Number
        Heat in that water.
    run_off : Number or None
        Heat left in the hot pipe each time; None where none is.
    energy, share : Number or None
        What both take from the battery, and which share of it; None where the battery feeds no heater.
    """

    name: str
    wanted: Number
    temperature: Number
    heat: Number
    run_off: Number | None
    energy: Number | None
    share: Number | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HeaterAnswer:
    """What one heater gives and takes.

    Parameters
    ----------
    name : str
        The heater.
    on_battery : bool
        Whether it lives on the battery.
    numbers : HeaterNumbers
        It along the rows.
    cold : Number
        Temperature of the water that enters it.
    heat : Number
        Heat of its whole content.
    recovery : Number or None
        Time to heat that; None while its power is not decided, and where it heats as the water flows.
    energy, current : Number or None
        What that takes from the battery, and the current meanwhile.
    served : Served or None
        The use it is judged by; None where none wants warm water.
    charge, day : Charge or None, Day or None
        What one charge gives that use, and what a day does to it; None where it has no store.
    flowing : AsItFlows or None
        What it warms where it heats as the water flows.
    """

    name: str
    on_battery: bool
    numbers: HeaterNumbers
    cold: Number
    heat: Number
    recovery: Number | None
    energy: Number | None
    current: Number | None
    served: Served | None
    charge: Charge | None
    day: Day | None
    flowing: AsItFlows | None


def heater_answer(batch: Batch, name: str, pairs: Sequence[UnsureRows] = ()) -> HeaterAnswer:
    """Work out what one heater gives and takes.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The heater.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Returns
    -------
    HeaterAnswer
        Numbers that the plan does not decide are left out.
    """
    plan, numbers, own = batch.plan, heater_numbers(batch, name), ("heater", name)
    cold = inlet_number(batch, name)
    on_battery = plan.heaters[name].source in ("inverter", "battery")
    heat = _heat(f"heat of the whole {name}", cold, numbers.volume, numbers.hot).keyed(*own, "recovery_heat", digits=2)
    stores = not plan.heaters[name].as_it_flows
    recovery = energy = current = None
    if plan.heaters[name].power is not None and stores:
        heats_in = step(
            f"time to heat the whole {name}",
            heater.recovery_time,
            volume=numbers.volume,
            cold=cold,
            hot=numbers.hot,
            power=numbers.power,
        )
        recovery = _from_cold(batch, name, heats_in).keyed(*own, "recovery", digits=2)
    if plan.heaters[name].power is not None and on_battery and plan.battery is not None:
        current = step(
            "current from the battery while it heats",
            electric.battery_current,
            power=numbers.power,
            voltage=numbers.volts,
            efficiency=numbers.inverter * numbers.cable,
        ).keyed(*own, "current")
    if on_battery and stores:
        energy = at_battery(f"battery energy to heat the whole {name}", heat, numbers).keyed(
            *own, "recovery_energy", digits=2
        )
    use = main_hot_water_use(plan, tuple(use for use in hot_water_uses(batch, name) if use.volume[0] > 0))
    served = _served(batch, name, use, numbers, on_battery) if use is not None else None
    return HeaterAnswer(
        name=name,
        on_battery=on_battery,
        numbers=numbers,
        cold=cold,
        heat=heat,
        recovery=recovery,
        energy=energy,
        current=current,
        served=served,
        charge=charge_of(name, use, numbers, served.wanted, served.temperature, pairs)
        if use is not None and served is not None and stores
        else None,
        day=day_of(batch, name, numbers, pairs, on_battery=on_battery),
        flowing=None if stores else as_it_flows(batch, name),
    )


def _from_cold(batch: Batch, name: str, heats_in: Number) -> Number:
    """Time to heat all of it, with that in which its burner starts."""
    if not batch.plan.heaters[name].starts_in:
        return heats_in
    start = planned(batch.plan, f"heaters.{name}.start_up", DURATION)
    return stated(
        f"time until the whole {name} is hot",
        heats_in.values + batch.number(f"heaters.{name}.start_up"),
        DURATION,
        "The burner starts, then heats.",
        parts=[("its burner starts", start), (heats_in.name, heats_in)],
        source="sum of both",
    )


def _heat(name: str, cold: Number, volume: Array | Number, warm: Array | Number) -> Number:
    return step(name, heater.heating_energy, volume=volume, cold=cold, warm=warm)


def _served(batch: Batch, name: str, use: HotWaterUse, numbers: HeaterNumbers, on_battery: bool) -> Served:
    wanted, own, cold = _wanted(batch, use), ("use", use.name), inlet_number(batch, name)
    temperature = stated(
        f"temperature of one {use.name}",
        use.mixed,
        TEMPERATURE,
        "As the use wants it, at most what the heater keeps.",
        source="the plan",
    ).keyed(*own, "temperature", name)
    heat = _heat(f"heat in the water of one {use.name}", cold, wanted, temperature).keyed(*own, "heat", name, digits=2)
    run_off = energy = share = None
    both = heat
    if np.any(use.run_off > 0):
        run_off = _heat("heat left in the hot pipe each time", cold, use.run_off, numbers.hot).keyed(
            *own, "run_off_heat", name, digits=2
        )
        both = stated(
            f"heat of one {use.name} and of its run-off",
            heat.values + run_off.values,
            ENERGY,
            "What is in its water, and what is left in the hot pipe.",
            parts=((heat.name, heat), (run_off.name, run_off)),
            source="sum of both",
        )
    if on_battery:
        energy = at_battery(f"battery energy of one {use.name}, run-off counted", both, numbers).keyed(
            *own, "battery_energy", name, digits=2
        )
        if (usable := usable_energy(batch)) is not None:
            share = battery_share(f"share of the battery that one {use.name} takes", energy, usable).keyed(
                *own, "battery_share", name, digits=2
            )
    return Served(
        name=use.name,
        wanted=wanted,
        temperature=temperature,
        heat=heat,
        run_off=run_off,
        energy=energy,
        share=share,
    )


def _wanted(batch: Batch, use: HotWaterUse) -> Number:
    """Mixed water each time, as planned or by flow and duration."""
    words, at = f"mixed water of one {use.name}", f"uses.{use.name}"
    if batch.plan.uses[use.name].volume is not None:
        wanted = stated(words, use.volume, VOLUME, "As the plan gives it.", source="the plan")
    else:
        flow, duration = batch.number(f"{at}.flow"), batch.number(f"{at}.duration")
        wanted = by(words, use.volume, VOLUME, demand.event_volume, flow=flow, duration=duration)
    return wanted.keyed("use", use.name, "each", digits=2)
