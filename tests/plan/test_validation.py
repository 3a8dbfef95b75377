from __future__ import annotations

from typing import Any

import pytest

from vanwater.plan.model import Plan
from vanwater.plan.validation import validated


def addresses(raw: dict[str, Any]) -> list[str]:
    plan, problems = validated(Plan, raw, lambda: Plan.model_validate(raw, context={"file": True}))
    assert (plan is None) == bool(problems)
    return sorted(problem.address for problem in problems)


GOOD: dict[str, Any] = {"van": {"name": "x"}, "household": {"people": 1}}


def test_good_plan_comes_back() -> None:
    assert addresses({**GOOD}) == []


@pytest.mark.parametrize(
    ("raw", "found"),
    [
        # what is missing does not hide what is wrong elsewhere, also deep and after several rounds
        ({}, ["household", "van"]),
        (
            {"van": 3, "household": [], "pumps": {"p": {"cut_in": "3 bar", "cut_out": "2 bar"}}},
            ["household", "pumps.p.cut_in", "van"],
        ),
        (
            {**GOOD, "tanks": {"t": {"capacity": "9", "count": 0}}},
            ["tanks.t.capacity", "tanks.t.count", "tanks.t.holds"],
        ),
        (
            {**GOOD, "pumps": {"p": {"volts": "12", "cut_in": "3 bar", "cut_out": "2 bar", "curve": []}}},
            ["pumps.p.curve", "pumps.p.curve_volts", "pumps.p.cut_in", "pumps.p.volts"],
        ),
        ({**GOOD, "runs": {"r": {"from": "a", "size": "s", "bore": "9 mm"}}}, ["runs.r.bore", "runs.r.to"]),
        # what is wrong by itself is not told again as missing or as a clash
        ({**GOOD, "tanks": {"t": {"holds": "grey", "capacity": "9"}}}, ["tanks.t.capacity"]),
        ({**GOOD, "tanks": {"t": {"holds": "grey", "length": "9"}}}, ["tanks.t.length"]),
        ({**GOOD, "pumps": {"p": {"cut_in": "3", "cut_out": "2 bar"}}}, ["pumps.p.cut_in"]),
        ({**GOOD, "pumps": {"p": {"curve": [["0 L/min", "1 bar"], ["1 L/min"]]}}}, ["pumps.p.curve.1.1"]),
        # a misspelt key is told once, not as missing too; but what really stands there is looked at
        ({**GOOD, "tanks": {"t": {"hold": "grey", "capacity": "9 L"}}}, ["tanks.t.hold"]),
        ({**GOOD, "tanks": {"t": {"holds": "grey", "capcity": "9 L"}}}, ["tanks.t.capcity"]),
        (
            {**GOOD, "tanks": {"t": {"holds": "grey", "capcity": "9 L", "capacity": "9"}}},
            ["tanks.t.capacity", "tanks.t.capcity"],
        ),
        ({"vann": {"name": "x"}, "household": {"people": 1}}, ["vann"]),
        ({**GOOD, "tees": {"a.b": {"q": 1}, "": 3}}, ["tees.", "tees.", "tees.a.b", "tees.a.b.q"]),
    ],
)
def test_every_problem_is_found_once(raw: dict[str, Any], found: list[str]) -> None:
    assert addresses(raw) == found


def test_thousands_of_problems_come_in_one_go() -> None:
    raw = {**GOOD, "tanks": {f"t{n}": {"holds": "grey", "capacity": "9", "count": 0} for n in range(2000)}}
    assert len(addresses(raw)) == 4000
