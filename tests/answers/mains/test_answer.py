from __future__ import annotations

import pytest

from tests.answered import mains
from tests.examples import NAMES, example, example_answers
from tests.pumped import KINDS, on_the_mains
from tests.walk import walk
from vanwater.plan.model import Plan


def test_the_verdict_tells_the_outlet_that_people_ask_about_first() -> None:
    answer = mains(Plan.of(on_the_mains("diaphragm", regulator="2.5 bar")))
    tap = answer.outlets["tap"]
    assert answer.verdict.text() == (
        f"On a campsite's water the tap gives {tap.flow.shown.text()}, {tap.pressure.amount.text()} before it."
    )
    keys = [caution.key for caution in answer.cautions]
    assert keys == ["hose", "air gap", "mains water", "estimate"]
    assert [one.key for one in answer.assumptions] == ["outlets", "fittings", "bores", "mains", "droops"]


def test_controls_begin_with_regulator_and_tap() -> None:
    plan = Plan.of(on_the_mains("diaphragm", regulator="2.5 bar"))
    answer = mains(plan)
    controls = list(answer.question.controls(plan, answer))
    assert controls[:3] == ["mains.inlet.regulator", "mains.inlet.lowest", "mains.inlet.highest"]
    for address in controls:
        plan.at(address)


def test_it_is_left_out_where_no_inlet_is_planned() -> None:
    assert {name for name in NAMES if "mains" in example_answers(name)} == {
        name for name in NAMES if example(name).mains
    }


@pytest.mark.parametrize("kind", KINDS)
def test_every_number_is_a_number_with_its_sum(kind: str) -> None:
    assert walk(mains(Plan.of(on_the_mains(kind)))) > 8
    assert walk(mains(Plan.of(on_the_mains(kind, valve=False, regulator="1 bar")))) > 8


def test_those_of_the_examples_too() -> None:
    assert walk(mains(example("touring-campsites"))) > 8
