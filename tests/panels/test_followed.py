from __future__ import annotations

import asyncio

import pytest

from tests.panels.following import Watcher
from vanwater.panels import pace
from vanwater.panels.followed import Followed
from vanwater.plan.file import PlanFile
from vanwater.plan.problems import PlanError


def test_what_follows_is_told_at_once_and_shown_when_the_hand_rests(
    family: PlanFile, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pace, "REST", 0.05)
    bench = Followed(family)
    near, far = Watcher(), Watcher()
    bench.follow(near)
    bench.follow(far)

    async def drag() -> None:
        for people in (3, 2, 1):
            bench.set("household.people", people, near)
            await asyncio.sleep(0)
        assert (near.moves, near.shown) == (3, 3)
        assert (far.moves, far.shown) == (3, 0)
        await asyncio.sleep(0.3)
        assert far.shown == 1

    asyncio.run(drag())


def test_an_impossible_value_stands_until_it_is_taken_back(family: PlanFile) -> None:
    bench = Followed(family)
    watcher = Watcher()
    bench.follow(watcher)
    bench.set("tanks.grey.height", "10 cm")
    assert bench.refused is not None and watcher.shown == 1
    with pytest.raises(PlanError):
        _ = bench.plan
    bench.undo()
    assert bench.refused is None
    assert bench.plan.own == family.plan.own


def test_all_that_follows_is_told_of_a_variant(family: PlanFile) -> None:
    bench = Followed(family)
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
