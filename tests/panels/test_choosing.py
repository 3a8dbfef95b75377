from __future__ import annotations

import pytest

from tests.panels.following import Watcher
from vanwater.panels.bench import Bench
from vanwater.panels.choosing import Choosing
from vanwater.plan.file import PlanFile


def test_all_that_follows_is_told_of_a_variant(family: PlanFile) -> None:
    bench = Bench(family)
    watcher = Watcher()
    bench.follow(watcher)
    bench.keep("x", {"household.people": 2})
    bench.rename("B", "y")
    bench.go_on("B", watcher)
    assert (watcher.moves, watcher.shown) == (3, 3)
    assert (bench.kept[0].head, bench.plan.household.people) == ("B, y", 2)
    bench.drop("B")
    assert (watcher.moves, bench.kept, bench.plan.household.people) == (4, (), 2)
    with pytest.raises(KeyError, match="nothing is kept yet"):
        bench.go_on("B")


def test_by_itself_it_moves_nothing(family: PlanFile) -> None:
    hand = Choosing(family)
    with pytest.raises(TypeError):
        hand.keep("x", {"household.people": 2})
    with pytest.raises(TypeError):
        hand.go_on("B")
