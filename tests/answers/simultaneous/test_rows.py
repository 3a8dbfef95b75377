from __future__ import annotations

import numpy as np
import pytest

from tests.evening import EVENING
from tests.examples import example
from vanwater.answers.outlets.outlet import UNSURE
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.system.network import open_together

FAMILY = example("family-winter")


def test_rows_are_those_of_the_batch_solved_one_by_one() -> None:
    rows = EVENING.rows
    along = rows.along(rows.solved.flows.outlet("shower"))
    solved = open_together(rows.batch, [EVENING.outlets])
    alone = solved.flow[0, :, solved.outlets.index("shower")]
    assert along[list(rows.rows)] == pytest.approx(alone[list(rows.rows)], rel=1e-8)
    assert rows.now(rows.solved.flows.outlet("shower")) == along[0]


def test_a_row_that_was_not_solved_is_the_plans_own() -> None:
    second = {"together.morning": {"outlets": ["shower", "basin tap"]}}
    rows = next(opened.rows for opened in simultaneous(FAMILY.changed(second)).sets if opened.name == "evening")
    left_out = sorted(set(range(len(rows.batch))) - set(rows.rows))
    along = rows.along(rows.solved.flows.outlet("shower"))
    assert left_out  # remedies on the way to an outlet of another set
    assert np.all(along[left_out] == along[0])


def test_every_unsure_input_has_its_rows_and_the_balance_closes() -> None:
    assert len(EVENING.rows.unsure) == len(UNSURE)
    assert EVENING.rows.residual < 1.0
