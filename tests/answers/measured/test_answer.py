"""Inside its band nothing is alarmed; outside, the finding says what to look at and which input to correct."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example, example_answers
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.handover import Measure
from vanwater.answers.core.harm import HARM, Harm, harm_of, place_of
from vanwater.answers.core.key import key_text
from vanwater.answers.measured.answer import MeasuredOnTheVan
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan

SAID = {"on": "2025-03-14", "instrument": "gauge"}
CUT_OUT = "pumps.pump.cut_out"


def asked(number: str, value: str, name: str = "family-winter") -> MeasuredOnTheVan:
    plan = example(name)
    bare = dict.fromkeys(f"measured.{each}" for each in plan.measured)
    plan = plan.changed(bare | {"measured.a": SAID | {"number": number, "value": value}})
    answer = answers_to(plan)["measured"]
    assert isinstance(answer, MeasuredOnTheVan)
    return answer


def finding(number: str, value: str) -> Finding:
    (told,) = asked(number, value).findings
    return told


def test_within_its_band_is_fine_and_outside_is_not() -> None:
    assert finding(CUT_OUT, "2.65 bar").verdict is Verdict.FINE
    high = finding(CUT_OUT, "3.1 bar")
    assert high.verdict is Verdict.FAILS and high.harm is Harm.DAMAGE and high.address == CUT_OUT
    assert high.bound == "at most" and high.margin is not None and high.margin.value < 0
    assert high.advice is not None and f"correct {CUT_OUT} in the plan" in high.advice.text()
    low = finding(CUT_OUT, "2.0 bar")
    assert low.verdict is Verdict.FAILS and low.harm is Harm.COMFORT


def test_without_a_range_the_tolerance_of_its_measurement_counts() -> None:
    assert finding(CUT_OUT, "2.78 bar").verdict is Verdict.FINE  # 0.2 bar of the trade, 0.05 bar of the gauge
    assert finding(CUT_OUT, "2.82 bar").verdict is Verdict.FAILS


def test_a_usual_instrument_is_an_assumption_until_its_own_is_said() -> None:
    (usual,) = asked(CUT_OUT, "2.6 bar").assumptions
    assert usual.address == "measured.a.uncertainty"
    plan = example("family-winter").changed({f"measured.{each}": None for each in example("family-winter").measured})
    said = SAID | {"number": CUT_OUT, "value": "2.6 bar", "uncertainty": "0.1 bar"}
    assert not answers_to(plan.changed({"measured.a": said}))["measured"].assumptions


def test_what_does_no_harm_is_watched() -> None:
    more = finding("outlet.shower.flow", "9 L/min")
    assert more.verdict is Verdict.WATCH and more.harm is Harm.CARE
    assert finding("axle.front.load.leaving", "1750 kg").harm is Harm.LIFE
    assert finding("axle.front.load.leaving", "1650 kg").harm is Harm.CARE


def test_it_tells_what_the_side_that_was_measured_means() -> None:
    def advice(number: str, value: str) -> str:
        told = finding(number, value).advice
        assert told is not None
        return told.text()

    less, more = (advice("outlet.shower.flow", value) for value in ("3 L/min", "12 L/min"))
    assert less.startswith("Less: aerator") and "More:" not in less
    assert more.startswith("More: a wider outlet") and "Less:" not in more
    assert advice("pumps.pump.volts", "9 V").startswith("Less: cable")
    assert advice("pumps.pump.volts", "16 V").startswith("Measure it once more.")
    assert advice(CUT_OUT, "3.1 bar").startswith("The switch is set otherwise")


def test_it_moves_no_sum() -> None:
    plain, plan = (
        example("weekend-cans"),
        example("weekend-cans").changed({"measured.a": SAID | {"number": "site.cold_water", "value": "20 °C"}}),
    )
    numbers = answers_to(plan).numbers
    assert {key: number.likely for key, number in example_answers("weekend-cans").numbers.items()}.items() <= {
        key: number.likely for key, number in numbers.items()
    }.items()
    assert plain.site == plan.site and numbers["measured.a"].likely == pytest.approx(293.15)


def test_the_verdict_counts_and_the_table_says_how_each_stands() -> None:
    answer = asked(CUT_OUT, "3.1 bar")
    assert answer.verdict.text().replace("\N{NO-BREAK SPACE}", " ") == (
        "1 value was measured on the van; 1 value is not as expected."
    )
    (row,) = answer.tables[0].rows
    assert row[-1].text() == "above the band"


def test_every_number_has_its_key_and_its_sum() -> None:
    assert walk(asked(CUT_OUT, "3.1 bar")) > 3


def test_nothing_measured_is_silent() -> None:
    for name in NAMES:
        measured = bool(example(name).measured)
        assert ("measured" in example_answers(name)) is measured


@pytest.mark.parametrize("name", [name for name in NAMES if example(name).measured])
def test_the_examples_measured_what_they_say(name: str) -> None:
    answer = example_answers(name)["measured"]
    assert isinstance(answer, MeasuredOnTheVan) and not answer.unknown
    assert {each.name for each in answer.readings} == set(example(name).measured)


def test_each_kind_of_harm_is_of_a_number_that_can_be_measured() -> None:
    sides = {"measured.unknown"}
    for name in NAMES:
        answers = example_answers(name)
        keys = [*answers.numbers] + [
            key_text(each.number.key)
            for answer in answers.values()
            for each in answer.question.handover(answers.plan, answer)
            if isinstance(each, Measure) and each.number is not None
        ]
        sides |= {f"measured.{key}.{side}" for key in keys for side in ("above", "below")}
    sides |= {f"measured.mixers.mixer.set.{side}" for side in ("above", "below")}
    sides |= {f"measured.mains.inlet.regulator.{side}" for side in ("above", "below")}
    places = {place_of(key) for key in sides}
    kinds = [kind for kind in HARM if kind.startswith("measured.")]
    assert [kind for place, kind in enumerate(HARM) if kind in kinds and place not in places] == []
    assert harm_of("measured.anything.at.all.above") is Harm.CARE


@WHOLE_PLANS
@given(plans())
def test_a_value_at_what_is_expected_raises_nothing(raw: dict[str, Any]) -> None:
    plan = Plan.of(raw, file=True)
    plan = plan.changed({f"measured.{each}": None for each in plan.measured})
    cold = f"{plan.site.cold_water:.9g} K"
    answers = answers_to(plan.changed({"measured.a": SAID | {"number": "site.cold_water", "value": cold}}))
    (told,) = answers["measured"].findings
    assert told.verdict is Verdict.FINE
