"""The numbers that a comparison tells first."""

from __future__ import annotations

import pytest

from tests.examples import NAMES, example, example_answers
from vanwater.answers.questions import answers_to
from vanwater.options.headline import STAY, headline_keys, less_is_better, what_ends


@pytest.mark.parametrize("name", NAMES)
def test_they_are_numbers_of_the_plan_and_days_come_first(name: str) -> None:
    answers = example_answers(name)
    keys = headline_keys(answers)
    assert keys[0] == STAY and set(keys) <= set(answers.numbers) and "van.water.full" in keys
    assert all(answers.numbers[key].likely == answers.numbers[key].likely for key in keys)


def test_what_ends_the_stay_is_what_the_verdict_says() -> None:
    for name in NAMES:
        answers = example_answers(name)
        assert answers.headline.text().startswith(what_ends(answers).text())


def test_the_less_a_van_weighs_draws_and_needs_of_warmth_the_better() -> None:
    keys = {key for name in NAMES for key in headline_keys(example_answers(name))}
    less = {key for key in keys if less_is_better(key)}
    colds = {key for key in keys if "lowest_cold" in key}
    assert colds and less == colds | {"van.water.full", "battery.all_loads_a_day"}


def test_a_plan_that_decides_nothing_has_none() -> None:
    bare = answers_to(
        example("weekend-cans").changed({"tanks": {}, "runs": {}, "outlets": {}, "battery": None, "uses": {}})
    )
    assert STAY not in headline_keys(bare) and what_ends(bare).text() == "not decided"
