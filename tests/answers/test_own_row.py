"""Whatever other designs travel along its rows, a plan is told the same, word by word and digit by digit."""

from __future__ import annotations

import random
import warnings
from collections.abc import Iterator, Mapping

import pytest

from tests.examples import NAMES, example, example_answers
from tests.sentences import of_answer, text
from tests.shown import shown
from vanwater.answers.questions import Answers, answers_to
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.address import note, numbers_of
from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.quantities import TEMPERATURE
from vanwater.system.batch import Row, carries, with_designs


def possible(plan: Plan, values: Mapping[str, float]) -> dict[str, float]:
    """As many of some other values as the plan can have together: without those that it is told of, else by halves."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", CappedWarning)
            plan.changed(values, si=True)
    except PlanError as error:
        told = {problem.address for problem in error.problems}
        kept = {address: value for address, value in values.items() if address not in told}
        if len(kept) < len(values):
            return possible(plan, kept)
        half = dict(list(values.items())[: len(values) // 2])
        rest = {address: value for address, value in values.items() if address not in half}
        return possible(plan, half) | possible(plan, rest) if half else {}
    return dict(values)


def design(plan: Plan, turned: bool) -> Row:
    """A design in which next to every number is much more or much less, as it is drawn, or turned round."""
    values, chance = {}, random.Random(plan.van.name)
    for address in numbers_of(plan):
        now, factor = plan.at(address), (0.5, 1.6)[chance.choice((turned, not turned))]
        if not carries(plan, {address: now}):
            continue
        zero = FREEZING_POINT if note(Plan, address).quantity is TEMPERATURE else 0.0
        value = max(1, round(now * factor)) if isinstance(now, int) else zero + (now - zero) * factor
        if value != now and carries(plan, {address: value}):
            values[address] = value
    return Row("another design", possible(plan, values))


def lines(answers: Answers, us: bool) -> Iterator[str]:
    for key, answer in answers.items():
        yield from (f"{key} {kind}: {text(words, us)}" for kind, words in of_answer(answer) if words)
    yield from shown(answers)


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_a_plan_is_told_of_itself_whatever_designs_stand_beside_it(name: str, turned: bool) -> None:
    plan = example(name)
    other = design(plan, turned)
    assert len(other.values) > 40
    beside = answers_to(with_designs(plan, [other]))
    assert list(lines(beside, plan.us)) == list(lines(example_answers(name), plan.us))
    moved = [key for key, number in beside.numbers.items() if number.along and number.values[-1] != number.likely]
    assert len(moved) > 60
