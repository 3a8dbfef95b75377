"""Along the rows of one batch, and as a plan of its own: the same numbers, whichever number of a plan is changed."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import suppress
from functools import lru_cache

import numpy as np
import pytest

from tests.asked_addresses import asked_addresses
from tests.examples import NAMES, example
from vanwater.answers.pump_starts import answer as pump_starts
from vanwater.answers.questions import QUESTIONS
from vanwater.options.sweep import sweep
from vanwater.plan.address import numbers_of
from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.system.batch import Batch, Row, carries, with_designs

FAMILY = example("family-winter")


def changes(plan: Plan) -> Iterator[tuple[str, float, Plan]]:
    """Each asked number of a plan that a row can carry, somewhat larger or smaller, and the plan of its own."""
    for address in asked_addresses(plan, numbers_of(plan)):
        now = plan.at(address)
        for factor in (1.07, 0.93):
            value = now * factor if not isinstance(now, int) else now + 1
            if not carries(plan, {address: value}):
                break
            with suppress(PlanError), warnings.catch_warnings():
                warnings.simplefilter("ignore", CappedWarning)
                yield address, value, plan.changed({address: value}, si=True)
                break


@lru_cache
def changed(name: str) -> list[tuple[str, float, Plan]]:
    return list(changes(example(name)))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("key", list(QUESTIONS))
def test_a_row_is_what_its_own_plan_says(key: str, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pump_starts, "minutes", lambda _plan: {})  # a minute is followed for the plan alone
    plan, rows = example(name).changed({}), changed(name)  # one of which nothing was asked yet
    assert len(rows) > 40
    many = with_designs(plan, [Row(address, {address: value}) for address, value, _ in rows])
    planned = QUESTIONS[key].ask(plan).numbers
    moved = set()
    carried = {
        number_key: number
        for number_key, number in QUESTIONS[key].ask(many).numbers.items()
        if number.along and number.values.size == planned[number_key].values.size + len(rows)
    }
    for place, (address, _, own) in enumerate(rows):
        alone = QUESTIONS[key].ask(own).numbers
        for number_key in carried.keys() & alone.keys():
            value = carried[number_key].values[place - len(rows)]
            own_value = alone[number_key].likely
            if value != own_value:  # most are alike to the last bit
                assert value == pytest.approx(own_value, rel=1e-12, abs=1e-300, nan_ok=True), f"{address}: {number_key}"
            if value != carried[number_key].likely:
                moved.add(address)
    told = {number_key for number_key, number in planned.items() if number.along}
    assert carried.keys() >= told
    assert moved or not carried


def test_words_and_the_plan_s_own_numbers_stay_as_they_are() -> None:
    many = with_designs(FAMILY, [Row("longer", {"tanks.grey.length": 2.0}), Row("cold", {"site.cold_water": 275.0})])
    for key, question in QUESTIONS.items():
        answer, other = question.ask(FAMILY), question.ask(many)
        assert [finding.statement.text() for finding in other.findings] == [
            finding.statement.text() for finding in answer.findings
        ], key
        assert {name: number.text() for name, number in other.numbers.items()} == {
            name: number.text() for name, number in answer.numbers.items()
        }, key


def test_designs_are_the_last_rows_of_every_batch_of_that_plan_alone() -> None:
    many = with_designs(FAMILY, [Row("longer", {"tanks.grey.length": 2.0})])
    batch = Batch(many, [Row("shorter", {"tanks.grey.length": 0.5})])
    assert batch.number("tanks.grey.length").tolist() == [0.8, 0.5, 2.0]
    assert list(batch.designs) == [2]
    assert len(Batch(FAMILY)) == len(Batch(many, alone=True)) == 1
    assert many == FAMILY


def test_a_batched_sweep_says_what_its_rows_say_alone() -> None:
    lengths, order = np.linspace(0.8, 1.1, 7), [3, 0, 6, 1, 2, 5, 4]
    values = {"tanks.grey.length": lengths, "outlets.shower.z": np.array([1.6, 1.9])}
    whole = sweep(FAMILY, values)
    alone = sweep(FAMILY, {**values, "tanks.grey.length": lengths[order]})  # no batch of such
    assert not whole.failed and not alone.failed and set(whole) < set(alone)
    assert {key.split(".")[0] for key in whole} >= {"tank", "outlet", "set", "heater", "pump", "axle", "stay", "run"}
    for key, numbers in whole.items():
        assert numbers[order] == pytest.approx(alone[key], rel=1e-12, nan_ok=True), key


def test_what_only_some_rows_have_is_told_by_its_key() -> None:
    longer = {"tanks.grey.length": np.array([0.7, 0.8, 0.9, 1.4])}  # at last the fresh tank ends the stay
    assert "stay.emptied_once.grey" not in sweep(FAMILY, longer, "stay")
    told = sweep(FAMILY, longer, "stay.emptied_once.grey")["stay.emptied_once.grey"]
    assert np.isfinite(told[:2]).all() and np.isnan(told[-1])


def test_where_a_corner_is_impossible_each_row_tells_for_itself() -> None:
    swept = sweep(FAMILY, {"tanks.fresh.pickup": ["10 mm", "20 mm", "30 m"]}, "stay")
    assert list(swept.failed) == [2] and np.isfinite(swept["stay.days"][:2]).all()
