"""What is added and dropped is the difference of the two lists of parts."""

from __future__ import annotations

import math

from tests.examples import example
from vanwater.answers.core.amount import Amount
from vanwater.answers.parts.change import parts_changed
from vanwater.answers.parts.lengths import runs_by_size
from vanwater.answers.parts.pieces import ordered
from vanwater.system.batch import Batch


def test_lengths_and_counts_are_those_of_the_two_lists() -> None:
    plan = example("family-winter")
    other = plan.changed(
        {
            "runs.trunk.length": "2 m",
            "runs.trunk.fittings.ball valve": 2,
            "runs.heater feed.fittings.spring check valve": 0,
        }
    )
    hose, pieces = parts_changed(plan, other)
    now, then = ({size.name: size.cut.likely for size in runs_by_size(Batch(each))} for each in (plan, other))
    (row,) = hose.rows
    assert isinstance(row[3], Amount)
    assert math.isclose(row[3].value, then["polyethylene tube 12 mm"] - now["polyethylene tube 12 mm"])
    assert math.isclose(row[3].value, 2.0 - plan.runs["trunk"].length)  # type: ignore[operator]
    counts = [sum(fitting.count for fitting in ordered(each)) for each in (plan, other)]
    told = [(str(row[0]), int(str(row[2])) - int(str(row[1]))) for row in pieces.rows]
    assert sum(more for _, more in told) == counts[1] - counts[0] and {more for _, more in told} == {2, -1}
    assert {row[3] for row in pieces.rows} == {"add 2", "drop 1"}


def test_the_same_plan_changes_nothing() -> None:
    plan = example("family-winter")
    assert all(not table.rows for table in parts_changed(plan, plan))
