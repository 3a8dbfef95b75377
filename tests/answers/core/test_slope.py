from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.core.slope import slope_assumptions, slope_rows
from vanwater.answers.questions import answers_to
from vanwater.answers.sanitising.answer import sanitising
from vanwater.answers.stay.answer import stay


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


def test_what_the_pick_up_leaves_is_ranged_by_the_slope() -> None:
    plan = example("family-winter").changed({"tanks.fresh.pickup_from_front": "0.05 m", "site.pitch": "-2°"})
    numbers, store = answers_to(plan).numbers, sanitising(plan).stores[0]
    share = numbers["tank.fresh.out_of_reach_share"]
    assert store.left.likely == pytest.approx(share.likely, rel=1e-9)
    for number in (numbers["tank.fresh.out_of_reach"], share, store.left):
        assert number.range is not None and number.range[0] < number.likely < number.range[1]
    level = sanitising(plan.changed({"site.pitch": "-3°"})).stores[0].left  # a degree further
    assert store.left.range is not None and store.left.range[1] == pytest.approx(level.likely, rel=0.05)
    assert "slope" in [one.key for one in sanitising(plan).assumptions]
