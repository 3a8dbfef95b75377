"""A value that was measured, beside the number that is expected, and the band within which it is well."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from vanwater.answers.core.band import NONE, Band, Lies, band_of, instrument_of, instrument_said
from vanwater.answers.core.dates import day_in_either
from vanwater.answers.core.handover import Measure
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned, stated
from vanwater.plan.address import note
from vanwater.plan.measured import Measured
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem, joined, shown
from vanwater.quantities import QuantityError

__all__ = ["Reading", "Unknown", "expected_band", "readings"]

_AS_READ = "as it was read"


@dataclass(frozen=True, kw_only=True, eq=False)
class Reading:
    """A value that was measured.

    Parameters
    ----------
    name : str
        As the plan calls it.
    said : Measured
        What the plan says of it.
    expected : Number
        What is expected.
    value : Number
        What was read.
    band : Band or None
        Within which it is well; None while what is expected is not known.
    measure : Measure or None
        How it is measured before the van is handed over, where that is one of its measurements.
    """

    name: str
    said: Measured
    expected: Number
    value: Number
    band: Band | None
    measure: Measure | None

    @property
    def key(self) -> str:
        """The key of the number that was measured."""
        return key_text(self.expected.key)

    @property
    def side(self) -> Lies:
        """On which side of its band it lies; empty for within, or where no band is known."""
        return self.band.side(self.value.likely) if self.band is not None else ""

    @property
    def what(self) -> Say:
        """What was measured, as the workshop calls it."""
        return self.measure.what if self.measure is not None else say("{name}", name=self.expected.name)

    @property
    def day(self) -> Say:
        """The day on which it was measured."""
        return say("{day}", day=day_in_either(self.said.day))

    @property
    def told(self) -> Say:
        """In a few words: "measured on 14 March 2026: 5.6 L/min"."""
        return say("measured on {day}: {value}", day=day_in_either(self.said.day), value=self.value)

    @property
    def corrects(self) -> str:
        """The address of the plan that it speaks of; empty where it speaks of none alone."""
        own = joined(self.expected.key)
        return own if self.expected.source == "the plan" else self.measure.corrects if self.measure else ""


@dataclass(frozen=True, slots=True)
class Unknown:
    """A value of a number that the plan does not have.

    Parameters
    ----------
    name : str
        As the plan calls it.
    said : Measured
        What the plan says of it.
    problem : Problem
        What is wrong, with the nearest keys.
    """

    name: str
    said: Measured
    problem: Problem


def readings(plan: Plan, answers: Sequence[Answer]) -> tuple[Reading | Unknown, ...]:
    """Every value that was measured in the plan's situation, beside what is expected.

    Parameters
    ----------
    plan : Plan
        The plan.
    answers : sequence of Answer
        To it.

    Returns
    -------
    tuple of Reading or Unknown
        In the order of the measurements, then in the plan's.

    Raises
    ------
    PlanError
        When a value, or the uncertainty of its instrument, is none of the number's quantity.
    """
    here = {name: each for name, each in plan.measured.items() if each.situation == plan.situation}
    if not here:
        return ()
    measures = _measures(plan, answers)
    numbers = _numbers(answers) | {key: each.number for key, each in measures.items() if each.number is not None}
    problems: list[Problem] = []
    held: list[Reading | Unknown] = []
    for name, said in here.items():
        number = _meant(plan, said.number, numbers)
        if number is None:
            held.append(Unknown(name, said, _unknown(name, said, (*measures, *numbers))))
            continue
        try:
            held.append(_reading(name, said, number, measures.get(key_text(number.key))))
        except PlanError as error:
            problems += error.problems
    if problems:
        raise PlanError(problems)
    return tuple(sorted(held, key=_place))


def _place(each: Reading | Unknown) -> float:
    return each.measure.place if isinstance(each, Reading) and each.measure is not None else math.inf


def expected_band(measure: Measure) -> Band | None:
    """Within which a measurement is well, read on a usual instrument.

    Parameters
    ----------
    measure : Measure
        The measurement.

    Returns
    -------
    Band or None
        None where no number is expected, or it is not known.
    """
    number = measure.number
    return band_of(number, measure.tolerance, instrument_of(number, number.likely)) if number is not None else None


def _measures(plan: Plan, answers: Sequence[Answer]) -> Mapping[str, Measure]:
    """The measurements that expect a number, by its key."""
    measures: dict[str, Measure] = {}
    for answer in answers:
        for each in answer.question.handover(plan, answer):
            if isinstance(each, Measure) and each.number is not None:
                measures.setdefault(key_text(each.number.key), each)
    return measures


def _numbers(answers: Sequence[Answer]) -> dict[str, Number]:
    return {key: number for answer in answers for key, number in answer.numbers.items()}


def _meant(plan: Plan, key: str, numbers: Mapping[str, Number]) -> Number | None:
    """The number that a key means, with or without the quotation marks around its names, or an address of the plan."""
    bare = key.replace('"', "")
    number = numbers.get(key) or next((each for text, each in numbers.items() if text.replace('"', "") == bare), None)
    return number if number is not None else _planned(plan, bare)


def _planned(plan: Plan, address: str) -> Number | None:
    try:
        value, quantity = plan.at(address), note(Plan, address).quantity
    except KeyError:
        return None
    return planned(plan, address, quantity) if quantity is not None and isinstance(value, float) else None


def _unknown(name: str, said: Measured, known: Sequence[str]) -> Problem:
    close = get_close_matches(said.number, dict.fromkeys(known), n=3, cutoff=0.5)
    nearest = " The nearest are " + ", ".join(close) + "." if close else ""
    told = f"The plan has no number {shown(said.number)}."
    slip = f"{nearest.strip()} vanwater check PLAN --why lists all.".strip()
    return Problem(joined(("measured", name, "number")), told, "the key of a number, or an address of the plan", slip)


def _reading(name: str, said: Measured, number: Number, measure: Measure | None) -> Reading:
    field = "value"
    try:
        value = number.quantity.read(said.value)
        field = "uncertainty"
        instrument = (
            instrument_of(number, value)
            if said.uncertainty is None
            else instrument_said(number, value, said.uncertainty)
        )
    except QuantityError as error:
        told = f"{error.message.removesuffix('.')}, for {key_text(number.key)}."
        raise PlanError([Problem(joined(("measured", name, field)), told, error.expected, error.slip)]) from None
    band = band_of(number, measure.tolerance if measure is not None else NONE, instrument)
    return Reading(
        name=name,
        said=said,
        expected=number,
        value=_value(name, said, number, value, instrument),
        band=band,
        measure=measure,
    )


def _value(name: str, said: Measured, number: Number, value: float, instrument: Number) -> Number:
    def beside() -> Iterator[tuple[str, Number | Say | str]]:
        yield "expected", number
        yield "day", day_in_either(said.day).metric
        yield "instrument", said.instrument
        yield "may be off by", instrument
        for label, text in (("by", said.by), ("note", said.note)):
            if text:
                yield label, text

    return stated(
        f"{number.name}, measured",
        value,
        number.quantity,
        "Read on the van. It moves no sum: they go by what the plan says.",
        facts=lambda: tuple(beside()),
        source="measured on the van",
    ).keyed("measured", name, exact=_AS_READ, digits=max(3, number.digits))
