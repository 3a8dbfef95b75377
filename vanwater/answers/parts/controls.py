"""What the sliders of the list of parts turn: the lengths of the runs."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.parts.answer import Parts
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.system.numbering import numbering

__all__ = ["controls"]


def controls(plan: Plan, answer: Parts) -> Iterator[str]:
    """Addresses, the longest run first; those that are alike in the order of the water."""
    numbers = numbering(plan).runs
    lengths = {run: size.length(run).likely for size in answer.sizes for run in size.runs}
    for run in sorted(lengths, key=lambda name: (-lengths[name], numbers[name])):
        yield joined(("runs", run, "length"))
