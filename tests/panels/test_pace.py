from __future__ import annotations

import asyncio
from functools import partial

import pytest

from vanwater.panels import pace
from vanwater.panels.pace import Pace


def test_without_an_event_loop_all_is_done_at_once() -> None:
    done: list[str] = []
    paced = Pace()
    paced.when_at_rest([partial(done.append, name) for name in "abc"])
    assert (done, paced.waiting) == (["a", "b", "c"], 0)


def test_in_an_event_loop_moves_are_gathered_until_the_hand_rests(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pace, "REST", 0.02)
    done: list[str] = []

    async def moves() -> None:
        paced = Pace()
        for move in range(5):
            paced.when_at_rest([partial(done.append, f"{move}{name}") for name in "ab"])
            await asyncio.sleep(0.001)
        assert done == []
        await asyncio.sleep(0.2)
        assert paced.waiting == 0

    asyncio.run(moves())
    assert done == ["4a", "4b"]


def test_a_move_gets_in_between_two_pieces_and_the_old_rest_is_dropped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pace, "REST", 0.01)
    done: list[str] = []

    async def moves() -> None:
        paced = Pace()

        def first() -> None:
            done.append("old first")
            paced.when_at_rest([partial(done.append, "new first"), partial(done.append, "new second")])

        paced.when_at_rest([first, partial(done.append, "old second")])
        await asyncio.sleep(0.2)

    asyncio.run(moves())
    assert done == ["old first", "new first", "new second"]
