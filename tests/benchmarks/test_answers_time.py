"""How long the answers of one plan take, warm, and thousands of solves of the whole network: figures, no verdict."""

from __future__ import annotations

from typing import Any

import pytest

from tests.examples import NAMES, example
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.network import open_together


def fresh(name: str) -> tuple[tuple[Plan], dict[str, Any]]:
    """A plan that was never asked: what it keeps of an earlier question does not count."""
    return (Plan.of(example(name).own),), {}


@pytest.mark.parametrize("name", NAMES)
def test_all_answers(benchmark: Any, name: str) -> None:
    assert benchmark.pedantic(answers_to, setup=lambda: fresh(name), rounds=100, warmup_rounds=5).each


def test_all_answers_without_outlets_open_together(benchmark: Any) -> None:
    own = {key: table for key, table in example("family-winter").own.items() if key != "together"}
    asked = benchmark.pedantic(answers_to, setup=lambda: ((Plan.of(own),), {}), rounds=100, warmup_rounds=5)
    assert len(asked.each) == len(QUESTIONS) - 2  # nothing to say of sets and of a campsite's water


@pytest.mark.parametrize("question", QUESTIONS)
def test_one_answer(benchmark: Any, question: str) -> None:
    ask = QUESTIONS[question].ask
    asked = benchmark.pedantic(ask, setup=lambda: fresh("family-winter"), rounds=100, warmup_rounds=5)
    assert asked.key == question


@pytest.mark.parametrize("designs", [1, 1000])
def test_the_whole_network(benchmark: Any, designs: int) -> None:
    plan = example("family-winter")
    rows = [Row(f"{place}", {"pumps.pump.volts": 10.0 + 4.0 * place / designs}) for place in range(designs - 1)]
    batch = Batch(plan, rows)
    solved = benchmark(open_together, batch, [tuple(plan.outlets)])
    assert solved.residual.max() < 1e-3
