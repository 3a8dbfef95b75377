"""One thing, one value: no key has two in the answers to a plan, no thing has two keys, one temperature a place.

Some two dozen drawn plans by default, 300 with ``VANWATER_ONE_VALUE=all`` in the environment.
"""

from __future__ import annotations

import math
import os
import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import Phase, given, settings

import vanwater
from tests.examples import NAMES, example
from tests.strategies import plans
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.questions import Answers, answers_to
from vanwater.plan.model import Plan

DRAWN = 300 if os.environ.get("VANWATER_ONE_VALUE") == "all" else 25

OFTEN = 4
"""How often two keys must be met to be judged."""

HOUSE = Path(vanwater.__file__).parent

ONLY_FILLED = {
    "answers/weight/masses.py": "what is filled in is weighed",
    "plan/plausibility.py": "a set point is above what is filled in, whatever becomes of it",
    "system/design_pressure.py": "the warmest that can stand in a cold pipe",
    "system/water_temperature.py": "the water's temperature is made of it",
    "system/weight.py": "what is filled in is weighed",
}
"""Modules that mean the water as it is filled, and why."""


def test_whoever_asks_how_warm_the_water_is_asks_its_place() -> None:
    reads = re.compile(r"site\.cold_water\b")
    sources = {path.relative_to(HOUSE).as_posix(): path.read_text(encoding="utf-8") for path in HOUSE.rglob("*.py")}
    asking = {name for name, text in sources.items() if reads.search(text) and not name.endswith("controls.py")}
    assert asking == ONLY_FILLED.keys()
    sliders = [text for name, text in sources.items() if name.endswith("controls.py") and reads.search(text)]
    assert all(re.findall(r"(\S.*site\.cold_water.*)", text) == ['yield "site.cold_water"'] for text in sliders)
    imported = re.compile(r"from vanwater\.system\.water_temperature import (\([^)]*|.*)\bFILLED\b")
    assert {name for name, text in sources.items() if imported.search(text)} == {"answers/core/water_number.py"}


def contradictions(answers: Answers) -> list[str]:
    """Keys that numbers of the answers, or numbers behind them, hold with two values.

    Without uses the stay is told for the three ready habits: behind it stand three plans.
    """
    held: dict[str, Number] = {}
    twice = []
    for answer in answers.values():
        for shown in answer.numbers.values():
            for _, number in shown.walk() if answers.plan.uses else ((0, shown),):
                other = held.setdefault(key_text(number.key), number) if number.key else number
                alike = math.isclose(other.likely, number.likely, rel_tol=1e-9, abs_tol=1e-300)
                if not alike and not (math.isnan(other.likely) and math.isnan(number.likely)):
                    twice.append(f"{key_text(number.key)}: {other.likely!r} and {number.likely!r} in {answer.key}")
    assert held or not answers.numbers
    return twice


@pytest.mark.parametrize("name", NAMES)
def test_no_key_has_two_values_in_an_example_and_its_situations(name: str) -> None:
    answers = answers_to(example(name))
    for there in (answers, *answers.situations.values()):
        assert contradictions(there) == []
        assert there.numbers


@settings(max_examples=DRAWN, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(plans())
def test_no_key_has_two_values_in_any_plan(raw: dict[str, Any]) -> None:
    answers = answers_to(Plan.of(raw, file=True))
    assert contradictions(answers) == []
    assert set(answers.numbers) == {key for answer in answers.values() for key in answer.numbers}


def _kind(plan: Plan, key: tuple[str, ...]) -> str:
    """A key with stars for the names of the plan."""
    names = {name for table in plan.model_dump().values() if isinstance(table, dict) for name in table}
    return ".".join("*" if part in names and place else part for place, part in enumerate(key))


def _told_twice(answers: Answers) -> Iterator[tuple[str, str, str, bool]]:
    """Pairs of keys of one thing and one quantity within a question, and whether they hold one value.

    Keys that differ by a name of the plan are of two things; what the plan itself says may be said alike of two sides.
    """
    for question, answer in answers.items():
        things: dict[tuple[object, ...], list[Number]] = defaultdict(list)
        for number in answer.numbers.values():
            said = number.unranged == "as planned"
            if math.isfinite(number.likely) and number.likely != 0.0 and not said:
                things[(*number.key[:2], number.quantity)].append(number)
        for several in things.values():
            for one, other in combinations(several, 2):
                first, second = sorted(_kind(answers.plan, number.key) for number in (one, other))
                if first != second:
                    yield question, first, second, bool(np.array_equal(one.values, other.values))


def test_no_question_holds_a_second_key_for_one_thing_quantity_and_state() -> None:
    """Two keys that hold one value in every van, with all rows, are one thing told twice."""
    seen: dict[tuple[str, str, str], list[bool]] = defaultdict(list)
    for name in NAMES:
        plan = example(name)
        for there in (plan, *map(plan.in_situation, plan.situations)):
            for question, first, second, alike in _told_twice(answers_to(there)):
                seen[question, first, second].append(alike)
    assert seen
    twice = {pair for pair, alike in seen.items() if len(alike) >= OFTEN and all(alike)}
    assert twice == set()


def test_the_shower_is_heated_from_the_water_that_the_pad_keeps() -> None:
    numbers = answers_to(example("family-winter")).numbers
    water = numbers["tank.fresh.water_temperature"]
    assert water.range is not None
    for key in ("use.shower.heat.heater", "heater.heater.recovery_heat", "tank.fresh.time_to_freezing.parked.full"):
        assert water.likely in [inner.likely for _, inner in numbers[key].walk() if inner.key == water.key], key
