"""What the heater gives: recovery, litres from one charge, showers in a row, what a shower takes from the battery."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding, worst_first
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.hot_water.findings import heater_findings
from vanwater.answers.hot_water.heater import PAUSE, HeaterAnswer, Served, heater_answer
from vanwater.answers.hot_water.hot_line import hot_lines, nobody_waits
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, DURATION, ENERGY, RATIO, SHARE, TEMPERATURE, VOLUME
from vanwater.system.batch import Batch

__all__ = ["HotWater", "hot_water"]


@dataclass(frozen=True, kw_only=True, eq=False)
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
    batch = Batch(plan)
    heaters = {name: heater_answer(batch, name) for name in plan.heaters}
    findings: list[Finding] = []
    for heater in heaters.values():
        findings += heater_findings(batch, heater)
    findings += hot_lines(batch)
    findings += nobody_waits(plan)
    served = [heater.served for heater in heaters.values() if heater.served is not None]
    return HotWater(
        verdict=_verdict(heaters),
        decided=bool(heaters),
        make_tables=partial(_tables, heaters, served),
        findings=worst_first(findings),
        make_numbers=partial(_numbers, heaters, served),
        assumptions=tuple(_assumptions()) if served else (),
        heaters=heaters,
    )


def _verdict(heaters: Mapping[str, HeaterAnswer]) -> Say:
    if not heaters:
        return say("No heater is planned, so no hot water is counted.")
    heater = next(iter(heaters.values()))
    served = heater.served
    if served is None:
        return say("The {heater} is there, but no use wants warm water.", heater=heater.name)
    charge = say(
        "One charge of the {heater} makes {low} to {high} of mixed water at {temperature}.",
        heater=heater.name,
        low=served.charge["mixed"].rounded(2),
        high=served.charge["plug"].rounded(2),
        temperature=served.temperature,
    )
    if served.energy is None:
        return charge
    return say(
        "{charge} One {use} takes {energy} from the battery.", charge=charge, use=served.name, energy=served.energy
    )


def _numbers(heaters: Mapping[str, HeaterAnswer], served: list[Served]) -> Iterator[Number]:
    yield from (heater.heat for heater in heaters.values())
    yield from (use.run_off for use in served if use.run_off is not None)


def _tables(heaters: Mapping[str, HeaterAnswer], served: list[Served]) -> Iterator[Table]:
    yield Table(
        "heaters",
        say("Each heater, its element on full power from cold."),
        (
            Column("heater"),
            Column("water comes at", TEMPERATURE),
            Column("hot after", DURATION),
            Column("from the battery", ENERGY),
            Column("current", CURRENT),
            Column("one charge, mixed", VOLUME),
            Column("one charge, layered", VOLUME),
        ),
        tuple(
            (
                name,
                *map(_cell, (heater.cold, heater.recovery, heater.energy, heater.current)),
                *map(_cell, heater.served.charge.values() if heater.served is not None else (None, None)),
            )
            for name, heater in heaters.items()
        ),
    )
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
        tuple((use.name, *map(_cell, (use.heat, use.energy, use.share, *use.showers.values()))) for use in served),
    )


def _cell(number: Number | None) -> Cell:
    return number.amount if number is not None else None


def _assumptions() -> Iterator[Assumption]:
    yield Assumption(
        "mixing",
        say("How far cold and hot mix in the heater while it is drawn is not known: both ends are told."),
        "Draw one charge through a thermometer and note how much comes before it is too cold.",
        "heat balance; the two ends are limits",
    )
    yield Assumption(
        "showers",
        say("Between two showers {pause} pass.", pause=PAUSE),
        "",
        "common practice",
    )
