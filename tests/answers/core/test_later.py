from __future__ import annotations

import pickle
from functools import partial

import pytest

from vanwater.answers.core.later import Later


def test_nothing_is_made_before_it_is_looked_at_and_then_once():
    asked = []

    def make():
        asked.append("made")
        yield from "abc"

    row = Later(make)
    assert (asked, repr(row)) == ([], "Later(not asked for yet)")
    assert (row[0], row[1:], len(row), list(row)) == ("a", ("b", "c"), 3, ["a", "b", "c"])
    assert asked == ["made"]
    assert repr(row) == "('a', 'b', 'c')"


def test_it_equals_what_it_holds():
    assert Later(lambda: (1, 2)) == (1, 2) == Later(lambda: [1, 2])
    assert Later(lambda: ()) == ()
    assert Later(lambda: (1, 2)) != (2, 1)
    assert Later(lambda: (1,)) != [1]


def test_an_error_comes_where_it_is_looked_at_and_again():
    row = Later(lambda: [1 / 0])
    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            len(row)


def test_it_can_be_sent_to_another_process():
    assert pickle.loads(pickle.dumps(Later(partial(range, 3)))) == (0, 1, 2)
