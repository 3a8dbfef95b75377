from __future__ import annotations

import pytest

from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem

PLAN = {"van": {"name": "x"}, "household": {"people": 2}}


def refused(**hours: str) -> Problem:
    with pytest.raises(PlanError) as caught:
        Plan.of({**PLAN, "day": hours})
    (problem,) = caught.value.problems
    return problem


def test_hours_beyond_a_day_are_refused_at_the_longest() -> None:
    problem = refused(driving="3 h", away="22 h")
    assert problem.address == "day.away" and "25\N{NO-BREAK SPACE}h" in problem.message


def test_hours_that_make_no_day_are_refused_with_what_is_left() -> None:
    problem = refused(driving="3 h", parked="20 h")
    assert (
        problem.address == "day.parked"
        and "23\N{NO-BREAK SPACE}h" in problem.message
        and "21\N{NO-BREAK SPACE}h" in problem.expected
    )


def test_hours_that_make_a_day_are_taken() -> None:
    plan = Plan.of({**PLAN, "day": {"driving": "3 h", "parked": "21 h"}})
    assert plan.day.driving == 3 * 3600.0
    assert Plan.of(PLAN).day.parked is None


def test_a_situation_may_spend_its_day_otherwise() -> None:
    raw = {**PLAN, "day": {"driving": "5 h"}}
    plan = Plan.of({**raw, "situations": {"site": {"day": {"driving": "0 h", "shore": "20 h"}}}})
    assert plan.in_situation("site").day.shore == 20 * 3600.0
    with pytest.raises(PlanError):
        Plan.of({**raw, "situations": {"site": {"day": {"shore": "20 h"}}}})


def test_a_field_of_earlier_plans_is_told_where_it_stands_now() -> None:
    with pytest.raises(PlanError) as caught:
        Plan.of({**PLAN, "frost": {"hours_driving": "1 h"}})
    (problem,) = caught.value.problems
    assert problem.address == "frost.hours_driving" and "driving in [day]" in problem.expected
