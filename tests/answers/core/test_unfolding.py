from __future__ import annotations

import pickle
from functools import partial

import numpy as np
import pytest

from vanwater.answers.core.unfolding import Unfolding
from vanwater.answers.core.working import Step, step
from vanwater.physics.frost import smallest_pad

ASKED: list[str] = []


def sums(name: str) -> dict[str, Step]:
    ASKED.append(name)
    return {"one": step(name, smallest_pad, needed=30.0, net_share=0.75)}


def test_sums_are_made_once_at_the_first_touch() -> None:
    ASKED.clear()
    numbers = Unfolding(partial(sums, "pad"))
    assert "not asked" in repr(numbers)
    assert ASKED == []
    assert list(numbers) == ["one"]
    assert numbers["one"] is numbers["one"]
    assert float(numbers["one"].value) == 40
    assert (len(numbers), "one" in numbers, "two" in numbers) == (1, True, False)
    assert ASKED == ["pad"]
    assert "one" in repr(numbers)
    with pytest.raises(KeyError):
        numbers["two"]


def test_it_can_be_sent_to_another_process() -> None:
    kept = pickle.loads(pickle.dumps(Unfolding(partial(sums, "sent"))))
    assert np.allclose(kept["one"].value, 40)
