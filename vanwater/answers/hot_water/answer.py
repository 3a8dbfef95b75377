"""What the heaters give: recovery, litres from one charge, showers in a row, a day, what it takes from the battery."""

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
from vanwater.answers.core.unsure import RUN_OFF, STIRRING, habits, rows_of
from vanwater.answers.hot_water.day import CLOCK, NOON
from vanwater.answers.hot_water.findings import heater_findings
from vanwater.answers.hot_water.heater import HeaterAnswer, heater_answer
from vanwater.answers.hot_water.hot_line import hot_lines, nobody_waits
from vanwater.answers.hot_water.hygiene import warm_cold_water
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, DURATION, ENERGY, FLOW, RATIO, SHARE, TEMPERATURE, VOLUME
from vanwater.system.batch import Batch, low_and_high

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
    unsure = (STIRRING, habits(plan), RUN_OFF)
    batch = Batch(plan, low_and_high(unsure))
    pairs = rows_of(batch, unsure)
    heaters = {name: heater_answer(batch, name, pairs) for name in plan.heaters}
    findings: list[Finding] = []
    for heater in heaters.values():
        findings += heater_findings(batch, heater, pairs)
    findings += hot_lines(Batch(plan))
    findings += nobody_waits(plan)
    findings += warm_cold_water(batch)
    return HotWater(
        verdict=_verdict(heaters),
        decided=bool(heaters),
        make_tables=partial(_tables, heaters),
        findings=worst_first(findings),
        make_numbers=partial(_numbers, heaters),
        assumptions=tuple(_assumptions(heaters)),
        heaters=heaters,
    )


def _verdict(heaters: Mapping[str, HeaterAnswer]) -> Say:
    if not heaters:
        return say("No heater is planned, so no hot water is counted.")
    serving = [heater for heater in heaters.values() if heater.served is not None]
    if not serving:
        return say("The {heater} is there, but no use wants warm water.", heater=next(iter(heaters)))
    first, *others = (_gives(heater) for heater in serving)
    return say("{first} {others}", first=first, others=_verdict_of(others)) if others else first


def _verdict_of(told: list[Say]) -> Say:
    first, *others = told
    return say("{first} {others}", first=first, others=_verdict_of(others)) if others else first


def _gives(heater: HeaterAnswer) -> Say:
    """What one heater gives, in a sentence or two."""
    served, charge, flowing = heater.served, heater.charge, heater.flowing
    assert served is not None
    if charge is not None:
        gives = say(
            "One charge of the {heater} makes {litres} of mixed water at {temperature}.",
            heater=heater.name,
            litres=charge.litres,
            temperature=served.temperature,
        )
    else:
        warmed = next((each for each in flowing.uses if each.use == served.name), None) if flowing is not None else None
        gives = (
            say("What the {heater} warms as the water flows is not decided.", heater=heater.name)
            if warmed is None
            else say(
                "The {heater} warms {most} to {temperature} as the water flows.",
                heater=heater.name,
                most=warmed.most,
                temperature=warmed.temperature,
            )
        )
    if served.energy is None:
        return gives
    return say(
        "{gives} For the {use} it takes {energy} of battery each time.",
        gives=gives,
        use=served.name,
        energy=served.energy,
    )


def _numbers(heaters: Mapping[str, HeaterAnswer]) -> Iterator[Number]:
    for heater in heaters.values():
        yield heater.heat
        if heater.served is not None and heater.served.run_off is not None:
            yield heater.served.run_off
        if heater.charge is not None:
            yield from heater.charge.ends.values()
        if heater.day is not None:
            yield from (heater.day.heated, heater.day.lost, heater.day.coldest, heater.day.short)


def _tables(heaters: Mapping[str, HeaterAnswer]) -> Iterator[Table]:
    yield from _stores(heaters)
    yield from _flowing(heaters)
    served = {name: heater for name, heater in heaters.items() if heater.served is not None}
    yield Table(
        "showers",
        say("One use of warm water, with what is left in the hot pipe."),
        (
            Column("use"),
            Column("heat", ENERGY),
            Column("from the battery", ENERGY),
            Column("of the battery", SHARE),
            Column("in a row", RATIO),
            Column("wait for the next", DURATION),
        ),
        tuple(
            (
                heater.served.name,
                *map(_cell, (heater.served.heat, heater.served.energy, heater.served.share)),
                *map(_cell, (heater.charge.showers, heater.charge.wait) if heater.charge is not None else (None, None)),
            )
            for heater in served.values()
            if heater.served is not None
        ),
    )


def _stores(heaters: Mapping[str, HeaterAnswer]) -> Iterator[Table]:
    """The heaters with a store."""
    stores = {name: heater for name, heater in heaters.items() if heater.flowing is None}
    if heaters and not stores:
        return
    yield Table(
        "heaters",
        say("Each heater, its element on full power from cold."),
        (
            Column("heater"),
            Column("water comes at", TEMPERATURE),
            Column("hot after", DURATION),
            Column("from the battery", ENERGY),
            Column("current", CURRENT),
            Column("one charge", VOLUME),
        ),
        tuple(
            (
                name,
                *map(_cell, (heater.cold, heater.recovery, heater.energy, heater.current)),
                _cell(heater.charge.litres if heater.charge is not None else None),
            )
            for name, heater in stores.items()
        ),
    )


def _flowing(heaters: Mapping[str, HeaterAnswer]) -> Iterator[Table]:
    """The heaters that heat as the water flows."""
    rows = [(name, warmed) for name, heater in heaters.items() if heater.flowing for warmed in heater.flowing.uses]
    if rows:
        yield Table(
            "as-it-flows",
            say("What heaters without a store warm, as long as water flows."),
            (Column("heater"), Column("use"), Column("to", TEMPERATURE), Column("warms", FLOW), Column("wanted", FLOW)),
            tuple((name, each.use, *map(_cell, (each.temperature, each.most, each.wanted))) for name, each in rows),
        )


def _cell(number: Number | None) -> Cell:
    return number.shown if number is not None else None


def _assumptions(heaters: Mapping[str, HeaterAnswer]) -> Iterator[Assumption]:
    if any(heater.charge is not None for heater in heaters.values()):
        yield Assumption(
            "stirring",
            say("Entering cold water stirs 25 % of a heater's content, 10 to 45 %; both ends told are limits."),
            STIRRING.measure,
            STIRRING.source,
        )
    days = [heater.day for heater in heaters.values() if heater.day is not None]
    if days:
        clock = say(f"{CLOCK} {NOON}") if any(day.by_the_sun for day in days) else say(CLOCK)
        yield Assumption("day", clock, "Note for some days when hot water is drawn.", "common practice, from memory")
