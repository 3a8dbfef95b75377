"""What one heater gives and takes: recovery, one charge, showers in a row, energy and current at the battery."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.statement import Range
from vanwater.answers.core.working import Step, step
from vanwater.physics import battery, electric, heater, instant
from vanwater.plan.model import Plan
from vanwater.quantities import VOLUME
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import (
    HeaterNumbers,
    HotWaterUse,
    heater_numbers,
    hot_water_uses,
    main_hot_water_use,
)

__all__ = ["PAUSE", "HeaterAnswer", "heater_answer"]

PAUSE = 300.0
"""Time between two showers, s (common practice)."""

SHOWER_TIME = 240.0
"""Time a shower takes with the water off while soaping, s, where only litres are said (common practice)."""


@dataclass(frozen=True, slots=True, eq=False)
class HeaterAnswer:
    """What one heater gives.

    Parameters
    ----------
    heater : str
        Its name.
    use : str
        The warm use that is told, a shower; empty where none wants warm water.
    electric : bool
        Whether it lives on the battery.
    charge : Range or None
        Mixed water from one charge, element off: fully mixed to plug flow [m³].
    showers : tuple of float
        Whole showers in a row, element on, at both ends of that bracket.
    steps : mapping of str to Step
        Every number with its sum: "recovery", "recovery_energy", "use_heat", "use_energy", "use_share",
        "current", "charge_mixed", "charge_plug", "reheat".
    numbers : HeaterNumbers
        Along the rows.
    """

    heater: str
    use: str
    electric: bool
    charge: Range | None
    showers: tuple[float, float]
    steps: Mapping[str, Step]
    numbers: HeaterNumbers


def heater_answer(plan: Plan, name: str) -> HeaterAnswer:
    """Work out what one heater gives and takes.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        The heater.

    Returns
    -------
    HeaterAnswer
        Steps that the plan does not decide are left out.
    """
    batch = Batch(plan)
    numbers = heater_numbers(batch, name)
    use = main_hot_water_use(plan, tuple(one for one in hot_water_uses(batch, name) if one.volume[0] > 0))
    lives_on_battery = plan.heaters[name].source in ("inverter", "battery")
    steps: dict[str, Step] = {
        "recovery_heat": step(
            f"heat of the whole {name}",
            heater.heating_energy,
            volume=numbers.volume,
            cold=numbers.cold,
            warm=numbers.hot,
        )
    }
    if plan.heaters[name].power is not None:
        steps["recovery"] = step(
            f"time to heat the whole {name}",
            heater.recovery_time,
            volume=numbers.volume,
            cold=numbers.cold,
            hot=numbers.hot,
            power=numbers.power,
        )
        if lives_on_battery and plan.battery is not None:
            steps["current"] = step(
                "current from the battery while it heats",
                electric.battery_current,
                power=numbers.power,
                voltage=numbers.volts,
                efficiency=numbers.inverter * numbers.cable,
            )
    if lives_on_battery:
        steps["recovery_energy"] = _at_battery(
            f"battery energy to heat the whole {name}", steps["recovery_heat"], numbers
        )
    charge, showers = None, (np.nan, np.nan)
    if use is not None:
        charge = _use(plan, use, numbers, lives_on_battery, steps)
        showers = _showers(plan, name, use, numbers, steps)
    return HeaterAnswer(name, use.name if use is not None else "", lives_on_battery, charge, showers, steps, numbers)


def _at_battery(name: str, used: Step, numbers: HeaterNumbers) -> Step:
    return step(
        name,
        electric.battery_energy,
        used=used,
        inverter_efficiency=numbers.inverter,
        cable_efficiency=numbers.cable,
    )


def _use(plan: Plan, use: HotWaterUse, numbers: HeaterNumbers, lives_on_battery: bool, steps: dict[str, Step]) -> Range:
    """Heat and battery energy of one shower, and the litres of one charge."""
    cold, hot = numbers.cold, numbers.hot
    steps["use_heat"] = step(
        f"heat in the water of one {use.name}", heater.heating_energy, volume=use.volume, cold=cold, warm=use.mixed
    )
    if np.any(use.run_off > 0):
        steps["run_off_heat"] = step(
            "heat left in the hot pipe each time", heater.heating_energy, volume=use.run_off, cold=cold, warm=hot
        )
    if lives_on_battery:
        used = steps["use_heat"].value + (steps["run_off_heat"].value if "run_off_heat" in steps else 0.0)
        steps["use_energy"] = step(
            f"battery energy of one {use.name}, run-off counted",
            electric.battery_energy,
            used=used,
            inverter_efficiency=numbers.inverter,
            cable_efficiency=numbers.cable,
        )
    ends = {}
    for key, mixing in (("charge_mixed", 1.0), ("charge_plug", 0.0)):
        ends[key] = steps[key] = step(
            f"mixed water from one charge, {'fully mixed' if mixing else 'hot on top to the last'}",
            heater.charge_volume,
            volume=numbers.volume,
            cold=cold,
            hot=hot,
            mixed=use.mixed,
            mixing=mixing,
        )
    low, high = (float(ends[key].value.ravel()[0]) for key in ("charge_mixed", "charge_plug"))
    if plan.battery is not None and "use_energy" in steps:
        usable = float(battery.usable_energy(plan.battery.volts, plan.battery.charge, plan.battery.usable))
        steps["use_share"] = step(
            f"share of the battery that one {use.name} takes",
            battery.battery_share,
            energy=steps["use_energy"],
            usable=usable,
        )
    return Range(low, 0.5 * (low + high), high, VOLUME)


def _showers(
    plan: Plan, name: str, use: HotWaterUse, numbers: HeaterNumbers, steps: dict[str, Step]
) -> tuple[float, float]:
    """Whole showers in a row with the element on, at both ends of the bracket."""
    lasting = np.where(np.isfinite(use.duration), np.maximum(use.duration, 60.0), SHOWER_TIME)
    power = np.nan_to_num(numbers.power) if plan.heaters[name].power is not None else 0.0 * numbers.volume
    warmed = instant.instant_flow(power, numbers.cold, use.mixed)
    counts = []
    for key in ("charge_mixed", "charge_plug"):
        steps[f"showers_{key.removeprefix('charge_')}"] = made = step(
            f"showers in a row, {'fully mixed' if key == 'charge_mixed' else 'hot on top'}",
            heater.showers_in_a_row,
            charge=steps[key],
            shower=use.volume,
            lasting=lasting,
            pause=PAUSE,
            reheating=warmed,
        )
        counts.append(float(made.value.ravel()[0]))
    return counts[0], counts[1]
