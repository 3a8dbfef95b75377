"""What the heater gives: recovery, litres from one charge, showers in a row, what a shower takes from the battery."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.answers.answer import Answer, Assumption, Column, Table
from vanwater.answers.cautions import ESTIMATE, HEATER, LEGIONELLA, MAINS_AND_BATTERY, SCALD
from vanwater.answers.finding import Finding, worst_first
from vanwater.answers.heater_findings import heater_findings
from vanwater.answers.wording import Amount, Given, Range, Say, say
from vanwater.answers.working import Step, step
from vanwater.physics import battery, electric, heater, instant
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, DURATION, ENERGY, RATIO, SHARE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.warm import HeaterNumbers, WarmUse, heater_numbers, main_warm_use, warm_uses

__all__ = ["HeaterAnswer", "HotWater", "hot_water"]

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


@dataclass(frozen=True, slots=True, kw_only=True)
class HotWater(Answer):
    """The answer on hot water.

    Parameters
    ----------
    heaters : mapping of str to HeaterAnswer
        The heaters.
    """

    heaters: Mapping[str, HeaterAnswer]


def hot_water(plan: Plan) -> HotWater:
    """What each heater gives and takes.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    HotWater
        Heaters that are not decided are told in the findings.
    """
    heaters = {name: _heater(plan, name) for name in plan.heaters}
    findings: list[Finding] = []
    numbers: dict[str, Step] = {}
    for name, one in heaters.items():
        findings += heater_findings(plan, one)
        numbers |= {f"hot_water.{name}.{key}": made for key, made in one.steps.items()}
    return HotWater(
        key="hot_water",
        title="Hot water",
        verdict=_verdict(heaters),
        decided=bool(heaters),
        tables=tuple(_tables(heaters)),
        findings=worst_first(findings),
        numbers=numbers,
        assumptions=tuple(_assumptions(heaters)),
        cautions=(SCALD, HEATER, MAINS_AND_BATTERY, LEGIONELLA, ESTIMATE) if heaters else (ESTIMATE,),
        heaters=heaters,
    )


def _heater(plan: Plan, name: str) -> HeaterAnswer:
    batch = Batch(plan)
    numbers = heater_numbers(batch, name)
    use = main_warm_use(plan, warm_uses(batch, name))
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


def _use(plan: Plan, use: WarmUse, numbers: HeaterNumbers, lives_on_battery: bool, steps: dict[str, Step]) -> Range:
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
    plan: Plan, name: str, use: WarmUse, numbers: HeaterNumbers, steps: dict[str, Step]
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


def _verdict(heaters: Mapping[str, HeaterAnswer]) -> Say:
    if not heaters:
        return say("No heater is planned, so no hot water is counted.")
    one = next(iter(heaters.values()))
    if one.charge is None:
        return say("The {heater} is there, but no use wants warm water.", heater=one.heater)
    given: dict[str, Given] = {
        "heater": one.heater,
        "low": Amount(one.charge.low, VOLUME, 2),
        "high": Amount(one.charge.high, VOLUME, 2),
        "temperature": _mixed(one),
    }
    first = say("One charge of the {heater} makes {low} to {high} of mixed water at {temperature}.", **given)
    if "use_energy" not in one.steps:
        return first
    return say(
        "{first} One {use} takes {energy} from the battery.",
        first=first,
        use=one.use,
        energy=_amount(one.steps["use_energy"]),
    )


def _mixed(one: HeaterAnswer) -> Amount:
    given = {piece.name: piece.value for piece in one.steps["charge_mixed"].given}
    found = given["mixed"]
    assert isinstance(found, Amount)
    return found


def _amount(made: Step) -> Amount:
    assert isinstance(made.result, Amount)
    return made.result


def _tables(heaters: Mapping[str, HeaterAnswer]) -> Iterator[Table]:
    if not heaters:
        return
    yield Table(
        "heaters",
        say("Each heater, its element on full power from cold."),
        (
            Column("heater"),
            Column("hot after", DURATION),
            Column("from the battery", ENERGY),
            Column("current", CURRENT),
            Column("one charge, mixed", VOLUME),
            Column("hot on top", VOLUME),
        ),
        tuple(
            (
                name,
                *(_cell(one, key) for key in ("recovery", "recovery_energy", "current", "charge_mixed", "charge_plug")),
            )
            for name, one in heaters.items()
        ),
    )
    warm = {name: one for name, one in heaters.items() if one.charge is not None}
    if warm:
        yield Table(
            "showers",
            say("One use of warm water, with what is left in the hot pipe."),
            (
                Column("use"),
                Column("heat", ENERGY),
                Column("from the battery", ENERGY),
                Column("of the battery", SHARE),
                Column("in a row, at least", RATIO),
                Column("at best", RATIO),
            ),
            tuple(
                (
                    one.use,
                    *(_cell(one, key) for key in ("use_heat", "use_energy")),
                    Amount(_amount(one.steps["use_share"]).value, SHARE, 2) if "use_share" in one.steps else None,
                    *(_cell(one, key) for key in ("showers_mixed", "showers_plug")),
                )
                for one in warm.values()
            ),
        )


def _cell(one: HeaterAnswer, key: str) -> Amount | None:
    return _amount(one.steps[key]) if key in one.steps else None


def _assumptions(heaters: Mapping[str, HeaterAnswer]) -> Iterator[Assumption]:
    if any(one.charge is not None for one in heaters.values()):
        yield Assumption(
            "mixing",
            say("How far cold and hot mix in the heater while it is drawn is not known: both ends are told."),
            "Draw one charge through a thermometer and note the litres until it is too cold.",
            "heat balance; the two ends are limits",
        )
        yield Assumption(
            "showers",
            say("Between two showers {pause} pass.", pause=Amount(PAUSE, DURATION)),
            "",
            "common practice",
        )
