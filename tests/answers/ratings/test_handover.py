"""No trial goes above what stands least, nor above a relief valve."""

from __future__ import annotations

import pytest

from tests.examples import NAMES, example_answers
from vanwater.answers.core.handover import Setting
from vanwater.answers.questions import QUESTIONS
from vanwater.answers.ratings.handover import handover


@pytest.mark.parametrize("name", NAMES)
def test_the_highest_trial_is_the_least_of_ratings_and_relief(name: str) -> None:
    asked = example_answers(name)
    ratings = asked["ratings"]
    known = [number.likely for number in ratings.numbers.values() if "rated_pressure" in number.key]
    known += [heater.relief for heater in asked.plan.heaters.values() if heater.relief is not None]
    told = [each for each in handover(asked.plan, ratings) if isinstance(each, Setting)]
    assert [each.value.value for each in told] == ([min(known)] if known else [])


def test_a_relief_valve_that_opens_sooner_is_the_highest_trial() -> None:
    plan = example_answers("family-winter").plan.changed({"heaters.heater.relief": "2.8 bar"})
    (told,) = handover(plan, QUESTIONS["ratings"].ask(plan))
    assert isinstance(told, Setting) and told.value.text() == "2.8\N{NO-BREAK SPACE}bar"
    assert told.how.endswith("There the relief valve opens.")
