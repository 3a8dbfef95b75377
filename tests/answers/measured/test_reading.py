"""What was measured finds its number by key or address; what it cannot be is told at its place."""

from __future__ import annotations

import pytest

from tests.examples import example, example_answers
from vanwater.answers.core.handover import Measure
from vanwater.answers.measured.reading import Reading, Unknown, expected_band, readings
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

SAID = {"value": "5 L/min", "on": "2025-03-14", "instrument": "bucket"}
NAME = "weekend-cans"


def read(plan: Plan) -> tuple[Reading | Unknown, ...]:
    return readings(plan, list(example_answers(NAME).values()))


def plan(**measured: dict[str, str]) -> Plan:
    return example(NAME).changed({f"measured.{name.replace('_', ' ')}": SAID | each for name, each in measured.items()})


def key_of_a_flow() -> str:
    return next(key for key in example_answers(NAME).numbers if key.startswith("outlet.") and key.endswith(".flow"))


def test_a_key_is_read_with_and_without_the_marks_around_its_names() -> None:
    key = key_of_a_flow()
    for written in (key, key.replace('"', "")):
        (each,) = read(plan(a={"number": written}))
        assert isinstance(each, Reading) and each.key == key
        assert each.expected.likely == example_answers(NAME).numbers[key].likely
        assert each.value.likely == pytest.approx(5e-3 / 60) and each.measure is not None
        assert each.corrects == f"outlets.{key.split('.')[1].strip(chr(34))}.flow"


def test_an_address_of_the_plan_may_be_measured() -> None:
    (each,) = read(plan(a={"number": "site.cold_water", "value": "13 °C"}))
    assert isinstance(each, Reading) and each.corrects == "site.cold_water" and each.measure is None
    assert each.told.text(us=True).replace("\N{NO-BREAK SPACE}", " ") == "measured on March 14, 2025: 55 °F"


@pytest.mark.parametrize(
    ("wrong", "address", "told"),
    (
        ({"value": "5 bar"}, "measured.a.value", "is not a unit of flow, for outlet."),
        ({"value": "five"}, "measured.a.value", "does not start with a number"),
        ({"value": "5"}, "measured.a.value", "has no unit"),
        ({"uncertainty": "2 bar"}, "measured.a.uncertainty", "is not a unit of flow"),
    ),
)
def test_what_is_none_of_its_quantity_is_refused(wrong: dict[str, str], address: str, told: str) -> None:
    with pytest.raises(PlanError) as refused:
        read(plan(a={"number": key_of_a_flow()} | wrong))
    (problem,) = refused.value.problems
    assert problem.address == address and told in problem.message and problem.expected


def test_a_slip_in_the_key_is_told_with_the_nearest() -> None:
    (each,) = read(plan(a={"number": key_of_a_flow() + "s"}))
    assert isinstance(each, Unknown) and each.problem.address == "measured.a.number"
    assert key_of_a_flow() in each.problem.slip


def test_they_follow_in_the_order_in_which_they_are_measured_the_others_behind() -> None:
    said = {"a": ("site.cold_water", "13 °C"), "b": ("pumps.pump.cut_out", "2.6 bar"),
            "c": ("accumulators.accumulator.precharge", "1.1 bar"), "d": ("outlet.shower.flow", "5 L/min")}  # fmt: skip
    asked = example_answers("family-winter")
    changed = {f"measured.{each}": None for each in asked.plan.measured} | {
        f"measured.{name}": SAID | {"number": number, "value": value} for name, (number, value) in said.items()
    }
    held = readings(asked.plan.changed(changed), list(asked.values()))
    assert [each.name for each in held] == ["c", "b", "d", "a"]


def test_what_was_measured_in_a_situation_counts_there_alone() -> None:
    situation = next(iter(example(NAME).situations))
    there = plan(a={"number": "site.cold_water", "value": "13 °C", "situation": situation})
    assert not read(there) and "measured" not in answers_to(there)
    assert len(readings(there.in_situation(situation), list(example_answers(NAME).values()))) == 1


def test_every_measurement_that_expects_a_number_has_a_band_around_it() -> None:
    asked = example_answers("family-winter")
    measures = [
        each
        for answer in asked.values()
        for each in answer.question.handover(asked.plan, answer)
        if isinstance(each, Measure) and each.number is not None
    ]
    assert len(measures) > 15
    for each in measures:
        band = expected_band(each)
        assert band is not None and each.number is not None and band.side(each.number.likely) == "", each.what.text()
        if each.number.range is not None and band.low is not None and band.high is not None:
            low, high = each.number.range
            assert band.low.likely <= low and high <= band.high.likely
