"""What one heater gives and takes: recovery, one charge, showers in a row, energy and current at the battery."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.water_number import inlet_number
from vanwater.answers.core.working import by, limit, stated, step
from vanwater.physics import battery, demand, electric, heater, instant
from vanwater.quantities import DURATION, ENERGY, SHARE, TEMPERATURE, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import (
    HeaterNumbers,
    HotWaterUse,
    heater_numbers,
    hot_water_uses,
    main_hot_water_use,
)

__all__ = ["PAUSE", "HeaterAnswer", "Served", "battery_share", "heater_answer"]

PAUSE = limit("pause between two showers", 300.0, DURATION, "common practice")
"""Time between two showers."""

SHOWER_TIME = 240.0
"""Time a shower takes with the water off while soaping, s, where only litres are said (common practice)."""


MIXING: Mapping[str, tuple[str, float]] = {
    "mixed": ("fully mixed", 1.0),
    "plug": ("layered to the last", 0.0),
}
"""Both ends of how far cold and hot mix in a heater while it is drawn: in words, and the share that is stirred."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Served:
    """The warm use that a heater is judged by, a shower, and what the heater gives it.

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
    charge, showers : mapping of str to Number
        Mixed water from one charge, element off, and whole showers in a row, element on: "mixed" and "plug".
    """

    name: str
    wanted: Number
    temperature: Number
    heat: Number
    run_off: Number | None
    energy: Number | None
    share: Number | None
    charge: Mapping[str, Number]
    showers: Mapping[str, Number]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HeaterAnswer:
    """What one heater gives and takes.

    Parameters
    ----------
    name : str
        The heater.
    on_battery : bool
        Whether it lives on the battery.
    cold : Number
        Temperature of the water that enters it.
    heat : Number
        Heat of its whole content.
    recovery : Number or None
        Time to heat that; None while its power is not decided.
    energy, current : Number or None
        What that takes from the battery, and the current meanwhile.
    served : Served or None
        The use it is judged by; None where none wants warm water.
    """

    name: str
    on_battery: bool
    cold: Number
    heat: Number
    recovery: Number | None
    energy: Number | None
    current: Number | None
    served: Served | None


def heater_answer(batch: Batch, name: str) -> HeaterAnswer:
    """Work out what one heater gives and takes.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The heater.

    Returns
    -------
    HeaterAnswer
        Numbers that the plan does not decide are left out.
    """
    plan, numbers, own = batch.plan, heater_numbers(batch, name), ("heater", name)
    cold = inlet_number(batch, name)
    on_battery = plan.heaters[name].source in ("inverter", "battery")
    heat = _heat(f"heat of the whole {name}", cold, numbers.volume, numbers.hot).keyed(*own, "recovery_heat", digits=2)
    recovery = energy = current = None
    if plan.heaters[name].power is not None:
        recovery = step(
            f"time to heat the whole {name}",
            heater.recovery_time,
            volume=numbers.volume,
            cold=cold,
            hot=numbers.hot,
            power=numbers.power,
        ).keyed(*own, "recovery", digits=2)
        if on_battery and plan.battery is not None:
            current = step(
                "current from the battery while it heats",
                electric.battery_current,
                power=numbers.power,
                voltage=numbers.volts,
                efficiency=numbers.inverter * numbers.cable,
            ).keyed(*own, "current")
    if on_battery:
        energy = _at_battery(f"battery energy to heat the whole {name}", heat, numbers).keyed(
            *own, "recovery_energy", digits=2
        )
    use = main_hot_water_use(plan, tuple(use for use in hot_water_uses(batch, name) if use.volume[0] > 0))
    return HeaterAnswer(
        name=name,
        on_battery=on_battery,
        cold=cold,
        heat=heat,
        recovery=recovery,
        energy=energy,
        current=current,
        served=_served(batch, name, use, numbers, on_battery) if use is not None else None,
    )


def battery_share(batch: Batch, name: str, energy: Number) -> Number:
    """The share of the full battery that an energy is."""
    usable = batch.once(
        "usable energy of the battery, with its sum",
        lambda: step(
            "usable energy of the battery",
            battery.usable_energy,
            voltage=batch.number("battery.volts"),
            charge=batch.number("battery.charge"),
            usable_share=batch.number("battery.usable"),
        ),
    )
    share = battery.battery_share(energy.values, usable.values)
    return by(name, share, SHARE, battery.battery_share, energy=energy, usable=usable)


def _heat(name: str, cold: Number, volume: Array | Number, warm: Array | Number) -> Number:
    return step(name, heater.heating_energy, volume=volume, cold=cold, warm=warm)


def _at_battery(name: str, used: Number, numbers: HeaterNumbers) -> Number:
    return step(
        name,
        electric.battery_energy,
        used=used,
        inverter_efficiency=numbers.inverter,
        cable_efficiency=numbers.cable,
    )


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
        energy = _at_battery(f"battery energy of one {use.name}, run-off counted", both, numbers).keyed(
            *own, "battery_energy", name, digits=2
        )
        if batch.plan.battery is not None:
            share = battery_share(batch, f"share of the battery that one {use.name} takes", energy).keyed(
                *own, "battery_share", name, digits=2
            )
    charge = _charge(name, numbers, temperature)
    return Served(
        name=use.name,
        wanted=wanted,
        temperature=temperature,
        heat=heat,
        run_off=run_off,
        energy=energy,
        share=share,
        charge=charge,
        showers=_showers(name, use, numbers, wanted, temperature, charge),
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


def _charge(name: str, numbers: HeaterNumbers, temperature: Number) -> Mapping[str, Number]:
    """Mixed water from one charge, the element off."""
    return {
        state: step(
            f"mixed water from one charge, {words}",
            heater.charge_volume,
            volume=numbers.volume,
            cold=numbers.cold,
            hot=numbers.hot,
            mixed=temperature,
            mixing=mixing,
        ).keyed("heater", name, "charge", state, digits=2)
        for state, (words, mixing) in MIXING.items()
    }


def _showers(
    name: str,
    use: HotWaterUse,
    numbers: HeaterNumbers,
    wanted: Number,
    temperature: Number,
    charge: Mapping[str, Number],
) -> Mapping[str, Number]:
    """Whole showers in a row, the element on."""
    reheating = step(
        "mixed water that the element warms meanwhile",
        instant.instant_flow,
        power=np.nan_to_num(numbers.power),
        cold=numbers.cold,
        warm=temperature,
    )
    return {
        state: step(
            f"showers in a row, {words}",
            heater.showers_in_a_row,
            charge=charge[state],
            shower=wanted,
            lasting=np.where(np.isfinite(use.duration), np.maximum(use.duration, 60.0), SHOWER_TIME),
            pause=PAUSE,
            reheating=reheating,
        ).keyed("heater", name, "showers", state)
        for state, (words, _) in MIXING.items()
    }
