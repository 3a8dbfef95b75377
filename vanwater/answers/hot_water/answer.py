"""What the heater gives: recovery, litres from one charge, showers in a row, what a shower takes from the battery."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from vanwater.answers.core.answer import Assumption
from vanwater.answers.core.cautions import ESTIMATE, HEATER, LEGIONELLA, MAINS_AND_BATTERY, SCALD
from vanwater.answers.core.finding import Finding, worst_first
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Given, Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import Step
from vanwater.answers.hot_water.findings import heater_findings
from vanwater.answers.hot_water.heater import PAUSE, HeaterAnswer, heater_answer
from vanwater.answers.hot_water.hot_line import hot_lines
from vanwater.plan.model import Plan
from vanwater.quantities import CURRENT, DURATION, ENERGY, RATIO, SHARE, VOLUME

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
    heaters = {name: heater_answer(plan, name) for name in plan.heaters}
    findings: list[Finding] = []
    numbers: dict[str, Step] = {}
    for name, one in heaters.items():
        findings += heater_findings(plan, one)
        numbers |= {f"hot_water.{name}.{key}": made for key, made in one.steps.items()}
    told, shown = hot_lines(plan)
    findings += told
    numbers |= shown
    return HotWater(
        verdict=_verdict(heaters),
        decided=bool(heaters),
        make_tables=partial(_tables, heaters),
        findings=worst_first(findings),
        make_numbers=partial(dict, numbers),
        assumptions=tuple(_assumptions(heaters)),
        cautions=(SCALD, HEATER, MAINS_AND_BATTERY, LEGIONELLA, ESTIMATE) if heaters else (ESTIMATE,),
        heaters=heaters,
    )


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
