"""One test that asks many small things in turn, where a test for each would cost more than its question."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, TypeAlias

__all__ = ["over"]


Question: TypeAlias = Callable[..., None]


def over(cases: Iterable[Any], name_of: Callable[[Any], str] = str) -> Callable[[Question], Callable[[], None]]:
    """Make a test of a question, asked of every case; all that fail are told, each by its name.

    Where a case is a tuple, the question takes its values one by one.
    """
    every = list(cases)

    def turned(question: Question) -> Callable[[], None]:
        def test() -> None:
            wrong = []
            for case in every:
                try:
                    question(*case if isinstance(case, tuple) else (case,))
                except AssertionError as error:
                    wrong.append(f"{name_of(case)}: {error}")
            assert every, "nothing to ask"
            assert not wrong, "\n".join(wrong)

        test.__name__, test.__qualname__ = question.__name__, question.__qualname__
        test.__doc__, test.__module__ = question.__doc__, question.__module__
        return test

    return turned
