"""One number, made once: over all answers of a plan, whoever shows it."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.net.plans import raw_plans
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan

GENERATED = [*raw_plans()][4::8]
"""Some of the generated plans whose answers of yesterday are kept."""


def held(plan: Plan) -> int:
    """Walk every answer, and hold that a thing that two answers show is the same thing in both."""
    answers = answers_to(plan)
    numbers = answers.numbers  # refuses a key under which two answers hold different values
    seen: dict[str, Number] = {}
    for answer in answers.values():
        walk(answer)
        for key, number in answer.numbers.items():
            other = seen.setdefault(key, number)
            assert (other.quantity, other.name) == (number.quantity, number.name), key
            assert key == key_text(number.key)
    assert set(numbers) == set(seen)
    return len(numbers)


@pytest.mark.parametrize("name", NAMES)
def test_the_examples(name: str) -> None:
    assert held(example(name)) > 100


@pytest.mark.parametrize("plan", GENERATED)
def test_generated_plans(plan: str) -> None:
    held(Plan.of(raw_plans()[plan], file=True))


@WHOLE_PLANS
@given(plans())
def test_plans_of_every_shape(raw: dict[str, Any]) -> None:
    held(Plan.of(raw, file=True))


ONCE = ("van", "household", "site")
"""Tables whose order of fields says nothing."""


@pytest.mark.parametrize("name", NAMES)
def test_a_key_names_the_same_number_in_whatever_order_the_file_stands(name: str) -> None:
    plan = example(name)
    turned = {
        key: dict(reversed(table.items())) if isinstance(table, dict) and key not in ONCE else table
        for key, table in reversed(plan.own.items())
    }
    there, here = answers_to(Plan.of(turned)).numbers, answers_to(plan).numbers
    shared = set(here) & set(there)  # the outlet whose budget is shown, of several alike, is the first of the file
    assert len(shared) > 0.9 * max(len(here), len(there))
    for key in shared:
        assert there[key].value == pytest.approx(here[key].value, rel=1e-6, abs=1e-9, nan_ok=True), key
