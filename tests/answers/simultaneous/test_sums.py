from __future__ import annotations

import pytest

from tests.evening import EVENING
from vanwater.answers.core.statement import Amount, Range
from vanwater.answers.simultaneous.sums import set_numbers

FOUND = set_numbers((EVENING,))


def number(key: str) -> float:
    result = FOUND[f"supply.together.evening.{key}"].result
    assert isinstance(result, Amount | Range)
    return result.likely if isinstance(result, Range) else result.value


def test_every_number_of_the_set_unfolds_to_its_own_value() -> None:
    for outlet in EVENING.outlets:
        assert number(outlet) == EVENING.flow[outlet].likely
        assert number(f"{outlet}.pressure") == EVENING.pressure[outlet].likely
        assert number(f"{outlet}.speed") == pytest.approx(EVENING.speed[outlet].speed)
        assert number(f"{outlet}.temperature") == EVENING.temperature[outlet].comes
        assert number(f"{outlet}.wait") == pytest.approx(EVENING.wait[outlet].wait.likely)
        assert number(f"{outlet}.run_off") == pytest.approx(EVENING.wait[outlet].run_off.likely)
    assert number("rise") == pytest.approx(EVENING.budget.rise)
    assert number("pump.current") == EVENING.pumps["pump"].current.likely  # type: ignore[union-attr]
    assert number("pump.charge") == pytest.approx(EVENING.pumps["pump"].charge)
    assert number("gain") == pytest.approx(EVENING.remedies[0].flow)


def test_every_sum_says_how_and_whence() -> None:
    assert len(FOUND) > 12
    for key, step in FOUND.items():
        assert step.meaning, key
        assert step.source, key
        assert step.given or step.facts, key
