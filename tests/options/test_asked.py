"""One number for many designs: the same along a row and as a plan of its own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from tests.examples import example
from vanwater.answers.questions import QUESTIONS, Question
from vanwater.options import asked
from vanwater.options.asked import moved_by, said_of
from vanwater.options.ladder import ladder
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
DESIGNS: list[dict[str, Any]] = [
    {"tanks.grey.length": "90 cm"},
    {"tanks.grey": {"holds": "grey", "stock": "grey tank 60 L"}},
    {"tanks.grey.length": "1.1 m", "uses.dishes.a_day": "1 a day"},
    {"tanks.grey.length": "9 m"},
    {"uses.dishes": None},
]


@pytest.mark.parametrize("key", ["stay.days", "tank.grey.days"])
def test_each_is_what_its_own_plan_says(key: str) -> None:
    told = said_of(FAMILY, "stay", key, DESIGNS)
    for values, said in zip(DESIGNS, told, strict=True):
        if said.problem:
            assert np.isnan(said.value) and values == {"tanks.grey.length": "9 m"}
            continue
        own = QUESTIONS["stay"].ask(FAMILY.changed(values)).numbers[key].likely
        assert said.value == pytest.approx(own, rel=1e-12)
    assert [bool(said.problem) for said in told] == [False, False, False, True, False]


def test_numbers_go_along_rows_of_one_batch(monkeypatch: pytest.MonkeyPatch) -> None:
    asked_plans: list[Plan] = []

    class Counting(Question[Any]):
        def ask(self, plan: Plan) -> Any:
            asked_plans.append(plan)
            return QUESTIONS["stay"].ask(plan)

    counting = Counting(key="stay", title="", answer=QUESTIONS["stay"].answer)
    monkeypatch.setattr(asked, "QUESTIONS", {"stay": counting})
    designs = [{"tanks.grey.length": f"{length} cm"} for length in range(70, 110, 4)]
    told = said_of(FAMILY, "stay", "tank.grey.days", designs)
    assert len(told) == 10 and len(asked_plans) == 2  # the plan, and all the others together
    assert np.all(np.diff([said.value for said in told]) > 0)


def test_a_number_that_a_design_lacks_is_not_known() -> None:
    (said,) = said_of(
        FAMILY,
        "outlets",
        'outlet."basin tap".flow',
        [{"outlets.basin tap": None, "runs.basin line": None, "uses.hands.outlet": None}],
    )
    assert np.isnan(said.value) and not said.problem


def other_bores(run: str) -> Iterator[dict[str, Any]]:
    rungs = ladder(FAMILY, f"runs.{run}")
    yield from (dict(size.values) for size in (rungs.smaller, rungs.larger) if size is not None)


@pytest.mark.parametrize(("question", "key"), [("stay", "stay.days"), ("outlets", "outlet.shower.flow")])
def test_a_run_whose_length_moves_nothing_moves_nothing_by_its_bore(question: str, key: str) -> None:
    moving = moved_by(FAMILY, question, key, list(FAMILY.runs))
    planned = QUESTIONS[question].ask(FAMILY).numbers[key].likely
    assert {"hot trunk", "hot shower line"} <= moving < set(FAMILY.runs)
    still = sorted(set(FAMILY.runs) - moving)
    for values in (values for run in still[:4] for values in other_bores(run)):
        assert QUESTIONS[question].ask(FAMILY.changed(values)).numbers[key].likely == pytest.approx(planned, rel=1e-12)
