"""Along the rows of one batch, and as a plan of its own: the same numbers, whichever number of a plan is changed."""

from __future__ import annotations

import warnings
from collections.abc import Iterator, Mapping
from contextlib import suppress

import numpy as np
import pytest

from tests.examples import NAMES, example
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import by_key
from vanwater.answers.questions import QUESTIONS
from vanwater.options.sweep import sweep
from vanwater.plan.address import numbers_of
from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.system.batch import Batch, Row, carries

ALONG = {key: question.along for key, question in QUESTIONS.items() if question.along is not None}


def changes(plan: Plan) -> Iterator[tuple[str, float, Plan]]:
    """Each number of a plan that a row can carry, somewhat larger or smaller, and the plan of its own."""
    for address in numbers_of(plan):
        now = plan.at(address)
        for factor in (1.07, 0.93):
            value = now * factor if not isinstance(now, int) else now + 1
            if not carries(plan, {address: value}):
                break
            with suppress(PlanError), warnings.catch_warnings():
                warnings.simplefilter("ignore", CappedWarning)
                yield address, value, plan.changed({address: value}, si=True)
                break


def told(key: str, batch: Batch) -> Mapping[str, Number]:
    along = ALONG[key]
    assert along is not None
    return by_key(along(batch))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("key", list(ALONG))
def test_a_row_is_what_its_own_plan_says(key: str, name: str) -> None:
    plan = example(name)
    changed = list(changes(plan))
    assert len(changed) > 40
    rows = told(key, Batch(plan, [Row(address, {address: value}) for address, value, _ in changed]))
    moved = set()
    for place, (address, _, own) in enumerate(changed, start=1):
        alone = told(key, Batch(own))
        assert set(alone) == set(rows), address
        for number_key, number in rows.items():
            value = np.broadcast_to(number.values, (len(changed) + 1,))[place]
            assert value == pytest.approx(alone[number_key].likely, rel=1e-12, abs=1e-300, nan_ok=True), (
                f"{address}: {number_key}"
            )
            if value != number.likely:
                moved.add(address)
    assert len(moved) > 5


@pytest.mark.parametrize("key", list(ALONG))
def test_its_numbers_are_those_of_the_answer(key: str) -> None:
    for name in NAMES:
        plan = example(name)
        answer = QUESTIONS[key].ask(plan).numbers
        for number_key, number in told(key, Batch(plan)).items():
            if number_key in answer:
                assert number.likely == pytest.approx(answer[number_key].likely, rel=1e-12, nan_ok=True), number_key
        assert len(set(told(key, Batch(plan))) & set(answer)) > 8


def test_a_batched_sweep_says_what_its_rows_say_alone() -> None:
    plan = example("family-winter")
    values = {"tanks.grey.length": np.linspace(0.8, 1.1, 7), "uses.shower.a_day": np.array([5e-6, 9e-6])}
    whole = sweep(plan, values, list(ALONG))
    shuffled = {**values, "tanks.grey.length": np.linspace(0.8, 1.1, 7)[[3, 0, 6, 1, 2, 5, 4]]}  # no batch of such
    alone = sweep(plan, shuffled, list(ALONG))
    assert not whole.failed and not alone.failed and set(whole) == set(alone)
    for key, numbers in whole.items():
        assert numbers[[3, 0, 6, 1, 2, 5, 4]] == pytest.approx(alone[key], rel=1e-12, nan_ok=True), key


def test_where_a_corner_is_impossible_each_row_tells_for_itself() -> None:
    plan = example("family-winter")
    swept = sweep(plan, {"tanks.fresh.pickup": ["10 mm", "20 mm", "30 m"]}, "stay")
    assert list(swept.failed) == [2] and np.isfinite(swept["stay.days"][:2]).all()
