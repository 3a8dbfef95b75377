"""What people turn first where sanitising is asked: sizes of the fresh tanks, then what the lines hold."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.sizes import size_of
from vanwater.answers.sanitising.answer import Sanitising
from vanwater.plan.model import Plan

__all__ = ["controls"]


def controls(plan: Plan, answer: Sanitising) -> Iterator[str]:
    """Sizes of the fresh tanks, then the longest lines and the heaters."""
    for store in answer.stores:
        yield from (size_of(plan, name) for name in store.group.tanks)
    for store in answer.stores:
        known = [run for run in store.runs if plan.runs[run].length is not None]
        yield from (f"runs.{run}.length" for run in sorted(known, key=lambda run: -(plan.runs[run].length or 0.0)))
        yield from (f"heaters.{name}.volume" for name in store.heaters)
