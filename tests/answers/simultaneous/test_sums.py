from __future__ import annotations

import pytest

from tests.evening import EVENING
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import Amount, Range
from vanwater.answers.simultaneous.sums import set_numbers

FOUND = set_numbers((EVENING,))


def number(*key: str) -> float:
    result = FOUND[key_text(("set", "evening", *key))].result
    assert isinstance(result, Amount | Range)
    return result.likely if isinstance(result, Range) else result.value


def test_every_number_of_the_set_unfolds_to_its_own_value() -> None:
    for outlet in EVENING.outlets:
        assert number(outlet, "flow") == EVENING.flow[outlet].likely
        assert number(outlet, "pressure") == EVENING.pressure[outlet].likely
        assert number(outlet, "speed") == pytest.approx(EVENING.speed[outlet].speed)
        assert number(outlet, "temperature") == EVENING.temperature[outlet].comes
        assert number(outlet, "wait") == pytest.approx(EVENING.wait[outlet].wait.likely)
        assert number(outlet, "run_off") == pytest.approx(EVENING.wait[outlet].run_off.likely)
    assert number(EVENING.weakest, "rise") == pytest.approx(EVENING.budget.rise)
    assert number("pump", "current") == EVENING.pumps["pump"].current.likely  # type: ignore[union-attr]
    assert number("pump", "charge") == pytest.approx(EVENING.pumps["pump"].charge)
    assert number(EVENING.weakest, "gain") == pytest.approx(EVENING.remedies[0].flow)


def test_every_sum_says_how_and_whence() -> None:
    assert len(FOUND) > 12
    for key, step in FOUND.items():
        assert step.meaning, key
        assert step.source, key
        assert step.given or step.facts, key
