from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.stay.answer import stay
from vanwater.answers.stay.slope import slope_assumptions, slope_rows


def test_the_slope_moves_the_litres_and_is_told() -> None:
    answer = stay(example("family-winter"))
    fresh = next(store for store in answer.stores if store.holds == "fresh")
    assert fresh.usable.range is not None
    low, high = fresh.usable.range
    assert low < 0.98 * fresh.usable.likely < fresh.usable.likely < high
    assert {one.name for one in fresh.usable.influences if one.swing > 0} >= {"the slope along the van"}
    assert "slope" in [one.key for one in answer.assumptions]


@pytest.mark.parametrize(("name", "rows"), [("family-winter", 4), ("weekend-cans", 0)])
def test_only_sides_that_are_said_can_slope(name: str, rows: int) -> None:
    assert len(slope_rows(example(name))) == rows


def test_tanks_without_sides_are_told_on_a_slope() -> None:
    keys = [one.key for one in slope_assumptions(example("long-stay-dry-toilet"))]
    assert keys == ["slope", "slope.unseen"]
